"""How long bearings last in the field: the plant's own history first, never fatigue alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from halfbore.domain.economics import Economics, FieldLife
from halfbore.domain.position import Position
from halfbore.domain.value import Estimate, LifeBasis
from halfbore.errors import InputError
from halfbore.numbers import write
from halfbore.numerics.life_data import WeibullFit, fit
from halfbore.numerics.sampling import beta_pert, quantiles
from halfbore.sources import Source, Status, derived, practice
from halfbore.units import Kind, Span
from halfbore.working import Number, clause

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]

SHAPE = Span(1.2, 1.5, 2.0)
"""Assumed Weibull shape where lives are too few to tell it: mixed causes (common practice, no source)."""
SHAPE_LIMITS = (0.8, 4.0)
"""A fitted shape is drawn no further out: a handful of lives cannot prove more (common practice, no source)."""
DEFAULT_YEARS = Span(4.0, 6.5, 10.0)
"""Weibull scale of a one-piece bearing of which nothing is recorded: as long as a split unit lasts by its own risks,
so that no saving comes from lives that nobody knows (common practice, no source) [years]."""
FATIGUE_SHAPE = 1.5
"""Weibull shape of the rating life of rolling bearings (ISO 281:2007, a_1; 10/9 to 1.5 in use, from memory)."""
CAP_YEARS = Span(8.0, 10.0, 12.0)
"""A split unit is renewed at this age in any case (common practice, no source)."""
PACKING_YEARS = Span(2.0, 3.5, 5.0)
"""Packing is renewed at this age (common practice, no source)."""
UNKNOWN_CURE = 0.5
"""Chance that the old cause goes on where nobody can tell whether the unit cures it (common practice, no source)."""
DAYS_A_YEAR = 365.0

_OTHER_RISKS = (
    ("grease", Span(6.0, 12.0, 24.0), 2.0),
    ("seal and contamination", Span(5.0, 10.0, 20.0), 1.5),
    ("seat and clamp", Span(12.0, 25.0, 50.0), 1.2),
)
"""Causes that end a split unit: years by which 63 % have failed of it alone, and Weibull shape."""
_OTHER_SOURCE = practice(
    "field life of split units by cause", "an estimate until the plant's record replaces it"
)


@dataclass(frozen=True, eq=False)
class Lives:
    """Competing Weibull risks of one way, draw by draw.

    scales: (draws, risks) running hours, infinite where a risk is absent; shapes: the same shape;
    cap: (draws,) running hours at which it is renewed in any case.
    """

    scales: Floats
    shapes: Floats
    cap: Floats
    bases: tuple[LifeBasis, ...]


@clause(derived("failures in the long run go with one over the mean life"), "scale/part")
def scale_of_part(scale: Number, part: Number) -> Number:
    """Return the Weibull scale with which a part of the failures goes on in the long run [unit of the scale].

    failures in the long run go with one over the mean life
    scale: of all failures, above zero; part: of them that goes on, 0 to 1; with nothing left it never strikes.
    The shape stays. A part of the hazard at each age would be taken by part**(-1/shape): of lives that are nearly
    alike it leaves most failures, for they come but a little later.
    """
    with np.errstate(divide="ignore"):
        return scale / np.asarray(part, dtype=np.float64)


@dataclass(frozen=True, eq=False)
class Carried:
    """What of the failures of today goes on in a split unit, draw by draw (draws,).

    goes_on: nothing cures it, all of it goes on; left: part that a cure leaves, 0 where no life is on record.
    """

    goes_on: Flags
    left: Floats

    def scale(self, scale: Floats) -> Floats:
        """Return the scale of what goes on, from that of today's lives (draws,)."""
        return np.asarray(scale_of_part(scale, np.where(self.goes_on, 1.0, self.left)))


def one_piece_lives(position: Position, economics: Economics, on: date, rng: Generator, draws: int) -> Lives:
    """Return the field life of the one-piece bearing at a position.

    The position's history comes first, then the job's figure, then a default that says so.
    on: day on which the present bearing was last known to run.
    """
    hours, failed = recorded_lives(position, economics.hours_a_year, on)
    if any(failed):
        scale, shape, source = _from_history(hours, failed, rng, draws)
    else:
        life = economics.one_piece_life or _unrecorded(economics.hours_a_year)
        scale, shape = _drawn(rng, life.eta, draws), _drawn(rng, life.beta, draws)
        source = Source("field life", life.source, Status.ESTIMATE)
    basis = LifeBasis("one-piece bearing", "all causes", estimate(scale), float(np.median(shape)), source)
    return Lives(scale[:, None], shape[:, None], np.full(draws, np.inf), (basis,))


def recorded_lives(position: Position, hours_a_year: float, on: date) -> tuple[list[float], list[bool]]:
    """Return the lives at a position in running hours, and whether each ended in failure.

    The first bearing on record is left out, as nobody knows when it went in; the present one is still running.
    """
    history = sorted(position.history, key=lambda failure: failure.on)
    running = hours_a_year / DAYS_A_YEAR
    lives = [((b.on - a.on).days * running, b.failed) for a, b in pairwise(history)]
    since = [d for d in (position.in_service_since, history[-1].on if history else None) if d is not None]
    if since:
        lives.append(((on - max(since)).days * running, False))
    kept = [(hours, failed) for hours, failed in lives if hours > 0.0]
    return [hours for hours, _ in kept], [failed for _, failed in kept]


def split_lives(
    one_piece: Lives,
    modified_life: Span | None,
    reliability: float,
    goes_on: float,
    left: Floats,
    hours_a_year: float,
    rng: Generator,
    draws: int,
) -> tuple[Lives, Carried]:
    """Return the field life of a split unit as competing risks with a cap, the last risk what goes on of today's.

    modified_life: of the chosen unit at the reliability [h], None where there is no data: fatigue is then left out.
    goes_on: chance that what ends the one-piece bearing goes on in full beside the unit's own risks.
    left: part of it that goes on where it does not in full (draws,).
    """
    scales, bases = [_fatigue_scale(modified_life, reliability, rng, draws)], []
    shapes = [np.full(draws, FATIGUE_SHAPE)]
    if modified_life is not None:
        source = Source(
            "ISO 281:2007", "modified rating life, clause 9", note="Weibull shape 1.5 from memory"
        )
        bases.append(_basis("fatigue", scales[0], FATIGUE_SHAPE, source))
    for cause, years, shape in _OTHER_RISKS:
        scales.append(_drawn(rng, years, draws) * hours_a_year)
        shapes.append(np.full(draws, shape))
        bases.append(_basis(cause, scales[-1], shape, _OTHER_SOURCE))
    carried = Carried(rng.random(draws) < goes_on, left)
    scales.append(carried.scale(one_piece.scales[:, 0]))
    shapes.append(one_piece.shapes[:, 0])
    if goes_on == 1.0 or left.any():
        bases.append(_carried_basis(one_piece.bases[0], goes_on, left, scales[-1]))
    cap = _drawn(rng, CAP_YEARS, draws) * hours_a_year
    bases.append(
        _basis("cap: renewed at this age in any case", cap, np.nan, practice("cap on the field life"))
    )
    return Lives(np.stack(scales, axis=1), np.stack(shapes, axis=1), cap, tuple(bases)), carried


def _carried_basis(old: LifeBasis, goes_on: float, left: Floats, scale: Floats) -> LifeBasis:
    """Return the row of what goes on of today's failures."""
    if goes_on == 1.0:
        return LifeBasis(
            "split unit", "what ended the last bearing, not cured", old.eta, old.beta, old.source
        )
    low, _, high = quantiles(left)
    cured = f"cured but for {write((float(low), float(high)), Kind.FRACTION)}"
    some = f"not cured in {write(goes_on, Kind.FRACTION)} of the draws, else " if goes_on else ""
    source = Source("part of today's failures that a cure leaves", "estimate, no source", Status.ESTIMATE)
    return LifeBasis(
        "split unit", f"what ended the last bearing, {some}{cured}", estimate(scale), old.beta, source
    )


def on_record(position: Position, economics: Economics) -> bool:
    """Return whether anything is known of how long bearings last at a position."""
    return economics.one_piece_life is not None or any(failure.failed for failure in position.history)


def chance_that_cause_goes_on(position: Position, economics: Economics, cured: bool | None) -> float:
    """Return the chance that what ended the last bearing ends the split unit as well.

    cured: whether the unit cures it, None where nobody can tell. Where no life is on record nothing can go on.
    """
    return {True: 0.0, False: 1.0, None: UNKNOWN_CURE}[cured] if on_record(position, economics) else 0.0


def estimate(draws: Floats) -> Estimate:
    """Return P10, P50, P90 and mean of draws."""
    p10, p50, p90 = (float(q) for q in quantiles(draws))
    return Estimate(p10, p50, p90, float(np.mean(draws)))


def _basis(cause: str, scale: Floats, shape: float, source: Source) -> LifeBasis:
    return LifeBasis("split unit", cause, estimate(scale), shape, source)


def _drawn(rng: Generator, span: Span, draws: int) -> Floats:
    return np.asarray(beta_pert(rng, span.low, span.likely, span.high, draws)[:, 0])


def _unrecorded(hours_a_year: float) -> FieldLife:
    years = DEFAULT_YEARS
    eta = Span(years.low * hours_a_year, years.likely * hours_a_year, years.high * hours_a_year)
    return FieldLife(eta, SHAPE, "no record: taken to last as long as a split unit")


def _fatigue_scale(life: Span | None, reliability: float, rng: Generator, draws: int) -> Floats:
    if life is None:
        return np.full(draws, np.inf)
    return np.asarray(_drawn(rng, life, draws) / (-np.log(reliability)) ** (1.0 / FATIGUE_SHAPE))


def _from_history(
    hours: Sequence[float], failed: Sequence[bool], rng: Generator, draws: int
) -> tuple[Floats, Floats, Source]:
    """Return scale and shape in step with the lives on record, wider the fewer they are.

    With a shape given, the scale to the power of the shape is Σ t^shape over a gamma variate of as many
    degrees as there are failures (the likelihood of the scale, prior 1/scale).
    """
    failures, times = sum(failed), np.array(hours)
    fitted = _fitted(hours, failed)
    shape = _drawn(rng, SHAPE, draws) if fitted is None else _drawn_shape(fitted, rng, draws)
    total = (times[None, :] ** shape[:, None]).sum(axis=1)
    scale = (total / rng.standard_gamma(failures, draws)) ** (1.0 / shape)
    method = "shape assumed" if fitted is None else f"{fitted.method}, shape within {SHAPE_LIMITS}"
    lives = "life" if failures == 1 else "lives"
    place = f"{failures} {lives} that ended in failure, {len(hours) - failures} that did not"
    return scale, shape, Source("the plant's history of this position", place, Status.GIVEN, method)


def _fitted(hours: Sequence[float], failed: Sequence[bool]) -> WeibullFit | None:
    """Return the fit, or None where the lives are too few or too alike to tell a shape."""
    if sum(failed) < 2:
        return None
    try:
        return fit(hours, failed)
    except InputError:
        return None


def _drawn_shape(fitted: WeibullFit, rng: Generator, draws: int) -> Floats:
    """Return shapes spread evenly, on a logarithmic scale, about the likelihood-ratio bounds (90 %) of the fit.

    The most likely shape itself is far too high where the lives are few.
    """
    low, high = np.log(np.clip(fitted.shape_bounds or SHAPE_LIMITS, *SHAPE_LIMITS))
    middle, spread = (low + high) / 2.0, (high - low) / (2.0 * 1.645)
    return np.asarray(np.clip(np.exp(middle + spread * rng.standard_normal(draws)), *SHAPE_LIMITS))
