"""A row of places along a line, some known, with ranges of the gaps between the others: all corners of what is possible.

The possible places form a polytope. A measured place is one more plane through it, so what is left lies inside what
was there: measuring never widens.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, product

from halfbore.units import Span

MOST = 64
"""Corners that are carried; where there are more, the runs between known places are varied one at a time."""
CLOSE = 1e-9

Places = tuple[float, ...]


def corners(known: Sequence[float | None], gaps: Sequence[Span]) -> tuple[Places, tuple[Places, ...]]:
    """Return the likely places and the corners of all possible ones [mm].

    known: places from the start, None where not known, the first known; gaps: from each place to the next.
    Gaps that do not fit between two known places are stretched in proportion: the known places are right.
    """
    fixed = [i for i, x in enumerate(known) if x is not None]
    runs = [_between(known, gaps, a, b) for a, b in pairwise(fixed)]
    if fixed[-1] < len(known) - 1:
        runs.append(_open(gaps[fixed[-1] :]))
    likely = _places(known, [run[0] for run in runs])
    count = 1
    for run in runs:
        count *= len(run[1])
    if count <= MOST:
        every = [_places(known, choice) for choice in product(*(run[1] for run in runs))]
    else:
        every = list(_one_at_a_time(known, runs))
    return likely, tuple(dict.fromkeys(every))


Gaps = tuple[float, ...]
Run = tuple[Gaps, list[Gaps]]


def _places(known: Sequence[float | None], runs: Sequence[Gaps]) -> Places:
    x = float(known[0] or 0.0)
    found = [x]
    for gap in (g for run in runs for g in run):
        x += gap
        found.append(x)
    return tuple(x if k is None else float(k) for x, k in zip(found, known, strict=True))


def _one_at_a_time(known: Sequence[float | None], runs: Sequence[Run]) -> Iterator[Places]:
    """Yield the corners of one run after the other, the others likely; of a long run some of its corners."""
    likely = [run[0] for run in runs]
    for i, (_, ends) in enumerate(runs):
        for end in ends[:: -(-len(ends) // MOST)]:
            yield _places(known, [*likely[:i], end, *likely[i + 1 :]])


def _open(gaps: Sequence[Span]) -> Run:
    likely = tuple(g.likely for g in gaps)
    return likely, list(product(*(sorted({g.low, g.high}) for g in gaps)))


def _between(known: Sequence[float | None], gaps: Sequence[Span], a: int, b: int) -> Run:
    """Return the gaps between two known places, likely and at the corners: they add up to the distance."""
    start, end = known[a], known[b]
    assert start is not None and end is not None
    return _adding_up(gaps[a:b], end - start)


def _adding_up(gaps: Sequence[Span], distance: float) -> Run:
    if len(gaps) == 1:
        return (distance,), [(distance,)]
    low, high = sum(g.low for g in gaps), sum(g.high for g in gaps)
    if not low <= distance <= high:
        by = distance / sum(g.likely for g in gaps)
        gaps = [Span(g.low * by, g.likely * by, g.high * by) for g in gaps]
    return _likely(gaps, distance), sorted(set(_ends(gaps, distance)))


def _likely(gaps: Sequence[Span], distance: float) -> Gaps:
    """Return the likely gaps, all moved alike towards their ends until they add up."""
    middle = sum(g.likely for g in gaps)
    towards = [g.high for g in gaps] if distance > middle else [g.low for g in gaps]
    room = sum(towards) - middle
    part = (distance - middle) / room if room else 0.0
    return tuple(g.likely + part * (t - g.likely) for g, t in zip(gaps, towards, strict=True))


def _ends(gaps: Sequence[Span], distance: float) -> Iterator[Gaps]:
    """Yield the corners: all gaps but one at an end, that one what is left."""
    for j, gap in enumerate(gaps):
        others = [sorted({g.low, g.high}) for i, g in enumerate(gaps) if i != j]
        for choice in product(*others):
            rest = distance - sum(choice)
            if gap.low - CLOSE <= rest <= gap.high + CLOSE:
                yield (*choice[:j], rest, *choice[j:])
