"""The pages of a survey sheet: sketch and numbered dimensions, parts and duty, bearings, stops and site."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from halfbore.documents.blocks import breakable, picture
from halfbore.documents.survey_blocks import (
    Block,
    Box,
    Boxes,
    Caution,
    Cells,
    Free,
    Grid,
    NewPage,
    Questions,
    Row,
    Section,
    Side,
    Words,
)
from halfbore.documents.survey_fields import (
    CONDITION,
    DESK,
    DRIVEN,
    FAILURE,
    HOW_MANY,
    LOCATES,
    LUBRICANT,
    MONEY,
    PLATES,
    POSITION,
    RUNNING,
    SHAFT,
    SITE,
    STOPPED,
    STOPS,
    TRAPS,
    WORK,
    Group,
    decides,
    part_asks,
    place_of,
)
from halfbore.documents.survey_known import Known, text_at
from halfbore.domain.survey import Thing
from halfbore.domain.survey_form import Ask, SheetKind, choices_of, field_of, label_of
from halfbore.domain.survey_layout import NO, YES
from halfbore.phrases import listed
from halfbore.present.survey_details import LETTERS, asked_on_sketch, bearing_sketch, compass
from halfbore.present.survey_layouts import SIZES, Dimension, Layout, dimensions
from halfbore.present.survey_sketch import sketch
from halfbore.present.survey_words import first_line, units_to_ring

CONDITIONS = ("1 normal", "2", "3 start or standing")
"""Columns for the conditions of the duty."""
FAILURES = 6
"""Rows for bearings taken out at the positions of a page."""
BLANK = "Blank means not measured. Write 0 only for a measured zero. Write a range as 500 to 700."
_STORED = {
    SheetKind.FAN: "a draught turns the wheel: block it. Hot gas stays in the casing.",
    SheetKind.OVERHUNG_FAN: "a draught turns the wheel: block it. Hot gas stays in the casing.",
    SheetKind.ELEVATOR_HEAD: "full buckets run the belt back: the holdback is no lock. Hold belt and drum.",
    SheetKind.ELEVATOR_BOOT: "full buckets run the belt back: hold the belt. The take-up is loaded.",
    SheetKind.HEAD_SHAFT: "the belt is under tension and runs back; the gear unit hangs on its arm.",
    SheetKind.TAIL_DRUM: "the take-up weight or screw keeps the belt under tension.",
    SheetKind.PADDLE_SHAFT: "the bed and the paddles turn the shaft back; steam and dust stay inside.",
    SheetKind.SCREW: "an inclined screw turns back under its load.",
    SheetKind.JACKSHAFT: "belts stay under tension; a flywheel takes minutes to stop.",
}


@dataclass(frozen=True)
class Sheet:
    """One survey sheet: the shaft line, the tag of its machine, what is known of it."""

    layout: Layout
    machine: str = ""
    known: Known = field(default_factory=Known)

    def tag(self, index: int) -> str:
        """Return the tag of a position: as it is known, else of its machine and letter, else its letter."""
        before = f"{self.machine}-" if self.machine else ""
        usual = [f"{before}{bearing.letter}" for bearing in self.layout.bearings]
        told = self.known.positions()
        return usual[index] if index >= len(told) or set(usual) & set(told) else told[index]

    def known_of(self, ask: Ask, index: int, part: str = "") -> str:
        """Return what is known of a field; index: as of `Known.text`, or of the position in the layout."""
        if ask.thing is Thing.POSITION:
            return self.known.at_position(ask.path, self.tag(index))
        return self.known.text(ask, index, part)


def blocks(sheet: Sheet) -> Iterator[Block]:
    """Yield all that a survey sheet shows, in order."""
    yield from _front(sheet)
    yield NewPage()
    yield from _parts(sheet)
    bearings = len(sheet.layout.bearings)
    for first in range(0, bearings, 2):
        yield NewPage()
        yield from _positions(sheet, tuple(range(first, min(first + 2, bearings))))
    yield NewPage()
    yield from _stops(sheet)


def _front(sheet: Sheet) -> Iterator[Block]:
    layout = sheet.layout
    found = dimensions(layout)
    black = {d.number for d in found if decides(layout, d.ask, d.index)}
    yield Boxes(
        (
            Box("Plant", 1.6, sheet.known.text(Ask(Thing.PLANT, "machine.plant"))),
            Box("Machine tag", 1.0, sheet.machine),
            Box("Shaft line, if it has several", 1.2),
            Box("Date, year-month-day", 1.1),
        )
    )
    yield Side((tuple(_before(layout)), (picture(compass()),)), (2.2, 1.0))
    yield picture(sketch(layout, black))
    yield Questions(tuple(_dimension(sheet, d) for d in found))


def _before(layout: Layout) -> Iterator[Block]:
    special = _STORED.get(layout.kind, "belts, springs, weights and hung parts move when they are let go.")
    yield Caution(
        "Before anyone measures",
        "Locked out, blocked and proved by the site's own procedure, which comes before this sheet. Rotating parts: "
        f"guards stay on until then. Stored energy: {special} Hot surfaces burn. Nobody under a suspended load or a "
        "shaft that is only jacked.",
    )
    yield Words(
        f"{BLANK} Ring the unit, or write another. A shaft with more steps: draw them in, number on, and write them in the free "
        "room of the last page.",
        "How to fill.",
    )
    yield Words(
        f"the {HOW_MANY} without which no verdict or no worth comes; the plates come before them.",
        "Marked black and asked first:",
    )


def _dimension(sheet: Sheet, d: Dimension) -> Row:
    """Return the row of a numbered dimension; its number is the one of the sketch."""
    layout = sheet.layout
    kind, index = "", d.index
    if d.ask.thing is Thing.PART:
        part = layout.parts[d.index]
        kind, subject = part.kind, part.name
        index = [p.kind for p in layout.parts[: d.index]].count(kind)
    elif d.ask.thing is Thing.POSITION:
        subject = f"bearing {sheet.tag(d.index)}"
    else:
        subject = f"step {d.index + 1}"
    return _row(
        d.ask,
        (sheet.known_of(d.ask, index, kind),),
        part=kind,
        mark=str(d.number),
        label=f"{first_line(subject)}: {label_of(d.ask, kind)}",
        place=place_of(d.ask),
        black=decides(layout, d.ask, d.index),
    )


def _row(
    ask: Ask,
    known: tuple[str, ...],
    part: str = "",
    mark: str = "",
    label: str = "",
    place: str = "",
    black: bool = False,
) -> Row:
    info = field_of(ask, part)
    return Row(
        label or first_line(label_of(ask, part)),
        mark,
        place,
        TRAPS.get(ask, ""),
        units_to_ring(info),
        choices_of(info),
        black,
        ask.path == "seat.diameter",
        tuple(breakable(text) for text in known),
    )


def _group(sheet: Sheet, *groups: Group) -> Cells:
    """Return the boxes of groups that are asked once for the machine."""
    asks = [a for group in groups for a in group.asks if a not in DESK]
    return Cells(tuple(_row(a, (sheet.known.text(a),), black=decides(sheet.layout, a)) for a in asks))


def _entries(sheet: Sheet, group: Group, columns: tuple[str, ...]) -> Questions:
    """Return the rows of a group that asks the same of several entries, which stand in columns."""
    layout, step = sheet.layout, len(group.asks) // len(columns)
    return Questions(
        tuple(
            _row(
                group.asks[i],
                tuple(sheet.known.text(a) for a in group.asks[i::step]),
                black=any(decides(layout, a) for a in group.asks[i::step]),
            )
            for i in range(step)
        ),
        columns,
    )


def _parts(sheet: Sheet) -> Iterator[Block]:
    layout = sheet.layout
    groups = (PLATES, RUNNING, SHAFT) if layout.kind in DRIVEN else (RUNNING, SHAFT)
    yield Section(first_line(listed([group.title for group in groups])))
    yield _group(sheet, *groups)
    yield Section(CONDITION.title, "one column for each way it runs")
    asks = CONDITION.asks[1:]
    yield Questions(
        tuple(
            _row(a, tuple(sheet.known.text(a, i) for i in range(3)), black=decides(layout, a)) for a in asks
        ),
        CONDITIONS,
    )
    yield Section("Parts on the shaft", "places and sizes with a number stand on page 1")
    seen: dict[str, int] = {}
    for i, part in enumerate(layout.parts):
        index = seen[part.kind] = seen.get(part.kind, -1) + 1
        numbered = ("x", *SIZES.get(part.kind, ()))
        asks = tuple(a for a in part_asks(part.kind) if a.path not in numbered)
        yield Words(f"({part.kind})" if part.kind != part.name else "", first_line(part.name))
        yield Cells(
            tuple(
                _row(a, (sheet.known.text(a, index, part.kind),), part.kind, black=decides(layout, a, i))
                for a in asks
            )
        )


def _positions(sheet: Sheet, shown: tuple[int, ...]) -> Iterator[Block]:
    """Yield the two pages of one or two bearings, side by side in columns."""
    names = tuple(f"bearing {sheet.tag(i)}" for i in shown)
    yield Section(first_line(listed(names)), "left is towards the drive end, right towards the free end")
    decisive = frozenset(path for path in LETTERS if decides(sheet.layout, Ask(Thing.POSITION, path)))
    yield picture(bearing_sketch(decisive))
    lettered = tuple(
        _row(a, _each(sheet, a, shown), mark=letter, black=decides(sheet.layout, a))
        for letter, a in asked_on_sketch()
    )
    yield Questions(lettered, names)
    for group in POSITION:
        yield Section(group.title)
        asks = [a for a in group.asks if a not in DESK]
        rows = tuple(_row(a, _each(sheet, a, shown), black=decides(sheet.layout, a)) for a in asks)
        yield Questions(rows, names)
    yield from _history(sheet, shown)


def _each(sheet: Sheet, ask: Ask, shown: tuple[int, ...]) -> tuple[str, ...]:
    return tuple(sheet.known_of(ask, i) for i in shown)


def _history(sheet: Sheet, shown: tuple[int, ...]) -> Iterator[Block]:
    """Yield the bearings taken out at some positions: what is known, then empty rows."""
    tags = [sheet.tag(i) for i in shown]
    known = [t for t in sheet.known.told if t.thing is Thing.FAILURE and t.tags[-1] in tags]
    rows = [(str(t.tags[-1]), *(breakable(text_at(t.data, a.path)) for a in FAILURE.asks)) for t in known]
    heads = ("bearing", "date", "how it died", f"failed? {YES}, {NO}", "hours stopped", "what was seen")
    rows += [("",) * len(heads)] * max(1, FAILURES - len(rows))
    yield Section(f"{FAILURE.title} here", "oldest first; how it died by its number below")
    yield Grid(heads, (0.9, 1.1, 1.1, 1.0, 1.0, 2.4), tuple(rows))
    yield Words(_damage_words(), "How it died:")


def _damage_words() -> str:
    words = choices_of(field_of(Ask(Thing.FAILURE, "why")))
    return ", ".join(f"{i} {word}" for i, word in enumerate(words, start=1)) + "."


def _stops(sheet: Sheet) -> Iterator[Block]:
    yield Section(
        STOPPED.title, "lost margin as hours go by: nothing while a bin is full, then a rate, then another"
    )
    yield _entries(sheet, STOPPED, ("first", "then", "then"))
    yield _group(sheet, Group("", (*STOPS.asks, MONEY)))
    for group in (SITE, LUBRICANT, WORK):
        yield Section(group.title)
        yield _group(sheet, group)
    yield Section(LOCATES.title)
    yield _entries(sheet, LOCATES, ("first", "second"))
    yield Free("Grease lines, lubricators, sensors, packing and shims; what else was seen; a sketch", 12.0)
    yield Boxes((Box("Measured by"), Box("with what"), Box("Checked by"), Box("Date")))
