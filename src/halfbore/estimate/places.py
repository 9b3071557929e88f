"""Places along the shaft where they are not measured: the order of the machine kind, distances in shaft diameters."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise, product
from math import ceil, floor

from halfbore.domain.estimate import Layout
from halfbore.domain.machine import MachineKind
from halfbore.estimate import practice
from halfbore.estimate.chain import corners
from halfbore.estimate.kinds import OVERHUNG, asks_arrangement
from halfbore.estimate.shaft import segments
from halfbore.estimate.spans import times
from halfbore.estimate.typed import READABLE, Plain, Sheet, given, path_of, read, read_positive
from halfbore.units import Kind, Span

SPREAD_KINDS = ("paddles", "screw flight")
ROOM = 0.95
"""Part of the way to the nearer bearing that paddles or a flight may take up."""


@dataclass
class Station:
    """A part or a bearing in its place along the shaft; slot: bearings before it."""

    list_name: str
    index: int
    entry: Plain
    slot: int
    x: float | None

    @property
    def kind(self) -> str:
        """The kind of part; bearing for a position."""
        return "bearing" if self.list_name == "positions" else str(self.entry.get("kind"))

    @property
    def place(self) -> str:
        """Its path in the job."""
        return path_of(self.list_name, self.entry, self.index)


def laid_out(sheet: Sheet, size: Span) -> tuple[Layout, ...]:
    """Fill in the places, the lengths of what is spread and the length of the shaft; return all corners.

    size: diameter of the shaft with its range [mm]. Without a gap to fill there is no corner.
    """
    stations = _stations(sheet)
    pieces = segments(sheet)
    open_length = [i for i, s in enumerate(pieces) if not given(s, "length")]
    if stations is None or len(open_length) > 1 or not pieces:
        return ()
    total = None if open_length else sum(_length(s) for s in pieces)
    if total is not None and total < max(s.x or 0.0 for s in stations):
        return ()
    likely, every = corners(*_row(stations, size, total))
    _fill_places(sheet, stations, likely, every)
    _fill_spreads(sheet, stations, every)
    ends = times(size, practice.END)
    if open_length:
        _fill_length(sheet, open_length[0], [p[len(stations)] for p in (likely, *every)], ends)
    shafts = _shafts(sheet, (ends.low, ends.high) if open_length else (0.0, 0.0))
    spreads = _spreads(sheet, stations)
    if len(every) * len(shafts) * len(spreads) == 1:
        return ()
    return tuple(
        _layout(sheet, stations, places, lengths, open_length, shaft)
        for places, lengths, shaft in product(every, spreads, shafts)
    )


def _row(stations: list[Station], size: Span, total: float | None) -> tuple[list[float | None], list[Span]]:
    """Return the known places from the shaft's drive end to its free end, and the gaps between all [mm]."""
    gaps = _gaps(stations, size, sum(s.kind == "bearing" for s in stations))
    known: list[float | None] = [0.0, *(s.x for s in stations)]
    if known[1:] == [None] * len(stations):
        gaps[0] = Span.of(gaps[0].likely)  # where the row begins matters to nothing
    if total is None:
        return known, gaps
    return [*known, total], [*gaps, times(size, practice.END)]


def _stations(sheet: Sheet) -> list[Station] | None:
    """Return bearings and parts in order along the shaft; None where the order cannot be told."""
    positions, loads = sheet.entries("positions"), sheet.entries("loads")
    if not positions:
        return None
    found = [Station("positions", i, p, i, _x(p)) for i, p in enumerate(positions)]
    places = [s.x for s in found]
    sheaves = 0
    for i, load in enumerate(loads):
        x = _x(load)
        slot = _slot(sheet, load, sheaves, len(positions))
        sheaves += load.get("kind") == "sheave"
        if x is not None and None not in places:
            slot = sum(place < x for place in places if place is not None)
        elif slot is None and x is None:
            return None
        found.append(Station("loads", i, load, slot or 0, x))
    ordered = sorted(found, key=_order)
    known = [0.0, *(s.x for s in ordered if s.x is not None), READABLE[1]]
    return ordered if known == sorted(known) else None


def _order(station: Station) -> tuple[int, bool, float, int]:
    """Return what stations are sorted by: parts of a slot stand before the bearing that ends it."""
    bearing = station.kind == "bearing"
    return (station.slot, bearing, station.x if station.x is not None and not bearing else 0.0, station.index)


def _x(entry: Plain) -> float | None:
    span = read(entry, "x", Kind.LENGTH)
    return None if span is None else span.likely


def _slot(sheet: Sheet, load: Plain, sheaves: int, bearings: int) -> int | None:
    """Return how many bearings stand before a part in a machine of this kind; None where nobody knows."""
    kind = load.get("kind")
    if kind in ("coupling", "shaft-mounted drive"):
        return 0
    if kind == "sheave":
        if sheet.kind is MachineKind.LINE_SHAFT:
            return min(sheaves + 1, bearings)
        return bearings if sheet.kind is MachineKind.JACKSHAFT and sheaves else 0
    if kind == "fan wheel":
        if not given(load, "x") and asks_arrangement(sheet):
            return None
        return bearings if sheet.arrangement in OVERHUNG else 1
    return 1 if kind in ("drum", "elevator drum", *SPREAD_KINDS) else None


def _gaps(stations: list[Station], size: Span, bearings: int) -> list[Span]:
    found = [times(size, practice.END)]
    for a, b in pairwise(stations):
        gap = times(size, _between(a, b, bearings))
        for part in (a, b):
            length = read_positive(part.entry, "length", Kind.LENGTH) if part.kind in SPREAD_KINDS else None
            if length is not None:  # what is spread ends before its bearing
                least = length.likely / 2 / ROOM
                gap = Span(max(gap.low, least), max(gap.likely, least), max(gap.high, least))
        found.append(gap)
    return found


def _between(a: Station, b: Station, bearings: int) -> Span:
    """Return the distance of two neighbours in shaft diameters."""
    parts = [s for s in (a, b) if s.kind != "bearing"]
    if not parts:
        return practice.SIDE_BY_SIDE
    if len(parts) == 2:
        return practice.OVERHANG
    part = parts[0]
    if 0 < part.slot < bearings:
        return practice.BETWEEN.get(part.kind, practice.DRUM_BETWEEN)
    return practice.OVERHUNG_WHEEL if part.kind == "fan wheel" else practice.OVERHANG


def _length(segment: Plain) -> float:
    span = read_positive(segment, "length", Kind.LENGTH)
    return 0.0 if span is None else span.likely


def _fill_places(
    sheet: Sheet, stations: list[Station], likely: tuple[float, ...], every: tuple[tuple[float, ...], ...]
) -> None:
    for i, station in enumerate(stations):
        if given(station.entry, "x"):
            continue
        low, high = min(p[i + 1] for p in every), max(p[i + 1] for p in every)
        low, high = min(ceil(low), round(likely[i + 1])), max(floor(high), round(likely[i + 1]))
        station.x = float(round(likely[i + 1]))
        span = Span(float(low), station.x, float(high))
        why = "order of the parts as usual, distances in shaft diameters"
        sheet.fill_one(
            station.entry,
            station.place,
            "x",
            span,
            Kind.LENGTH,
            why,
            practice.LAID_OUT,
            ("shaft.segments[0].diameter",),
        )


def _fill_spreads(sheet: Sheet, stations: list[Station], every: tuple[tuple[float, ...], ...]) -> None:
    """Fill in over what length of the shaft paddles or a flight are spread, wherever it may stand."""
    for station in stations:
        likely = _room(stations, [s.x or 0.0 for s in stations], station)
        if station.kind not in SPREAD_KINDS or given(station.entry, "length") or likely <= 0:
            continue
        inner = slice(1, len(stations) + 1)  # without the ends of the shaft
        rooms = [likely, *(_room(stations, list(places[inner]), station) for places in every)]
        part = practice.SPREAD
        span = Span(
            float(max(floor(2 * min(rooms) * part.low), 1)),
            float(round(2 * likely * part.likely)),
            float(ceil(2 * max(rooms) * part.high)),
        )
        why = f"{part.low:.0%} to {part.high:.0%} of the distance of the bearings"
        sheet.fill_one(station.entry, station.place, "length", span, Kind.LENGTH, why, practice.LAID_OUT)


def _room(stations: list[Station], places: list[float], part: Station) -> float:
    """Return the distance from the middle of a part to the nearer bearing [mm]."""
    x = places[stations.index(part)]
    return min(
        (abs(x - p) for s, p in zip(stations, places, strict=True) if s.kind == "bearing"), default=0.0
    )


def _spreads(sheet: Sheet, stations: list[Station]) -> list[tuple[float, ...]]:
    """Return over what length each station is spread [mm], 0 for one at a place: as given, else at both ends."""
    estimated = {e.path: e.span for e in sheet.estimates}
    spans = []
    for station in stations:
        found = estimated.get(f"{station.place}.length") if station.kind in SPREAD_KINDS else Span.of(0.0)
        typed = None if found else read_positive(station.entry, "length", Kind.LENGTH)
        spans.append(found or Span.of(typed.likely if typed else 0.0))
    return list(dict.fromkeys((tuple(s.low for s in spans), tuple(s.high for s in spans))))


def _fill_length(sheet: Sheet, index: int, last: list[float], ends: Span) -> None:
    """Fill in the length of a segment: the shaft ends some way past the last part, the likely one first."""
    others = _others(sheet, index)
    span = Span(
        float(max(floor(min(last) + ends.low - others), 1)),
        float(max(round(last[0] + ends.likely - others), 1)),
        float(max(ceil(max(last) + ends.high - others), 1)),
    )
    past = practice.END
    why = f"to {past.low:g} to {past.high:g} diameters past the last part"
    place = f"shaft.segments[{index}]"
    sheet.fill_one(segments(sheet)[index], place, "length", span, Kind.LENGTH, why, practice.LAID_OUT)


def _others(sheet: Sheet, index: int) -> float:
    """Return the length of all segments but one [mm]."""
    return sum(_length(s) for j, s in enumerate(segments(sheet)) if j != index)


Shaft = tuple[float, tuple[float, ...]]


def _shafts(sheet: Sheet, ends: tuple[float, float]) -> list[Shaft]:
    """Return how far the shaft goes past its last part and the diameters of all segments: the lightest, the heaviest.

    Diameters are as given, at both ends where they are estimated; a shaft whose length is given ends where it does.
    """
    estimated = {e.path: e.span for e in sheet.estimates}
    spans = []
    for i, piece in enumerate(segments(sheet)):
        typed = read(piece, "diameter", Kind.LENGTH) or Span.of(0.0)
        spans.append(estimated.get(f"shaft.segments[{i}].diameter") or Span.of(typed.likely))
    low, high = tuple(s.low for s in spans), tuple(s.high for s in spans)
    return list(dict.fromkeys(((ends[0], low), (ends[1], high))))


def _layout(
    sheet: Sheet,
    stations: list[Station],
    places: tuple[float, ...],
    spreads: tuple[float, ...],
    open_length: list[int],
    shaft: Shaft,
) -> Layout:
    x = dict(zip([(s.list_name, s.index) for s in stations], places[1:], strict=False))
    at = [x[(s.list_name, s.index)] for s in stations]
    lengths = [0.0] * len(sheet.entries("loads"))
    for station, length in zip(stations, spreads, strict=True):
        if length:
            lengths[station.index] = min(length, 2 * ROOM * _room(stations, at, station))
    past, diameters = shaft
    pieces = [_length(s) for s in segments(sheet)]
    for i in open_length:
        pieces[i] = max(max(at) + past - _others(sheet, i), 1.0)
    return Layout(
        tuple(x[("positions", i)] for i in range(len(sheet.entries("positions")))),
        tuple(x[("loads", i)] for i in range(len(sheet.entries("loads")))),
        tuple(lengths),
        tuple(zip(pieces, diameters, strict=True)),
    )
