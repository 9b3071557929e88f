"""What the survey sheet marks as deciding does decide: with it, on top of the plates, no question to the site is open."""

from __future__ import annotations

from pathlib import Path

import pytest

from halfbore.demo.suppliers import load_catalogue
from halfbore.documents.survey_fields import deciding
from halfbore.domain.machine import MachineKind
from halfbore.domain.selection import Choice
from halfbore.domain.survey import Thing
from halfbore.domain.survey_form import SheetKind
from halfbore.estimate.measured import measured
from halfbore.estimate.reading import read_completed
from halfbore.present.survey_layouts import layout_of
from halfbore.study import Stage, study
from tests.estimate.machines import MACHINES

TYPED = {
    "old_mounting": "adapter sleeve",
    "trapped_between": "part / end",
    "seat.form_error": "0.008 mm",
    "lift.allowed": "20 mm",
    "room.plain_left": "400 mm",
    "room.plain_right": "400 mm",
    "room.beside": "2 m",
    "room.entry_side": "both",
    "shaft_temperature": "45 to 60 °C",
    "housing_temperature": "40 to 55 °C",
    "lubricant.kind": "grease",
    "lubricant.iso_vg": "VG 150",
}
"""Invented answers, good ones: what is asked is whether they are enough."""
WORTH = "value.stopped_production[0].rate"
"""Decides the worth and no verdict."""
PLATE = "machine.name_plate.power"


def choices(name: str, leave_out: str = "") -> list[Choice]:
    machine = MACHINES[name]
    plain = read_completed(machine.data(name))
    kind = next(k for k in SheetKind if k.machine is MachineKind(machine.kind))
    main = next(p.kind for p in layout_of(kind).parts if p.main)
    part = next(x.name for x in plain.job.loads if main == x.KIND)
    size = machine.values["shaft.segments[0].diameter"]
    begin = min(e.span.likely for e in plain.estimates if e.path.endswith(".x") and e.span)
    frame = measured(plain.frame, "duty", [{"name": "running", "share": "1"}])
    true = {p: f"{v + begin} mm" for p, v in machine.values.items() if p.endswith(".x")}
    true |= {p: f"{v} kg" for p, v in machine.values.items() if p.endswith(".mass")}
    typed = TYPED | {
        "speed": f"{plain.job.duty[0].speed} r/min",
        "seat.diameter": f"{size - 0.02} mm",
        "diameter": f"{size} mm",
    }
    for ask in deciding(kind):
        if ask.path in (leave_out, PLATE, WORTH):
            continue
        places = {
            Thing.PART: [f"loads[{part}]"],
            Thing.POSITION: [f"positions[{p.name}]" for p in plain.job.positions],
            Thing.CONDITION: ["duty[running]"],
            Thing.SEGMENT: ["shaft.segments[0]"],
        }.get(ask.thing, [""])
        for place in places:
            path = f"{place}.{ask.path}".lstrip(".")
            value = true.get(path) or typed.get(ask.path)
            if ask.path == "take_up":
                value = f"{machine.values[path]} N"
            assert value is not None, path
            frame = measured(frame, path, value)
    catalogues = tuple(load_catalogue(demo, Path()) for demo in ("demo:first", "demo:second"))
    found = study(read_completed(frame), catalogues, Stage.SELECT)
    return [p.choice for p in found.positions if p.choice is not None]


WAITING = {"F2-A", "F3-A", "S1-A"}
"""Where no unit is chosen: all that are left wait for their supplier, none for the site."""


@pytest.mark.parametrize("name", MACHINES)
def test_what_decides_is_enough_for_a_verdict(name: str) -> None:
    """At 21 of the 24 positions a unit is chosen; at the other three only suppliers have something to answer."""
    for choice in choices(name):
        assert (choice.chosen is None) == (choice.position in WAITING)
        assert [q for q, _ in choice.questions if not q.startswith("ask ")] == []


@pytest.mark.parametrize(
    "path",
    [
        "seat.form_error",
        "lift.allowed",
        "room.plain_left",
        "room.entry_side",
        "shaft_temperature",
        "lubricant.iso_vg",
    ],
)
def test_without_one_that_decides_no_unit_is_chosen(path: str) -> None:
    for choice in choices("T1", leave_out=path):
        assert choice.chosen is None and choice.open > 0
