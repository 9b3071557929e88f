"""From the rows of a survey to the documents of a plant: each row finds its thing, and adds what it tells."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any

from halfbore.domain.survey import Plain, Thing, Told
from halfbore.domain.workspace import Address
from halfbore.errors import InputError, Problem

Documents = dict[Address, Plain]


@dataclass
class Plant:
    """The documents of a plant while rows are added: the plant (), machines, shaft lines, positions.

    lines: of each machine, those that any of the rows names among them, so that the order of rows decides nothing.
    """

    documents: Documents
    places: dict[str, Address] = field(default_factory=dict)
    lines: dict[str, list[str]] = field(default_factory=dict)

    @classmethod
    def of(cls, documents: Mapping[Address, Plain]) -> Plant:
        """Return a copy that can be added to."""
        plant = cls(deepcopy(dict(documents)))
        for address in documents:
            plant._index(address)
        return plant

    def _index(self, address: Address) -> None:
        if len(address) == 3:
            self.places[address[2]] = address
        elif len(address) == 2:
            self._know(address[0], address[1])

    def _know(self, machine: str, line: str) -> None:
        known = self.lines.setdefault(machine, [])
        if line not in known:
            known.append(line)

    def hear(self, told: Iterable[Told]) -> None:
        """Note the shaft lines that rows name."""
        for machine, line in ((*row.tags, None, None)[:2] for row in told):
            if machine is not None and line is not None:
                self._know(machine, line)

    def _new(self, address: Address) -> Address:
        """Put a thing there where it is new."""
        if address not in self.documents:
            self.documents[address] = {}
            self._index(address)
        return address

    def add(self, told: Told) -> None:
        """Add what one row tells. Raises InputError where the row does not say what it belongs to."""
        _ADDS[told.thing](self, told)

    def machine(self, tag: str) -> Address:
        """Return a machine, made where it is new."""
        return self._new((tag,))

    def line(self, told: Told) -> Address:
        """Return the shaft line that a row belongs to, made where it is new.

        Raises InputError where the row names no machine, or a machine of several lines and no line.
        """
        machine, line = (*told.tags, None, None)[:2]
        if machine is None:
            raise _no(told, "names no machine, and no known position", "add a column with the machine's tag")
        known = self.lines.get(machine, [])
        if line is None and len(known) > 1:
            raise _no(told, f"{machine} has several shaft lines: {', '.join(known)}", "say which one")
        tag = line if line is not None else (known or [""])[0]
        return self._new((*self.machine(machine), tag))

    def position(self, told: Told, new: bool) -> Address:
        """Return the position that a row belongs to; made where it is new and may be.

        Raises InputError where it is not known, or stands elsewhere than the row says.
        """
        machine, line, tag = (*told.tags, None, None, None)[:3]
        if not tag:
            raise _no(told, "names no position", "write the position's tag")
        found = self.places.get(tag)
        if found is None:
            if not new:
                raise _no(
                    told,
                    f"{tag} is not among the positions",
                    "mend the row of the position itself first, or correct the tag",
                )
            return self._new((*self.line(told), tag))
        if machine not in (None, found[0]) or line not in (None, found[1]):
            raise _no(told, f"{tag} stands in {' '.join(found[:2]).strip()}, not here", "correct one of them")
        return found


def _no(told: Told, what: str, step: str) -> InputError:
    return InputError(Problem(what, told.place, next_step=step))


def _plant(plant: Plant, told: Told) -> None:
    _merge(plant.documents.setdefault((), {}), told.data)


def _machine(plant: Plant, told: Told) -> None:
    machine = told.tags[0]
    if not machine:
        raise _no(told, "names no machine", "write the machine's tag")
    _merge(plant.documents[plant.machine(machine)], told.data)


def _line(plant: Plant, told: Told) -> None:
    _merge(plant.documents[plant.line(told)], told.data)


def _position(plant: Plant, told: Told) -> None:
    _merge(plant.documents[plant.position(told, new=True)], told.data)


def _part(plant: Plant, told: Told) -> None:
    _entry(plant.documents[plant.line(told)], "loads", "name", told)


def _condition(plant: Plant, told: Told) -> None:
    _entry(plant.documents[plant.line(told)], "duty", "name", told)


def _failure(plant: Plant, told: Told) -> None:
    document = plant.documents[plant.position(told, new=False)]
    _entry(document, "history", "on", told)
    document["history"].sort(key=lambda entry: str(entry.get("on", "")))


def _segments(plant: Plant, rows: list[Told]) -> None:
    """Put the segments of one shaft line in place of those that are there: they make sense only as a whole."""
    shaft = plant.documents[plant.line(rows[0])].setdefault("shaft", {})
    shaft["segments"] = [deepcopy(told.data) for told in rows]


BARE = {"kind", "name"}
"""What an empty survey sheet says of a part or a condition; beside known ones it would only stand in their way."""
_ADDS = {
    Thing.PLANT: _plant,
    Thing.MACHINE: _machine,
    Thing.SHAFT_LINE: _line,
    Thing.PART: _part,
    Thing.CONDITION: _condition,
    Thing.POSITION: _position,
    Thing.FAILURE: _failure,
}
_ORDER = (*(t for t in Thing if t not in (Thing.POSITION, Thing.FAILURE)), Thing.POSITION, Thing.FAILURE)
"""Machines and their lines first, so that a position finds where it belongs."""


def added(documents: Mapping[Address, Plain], told: Iterable[Told]) -> tuple[Documents, dict[str, Problem]]:
    """Return the documents with all that rows tell, and the problems of rows that found no place, by place.

    documents: those of the plant as they are; told: rows in the order of the file. A row of which one thing finds
    no place adds nothing at all.
    """
    rows, lost = list(told), dict[str, Problem]()
    while True:
        plant = Plant.of(documents)
        plant.hear(rows)
        found = _added(plant, rows)
        if not found:
            return plant.documents, lost
        lost |= found
        rows = [row for row in rows if row.place not in lost]


def _added(plant: Plant, told: Iterable[Told]) -> dict[str, Problem]:
    """Add rows; return the problems of those that found no place."""
    lost: dict[str, Problem] = {}
    by_thing: dict[Thing, list[Told]] = {thing: [] for thing in _ORDER}
    for row in told:
        by_thing[row.thing].append(row)
    for thing in _ORDER:
        for rows in _steps(plant, thing, by_thing[thing]):
            try:
                if thing is Thing.SEGMENT:
                    _segments(plant, rows)
                else:
                    plant.add(rows[0])
            except InputError as error:
                lost.update({row.place: error.problems[0] for row in rows})
    return lost


def _steps(plant: Plant, thing: Thing, rows: list[Told]) -> Iterator[list[Told]]:
    """Yield rows one by one; segments of one shaft line together, whether or not each names it."""
    if thing is not Thing.SEGMENT:
        yield from ([row] for row in rows)
        return
    by_line: dict[tuple[str | None, ...], list[Told]] = {}
    for row in rows:
        try:
            line: tuple[str | None, ...] = plant.line(row)
        except InputError:
            line = row.tags  # told of when they are added
        by_line.setdefault(line, []).append(row)
    yield from by_line.values()


def _merge(document: Plain, given: Mapping[str, Any]) -> None:
    """Put what is given into a document, table by table; what is not given stays."""
    for key, value in given.items():
        if isinstance(value, Mapping) and isinstance(document.get(key), dict):
            _merge(document[key], value)
        else:
            document[key] = deepcopy(value)


def _entry(document: Plain, field_name: str, key: str, told: Told) -> None:
    """Put a row into the entry of a list that it is about, or at its end."""
    if not told.data.get(key):
        raise _no(told, f"gives no {key}", f"write the {key}: by it the entry is known")
    entries = document.setdefault(field_name, [])
    for entry in entries:
        if entry.get(key) == told.data[key]:
            _merge(entry, told.data)
            return
    if told.data.keys() <= BARE and any(entry.keys() - BARE for entry in entries):
        step = "fill in what is known of it, or take the row out"
        raise _no(told, f"tells nothing of {told.data[key]} but its name, beside others that are known", step)
    entries.append(deepcopy(told.data))
