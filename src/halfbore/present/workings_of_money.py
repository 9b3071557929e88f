"""The working of what a conversion is worth: one draw of the money, and all that each draw took."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from halfbore.domain.economics import Economics
from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.job import JobReading
from halfbore.domain.plan import ChangeoverPair
from halfbore.domain.value import Estimate, LifeBasis, Value
from halfbore.domain.worked import Taken
from halfbore.numbers import Style, percent, write
from halfbore.present.plans import before_after, breakeven_words, hours_saved, payback_words
from halfbore.present.value_charts import swing_words
from halfbore.present.wording import life
from halfbore.present.workings import LAW, PERT, TOLD, Row, Worked, row_of
from halfbore.sources import derived, practice
from halfbore.units import Kind, Span

WEIBULL = "Weibull"
ONE_DRAW = (
    ("S = C(one-piece) − C(split)", "saved in one draw"),
    (
        "C = c(now) + Σ c(t)·(1 + r)^−t + packing",
        "over all later changes at t years; r: discount rate; of a shared stop this position's part counts",
    ),
    (
        "c = L(H) − L(h) + m·w·f + k + p + e",
        "lost production L of the outage H less that of the hidden hours h; m crew-hours at w, f overtime and e extra in "
        "an unplanned stop; k crane; p parts",
    ),
    ("h = min(hidden share·H, length of the stop)", "in a stop that is taken anyway, else 0"),
    (
        "t = η·(−ln U)^(1/β)",
        "a field life, U even from 0 to 1; the earliest of all causes and the cap counts",
    ),
    LAW,
)
"""One draw of the money."""


def value_workings(
    value: Value, reading: JobReading, pair: ChangeoverPair | None, prices: Iterable[Taken], style: Style
) -> dict[str, Worked]:
    """Return the working of every number of a value, by its name in an address.

    reading: the job; pair: the plans whose hours were counted; prices: what else was taken.
    """
    rows = (
        *_money(reading, style),
        *(row_of(taken, style) for taken in prices),
        *_lives(value, style),
        *_hours(pair, style),
    )
    luck = f"{write(value.draws, Kind.COUNT, style)} draws, seed {value.seed}"
    came = _outcomes(value, style)
    return {
        name: Worked(title, result, (*extra, *ONE_DRAW), rows, luck, came.get(name, ()))
        for name, (title, result, extra) in _of_the_money(value, style).items()
    }


def _of_the_money(value: Value, style: Style) -> dict[str, tuple[str, str, tuple[tuple[str, str], ...]]]:
    def money(amount: float) -> str:
        return write(amount, Kind.MONEY, style, currency=value.currency)

    saving, horizon = value.saving, write(value.horizon, Kind.DURATION, style, unit="years")
    spread = f"P10 {money(saving.p10)}, P50 {money(saving.p50)}, P90 {money(saving.p90)}, mean {money(saving.mean)}"
    hours = "; ".join(f"{when} {hours_saved(found, style)}" for when, found in _when(value, style))
    exposed = before_after(*value.exposed_hours, style, persons=True)
    renewed = " and ".join(write((r.p10, r.p90), Kind.COUNT, style) for r in value.replacements)
    all_costs = sum(c.one_piece for c in value.costs), sum(c.split for c in value.costs)
    return {
        "saving": (
            "Saving",
            spread,
            (("P10, P50, P90, mean of S", f"over all draws; present value of {horizon}"),),
        ),
        "chance": (
            "Chance that it pays",
            percent(value.chance, style),
            (("n(S > 0)/n", "draws that save something, as a part of all draws"),),
        ),
        "payback": (
            "Payback",
            payback_words(value, style),
            (
                (
                    "P50 of the first t from which on Σ S(up to t) ≥ 0",
                    "years; 0: the next change itself is cheaper",
                ),
            ),
        ),
        "break-even": (
            "Break-even",
            breakeven_words(value, style),
            (
                (
                    "P50 of S(rate) = 0",
                    "cost of lost production at which half of the draws pay, all else as drawn",
                ),
            ),
        ),
        "hours-saved": (
            "Hours of outage saved",
            hours,
            (("H(one-piece) − H(split)", "draw by draw; over the horizon the sum over all changes"),),
        ),
        "exposed-hours": (
            "Person-hours exposed",
            exposed,
            (
                (
                    "P50 of Σ persons·hours",
                    "of all tasks that expose to a hazard, over all changes; one-piece → split",
                ),
            ),
        ),
        "replacements": (
            "Replacements",
            f"{renewed}, one-piece and split, P10 to P90",
            (
                (
                    "n(t < horizon)",
                    "field lives one after the other until the horizon, beside the next change",
                ),
            ),
        ),
        "costs": (
            "Costs by kind",
            f"one-piece {money(all_costs[0])}, split {money(all_costs[1])}",
            (("mean of each kind of cost", "over all draws, so that the lines add up"),),
        ),
        "swings": (
            "What moves it",
            f"{len(value.swings)} inputs, widest first",
            (("mean of S with one input held", "at its P10, then at its P90; all else as drawn"),),
        ),
        "histogram": (
            "Part of the draws",
            f"{len(value.counts)} classes of equal width",
            (("n(low ≤ S < high)/n", "what lies beyond 0.5 % and 99.5 % stands in the end classes"),),
        ),
        "lives": (
            "Field lives",
            f"{len(value.lives)} causes",
            (
                (
                    "η: 63 % have failed by then",
                    "running hours, P10 to P90 of what was drawn for it; β: shape",
                ),
            ),
        ),
    }


def largest_cost(value: Value) -> float:
    """Return the largest cost of a kind, beside which all of them are written."""
    return max(max(abs(c.one_piece), abs(c.split)) for c in value.costs)


def _outcomes(value: Value, style: Style) -> dict[str, tuple[tuple[str, str], ...]]:
    """Return what the pages print of a value, by the name of the number."""

    def money(amount: float, beside: float | None = None) -> str:
        return write(amount, Kind.MONEY, style, currency=value.currency, beside=beside)

    saving, largest = value.saving, largest_cost(value)
    spread = write((saving.p10, saving.p90), Kind.MONEY, style, currency=value.currency)
    both = sum(c.one_piece for c in value.costs), sum(c.split for c in value.costs)
    costs = (
        *((c.name, c.one_piece, c.split, c.one_piece - c.split) for c in value.costs),
        ("all", *both, saving.mean),
    )
    kinds = ("one-piece bearing", "split unit")
    classes = zip(value.edges[:-1], value.edges[1:], value.counts, strict=True)
    return {
        "saving": (
            ("mean", money(saving.mean)),
            ("P10 to P90", spread),
            ("P50", money(saving.p50, saving.p90)),
        ),
        "break-even": _turns(value, style),
        "hours-saved": tuple(
            (
                when,
                f"P10 to P90 {write((h.p10, h.p90), Kind.DURATION, style)}, P50 {write(h.p50, Kind.DURATION, style)}",
            )
            for when, h in _when(value, style)
        ),
        "replacements": tuple(
            (kind, f"{write((r.p10, r.p90), Kind.COUNT, style)}, mean {write(r.mean, Kind.NUMBER, style)}")
            for kind, r in zip(kinds, value.replacements, strict=True)
        ),
        "costs": tuple(
            (
                name,
                f"one-piece {money(old, largest)}, split {money(new, largest)}, saved {money(saved, largest)}",
            )
            for name, old, new, saved in costs
        ),
        "swings": tuple(
            (
                s.name,
                f"{swing_words(s, style)}: {money(s.at_low, saving.p90)} at P10, {money(s.at_high, saving.p90)} at P90",
            )
            for s in value.swings
        ),
        "histogram": tuple(
            (
                f"{money(low, saving.p90)} to {money(high, saving.p90)}",
                write(n / value.draws, Kind.FRACTION, style),
            )
            for low, high, n in classes
        ),
        "lives": tuple((f"{b.way}: {b.cause}", _lived(b, style)) for b in value.lives),
    }


def _when(value: Value, style: Style) -> tuple[tuple[str, Estimate], ...]:
    return (
        ("at the next change", value.hours_saved_next),
        ("at each later planned one", value.hours_saved_later),
        (f"over {write(value.horizon, Kind.DURATION, style, unit='years')}", value.hours_saved),
    )


def _turns(value: Value, style: Style) -> tuple[tuple[str, str], ...]:
    rate, share = value.breakeven_from_first_hour, value.breakeven_planned_share
    found = [("cost of lost production at which half of the draws pay", breakeven_words(value, style))]
    if not math.isnan(rate):
        words = write(rate, Kind.MONEY_RATE, style, currency=value.currency) if rate > 0 else "pays at any"
        found.append(("the same, if nothing covered the first hours of a stop", words))
    if not math.isnan(share):
        found.append(
            (
                "share of changes in stops taken anyway above which it does not",
                write(share, Kind.FRACTION, style),
            )
        )
    return tuple(found)


def _lived(basis: LifeBasis, style: Style) -> str:
    eta = life(Span(basis.eta.p10, basis.eta.p50, basis.eta.p90), style)
    shape = "" if math.isnan(basis.beta) else f", shape {write(basis.beta, Kind.NUMBER, style)}"
    return f"63 % gone by {eta}{shape}"


def _money(reading: JobReading, style: Style) -> Iterator[Row]:
    """Yield what the money side of a job says, field by field, and of what was not said why it stands."""
    money = reading.job.value
    assert money is not None
    assumed = {a.path: a.why for a in reading.assumptions}
    for info in fields_of(Economics):
        value = getattr(money, info.name)
        if isinstance(info.meta, Quantity) and value is not None and info.name not in ("draws", "seed"):
            why = assumed.get(f"value.{info.name}")
            source = TOLD if why is None else practice("assumed", why)
            taken = Taken(info.meta.help, value, info.meta.kind, source, PERT, money.currency)
            yield row_of(taken, style)
    for step in money.stopped_production:
        after = write(step.after, Kind.DURATION, style)
        name = f"lost production from {after} of an outage on"
        yield row_of(Taken(name, step.rate, Kind.MONEY_RATE, TOLD, PERT, money.currency), style)
        if step.once.high:
            yield row_of(
                Taken(
                    f"once, when {after} of an outage are reached",
                    step.once,
                    Kind.MONEY,
                    TOLD,
                    PERT,
                    money.currency,
                ),
                style,
            )


def _lives(value: Value, style: Style) -> Iterator[Row]:
    for basis in value.lives:
        eta = life(Span(basis.eta.p10, basis.eta.p50, basis.eta.p90), style)
        shaped = basis.beta == basis.beta
        law = f"{WEIBULL}, β {write(basis.beta, Kind.NUMBER, style)}" if shaped else PERT
        yield Row(f"field life, {basis.way}: {basis.cause}", eta, law, basis.source)


def _hours(pair: ChangeoverPair | None, style: Style) -> Iterator[Row]:
    """Yield the hours of the plans that were counted, by what each is for."""
    if pair is None:
        return
    source = derived("the plan's tasks, drawn one by one")
    for plan in (pair.one_piece, pair.split_first, pair.split_repeat, pair.one_piece_seized):
        for what, clock in (("outage H", plan.outage), ("crew-hours m", plan.crew_hours)):
            hours = write((clock.p10, clock.p90), Kind.DURATION, style)
            seized = ", seized" if plan.seized else ""
            yield Row(
                f"{what}, {plan.way.value}{seized}",
                f"P10 to P90 {hours}",
                "drawn by the plan",
                source,
            )
