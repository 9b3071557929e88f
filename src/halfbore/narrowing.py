"""What to measure or settle next: each uncertain input held at its likely value, and what that takes out of the answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property

import numpy as np

from halfbore.advice import conditioned
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.check import Finding, Verdict
from halfbore.domain.estimate import Narrowing, Widening
from halfbore.domain.job import Job, JobReading
from halfbore.domain.order import SHOWN, AnswerState
from halfbore.domain.shaftline import Bearing, PositionDuty
from halfbore.domain.study import PositionStudy, Study
from halfbore.domain.unit import UnitTable
from halfbore.errors import HalfboreError
from halfbore.numbers import number
from halfbore.phrases import listed, phrase
from halfbore.selection.bearing import bearing_of
from halfbore.selection.check import found as column_of
from halfbore.selection.check import verdicts
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.missing import parts_of
from halfbore.selection.need import Need
from halfbore.shaftline.solve import Known
from halfbore.shaftline.widen import duties_over
from halfbore.study import Stage, study
from halfbore.uncertain import Case, Uncertain, uncertain_inputs

TELLING = 0.02
"""A share of the range of a check below which a measurement is not worth naming."""
TELLING_LOAD, BY_LOAD = 0.1, 0.002
"""The same of the range of the governing load, where it still takes something out of the range of a check."""
MOST_LAYOUTS = 16
"""Corners of the places that are carried here: enough for two bearings; of a long row some, which is enough to rank."""


def answered(
    reading: JobReading, catalogues: Iterable[Catalogue], upto: Stage, on: date | None = None
) -> tuple[Study, tuple[Narrowing, ...]]:
    """Return the study of a job as far as a stage, with what to measure next; it says no more than that leaves it.

    on: the day as of which it is worked out. Raises InputError.
    """
    found = study(reading, catalogues, upto, on)
    narrowings = what_to_measure(found)
    return conditioned(found, narrowings), narrowings


def run_study(
    reading: JobReading,
    catalogues: Iterable[Catalogue] = (),
    upto: Stage = Stage.VALUE,
    on: date | None = None,
) -> Study:
    """Work out a machine, and advise nothing before what may still turn its unit away is measured or answered.

    reading: the job as read; catalogues: those to choose from; upto: the last stage that is wanted; on: the day as of
    which it is worked out. Returns the study; `what_to_measure` says of it what to measure or settle next.
    Raises InputError for what cannot be solved.
    """
    return answered(reading, catalogues, upto, on)[0]


def what_to_measure(found: Study) -> tuple[Narrowing, ...]:
    """Return what would narrow the answer at each position, what matters most first.

    found: a study as far as the choice of units. Every input with a range is held at its likely value, and at both
    ends where that narrows anything; the shaft line and the checks of the chosen unit, or of the nearest one where
    nothing holds, are worked out again. First come those with an end that turns away a unit that holds, then those
    whose ends change the verdict on it, then by the part that they take out of the range of the check that decides;
    then data that are missing, and open questions.
    Where a unit holds over all ranges nothing is worth measuring.
    """
    trial = _Trial(found)
    measured: list[Narrowing] = []
    if trial.places:
        for uncertain in uncertain_inputs(found.reading):
            measured += trial.narrowings(uncertain)
    first = {place.name: next(iter(trial.now[place.index].open), "") for place in trial.places}
    ranked = sorted(
        (*measured, *_doubts(found, measured)),
        key=lambda n: (not n.fails, not n.changes, n.check != first[n.position], -n.narrows, -n.load_narrows),
    )
    return tuple(
        n for p in found.positions for n in (*(m for m in ranked if m.position == p.position), *_to_settle(p))
    )


@dataclass(frozen=True)
class _Place:
    """A position with the unit that is looked at."""

    index: int
    name: str
    unit: UnitTable


@dataclass(frozen=True)
class _Seen:
    """How the unit of a position fares: range of the governing load [N], use and verdict of each check."""

    load: tuple[float, float]
    used: dict[str, tuple[float, float]]
    verdicts: dict[str, int]

    @cached_property
    def word(self) -> str:
        """What the checks say of the unit as a whole: the worst of them."""
        found = set(self.verdicts.values())
        worst = (Verdict.FAILS, Verdict.OUTSIDE, Verdict.NO_DATA, Verdict.TIGHT)
        return next((v.word for v in worst if int(v) in found), Verdict.HOLDS.word)

    @cached_property
    def open(self) -> tuple[str, ...]:
        """The checks that turn the unit away; where there is none, those that do not hold over the whole range.

        First those that their range leaves open, the most used first.
        """
        for verdict in (Verdict.FAILS, Verdict.TIGHT):
            names = [n for n, v in self.verdicts.items() if v == verdict]
            if names:
                return tuple(sorted(names, key=self._order))
        return ()

    def _order(self, name: str) -> tuple[bool, float]:
        good, bad = self.used[name]
        return not good <= 1.0 < bad, -bad


@dataclass
class _Trial:
    """A study whose inputs are held one after the other."""

    study: Study
    known: Known = field(default_factory=dict)

    @property
    def job(self) -> Job:
        """The job as it stands."""
        return self.study.reading.job

    @cached_property
    def places(self) -> tuple[_Place, ...]:
        """The positions whose unit does not hold over all ranges."""
        return tuple(place for place in self.every if self.now[place.index].word != Verdict.HOLDS.word)

    @cached_property
    def every(self) -> tuple[_Place, ...]:
        """The positions that have a unit to look at."""
        units = [None if p.choice is None else p.choice.shown_unit for p in self.study.positions]
        names = [p.name for p in self.job.positions]
        return tuple(_Place(i, names[i], u) for i, u in enumerate(units) if u is not None)

    @cached_property
    def bearings(self) -> tuple[Bearing, ...]:
        """Give and clearance of the chosen bearings where they decide the reactions."""
        if len(self.job.positions) < 3:
            return ()
        held = {place.index: place.unit for place in self.every}
        return tuple(
            bearing_of(Need(self.job, i, self.study.response.duties[i]), held[i])
            if i in held
            else Bearing(float("inf"), 0.0)
            for i in range(len(self.job.positions))
        )

    @cached_property
    def duties(self) -> tuple[PositionDuty, ...]:
        """The duties as the job stands."""
        return self._solved(self.job, self.study.reading.widening)

    def _solved(self, job: Job, widening: Widening | None) -> tuple[PositionDuty, ...]:
        if widening is not None and len(widening.layouts) > MOST_LAYOUTS:
            few = widening.layouts[:: -(-len(widening.layouts) // MOST_LAYOUTS)]
            widening = replace(widening, layouts=few)
        return duties_over(job, self.bearings, widening, self.known)

    @cached_property
    def now(self) -> dict[int, _Seen]:
        """How each unit fares as the job stands."""
        return {p.index: _seen(Need(self.job, p.index, self.duties[p.index]), p.unit) for p in self.every}

    def at(self, case: Case, places: tuple[_Place, ...]) -> dict[int, _Seen]:
        """How the units of some positions fare in a case; as now where the case cannot be worked out."""
        try:
            moved = self._solved(case.job, case.widening) if case.moves else self.duties
            return {p.index: _seen(Need(case.job, p.index, moved[p.index]), p.unit) for p in places}
        except HalfboreError:
            return self.now

    def narrowings(self, uncertain: Uncertain) -> Iterator[Narrowing]:
        """Yield what an input held at its likely value takes out of the answer at each position."""
        places = tuple(p for p in self.places if uncertain.position in ("", p.name))
        held = self.at(uncertain.at("likely"), places) if places else {}
        touched = tuple(p for p in places if _touched(self.now[p.index], held[p.index]))
        if not touched:
            return
        low, high = (self.at(uncertain.at(end), touched) for end in ("low", "high"))
        for place in touched:
            i = place.index
            yield from _told(place.name, uncertain, self.now[i], held[i], low[i], high[i])


def _seen(need: Need, unit: UnitTable) -> _Seen:
    columns = {check.name: column_of(check, need, unit) for check in CHECKS}
    used = {name: (float(c.good[0]), float(c.bad[0])) for name, c in columns.items()}
    said = {check.name: int(verdicts(check, columns[check.name])[0]) for check in CHECKS}
    loads = need.duty.equivalent_high[need.running]
    if not loads.size:
        return _Seen((0.0, 0.0), used, said)
    at = int(loads.argmax())
    return _Seen((float(need.duty.equivalent_low[need.running][at]), float(loads[at])), used, said)


def _touched(now: _Seen, held: _Seen) -> bool:
    """Whether an open check narrows by a share worth naming, or with the load, or the verdict is another one."""
    share = max((_share(now.used[name], held.used[name]) for name in now.open), default=0.0)
    by_load = share >= BY_LOAD and _share(now.load, held.load) >= TELLING_LOAD
    return now.word != held.word or share >= TELLING or by_load


def _told(
    position: str, uncertain: Uncertain, now: _Seen, held: _Seen, low: _Seen, high: _Seen
) -> Iterator[Narrowing]:
    shares = {name: _share(now.used[name], held.used[name]) for name in now.open}
    check = next((name for name in now.open if shares[name] >= TELLING), next(iter(now.open), ""))
    narrows, of_load = shares.get(check, 0.0), _share(now.load, held.load)
    changes = now.word not in (low.word, high.word) or low.word != high.word
    if changes or narrows >= TELLING or of_load >= TELLING_LOAD:
        ends, said = (uncertain.low, uncertain.high), (now.word, low.word, high.word)
        settles = len({word in _HOLDS for word in said}) > 1
        words = _sentence(position, uncertain, check, narrows, of_load, settles, changes)
        fails = _failing(low, high) if now.word in _HOLDS else ()
        yield Narrowing(
            position,
            uncertain.path,
            words,
            *ends,
            narrows,
            of_load,
            check,
            changes,
            uncertain.how,
            fails,
            uncertain.asks,
        )


def _failing(*ends: _Seen) -> tuple[str, ...]:
    """Return the checks that fail at an end."""
    return tuple(name for name in ends[0].verdicts if any(e.verdicts[name] == Verdict.FAILS for e in ends))


_HOLDS = (Verdict.HOLDS.word, Verdict.TIGHT.word)


def _sentence(
    position: str,
    uncertain: Uncertain,
    check: str,
    narrows: float,
    of_load: float,
    settles: bool,
    changes: bool,
) -> str:
    """Return what to do and what it brings; settles: whether the unit holds, changes: how well it does."""
    if settles:
        return f"{uncertain.asks} first: it decides whether the unit holds at {position}"
    share, what = (narrows, f"“{check}”") if narrows >= TELLING else (of_load, "the load")
    brings = f"it takes {number(100.0 * share)} % out of the range of {what} at {position}"
    if narrows >= TELLING:
        return f"{uncertain.asks}: {brings}{', and what it is decides the verdict' if changes else ''}"
    return f"{uncertain.asks}: {f'what it is decides the verdict at {position}' if changes else brings}"


def _share(before: tuple[float, float], after: tuple[float, float]) -> float:
    """Return the part of a range that is gone, 0 to 1; a range without end is measured by u/(1 + u)."""
    ends = np.array([before, after], dtype=np.float64)
    if np.isnan(ends).any():
        return 0.0
    if np.isinf(ends).any():
        ends = 1.0 - 1.0 / (1.0 + ends)
    width, left = ends[:, 1] - ends[:, 0]
    return float(np.clip(1.0 - left / width, 0.0, 1.0)) if width > 0 else 0.0


def _doubts(found: Study, measured: Sequence[Narrowing]) -> Iterator[Narrowing]:
    """Yield what leaves it open whether a chosen unit holds although no measurement alone would turn it away."""
    for place in found.positions:
        covered = {check for n in measured if n.position == place.position for check in n.fails}
        for told in place.choice.findings if place.choice is not None else ():
            if told.in_doubt and told.check not in covered:
                yield _doubt(place, told, measured)


def _doubt(place: PositionStudy, told: Finding, measured: Sequence[Narrowing]) -> Narrowing:
    unit = place.choice.chosen_unit if place.choice is not None else None
    if told.asks and unit is not None:
        whom = str(unit.supplier[0])
        words = f"Ask {whom} first {told.asks}: it decides whether the unit holds at {place.position}"
        return replace(_open(place.position, words, told.check, whom), changes=True, fails=(told.check,))
    of_check = [n for n in measured if (n.position, n.check) == (place.position, told.check)]
    widest = max(of_check, key=lambda n: n.narrows, default=_open(place.position, "", told.check, ""))
    past = f"“{told.check}” at {place.position}"
    if widest.asks:
        words = (
            f"{widest.asks} first: it takes most out of the range of {past}, whose bad end is past the limit"
        )
    else:
        words = f"Settle {past} first: at the bad end of all that is known it is past the limit"
    return replace(widest, words=words, changes=True, fails=(told.check,))


def _to_settle(found: PositionStudy) -> Iterator[Narrowing]:
    """Yield the data that are missing for checks of the unit, and the open questions of its order."""
    choice = found.choice
    if choice is None:
        return
    missing: dict[str, list[str]] = {}
    for told in choice.shown_findings:
        for datum in parts_of(told.datum):
            missing.setdefault(datum, []).append(told.check)
    for datum, checks in missing.items():
        what, _, whom = datum.rpartition(", from ")
        quoted = listed([f"“{check}”" for check in checks])
        without = f"{quoted} {'has' if len(checks) == 1 else 'have'} no answer without it"
        words = f"Ask for {datum}: {without}" if what else f"Settle {datum}: {without}"
        yield _open(found.position, words, checks[0], whom)
    for answer in found.order.answers if found.order is not None else ():
        if answer.state is AnswerState.OPEN and answer.question != SHOWN:
            words = phrase("Answer for the order: {}: {}", answer.question, answer.answer)
            yield _open(found.position, words, "", "the site")


def _open(position: str, words: str, check: str, whom: str) -> Narrowing:
    how = f"ask {whom}" if whom else "ask the site or the supplier"
    return Narrowing(position, "", words, "", "", 0.0, 0.0, check, False, how)
