"""What a workspace knows of a shaft line, as the rows of a survey: to be checked and completed on site."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy

from halfbore.domain.machine import FanWheel
from halfbore.domain.survey import Plain, Thing, Told
from halfbore.domain.survey_form import SheetKind
from halfbore.domain.workspace import Address
from halfbore.store import Workspace
from halfbore.workspace.lines import job_data, places_of

LISTS = {"loads": Thing.PART, "duty": Thing.CONDITION}
OF_LINE = ("title", "number", "shaft", "duty")
"""What a sheet of machines tells of their shaft lines, so that what a machine says of it is not asked there."""


def known_of(workspace: Workspace, line: Address) -> tuple[Told, ...]:
    """Return what is known of a shaft line, its machine left out but for what the line itself says of it.

    line: address of the shaft line. Raises InputError for an unknown one.
    """
    contents = workspace.contents()
    machine = {key: value for key, value in contents[line[:1]].items() if key not in OF_LINE}
    rows = [Told(Thing.MACHINE, line[:1], machine, "")] if machine else []
    rows += _of_line(line, deepcopy(contents[line]))
    for entry in job_data(workspace, line)["positions"]:
        rows += _of_position((*line, entry["name"]), dict(entry))
    return tuple(rows)


def _of_line(line: Address, document: Plain) -> Iterator[Told]:
    entries = [
        Told(thing, line, entry, "") for name, thing in LISTS.items() for entry in document.pop(name, ())
    ]
    shaft = document.get("shaft", {})
    entries += [Told(Thing.SEGMENT, line, entry, "") for entry in shaft.pop("segments", ())]
    yield Told(Thing.SHAFT_LINE, line, document, "")
    yield from entries


def _of_position(address: Address, document: Plain) -> Iterator[Told]:
    history = document.pop("history", ())
    document.pop("name", None)
    yield Told(Thing.POSITION, address, document, "")
    yield from (Told(Thing.FAILURE, address, entry, "") for entry in history)


def sheet_kind(workspace: Workspace, line: Address) -> SheetKind:
    """Return which survey sheet a shaft line takes; of a fan the overhung one where its wheel stands outside.

    Raises InputError where its machine kind is not known.
    """
    data = job_data(workspace, line)
    kind = SheetKind.named(str(data.get("machine", {}).get("kind", "")))
    places = [x for x in places_of(data["positions"]) if x is not None]
    wheels = [x for x in places_of(data.get("loads", ()), FanWheel.KIND) if x is not None]
    outside = places and wheels and not min(places) < wheels[0] < max(places)
    return SheetKind.OVERHUNG_FAN if kind is SheetKind.FAN and outside else kind
