"""The answer in a sentence, and the sentence that says when it is no."""

from __future__ import annotations

import math

from halfbore.domain.value import Estimate
from halfbore.numbers import number, runs
from halfbore.value.breakeven import Turning


def two_digits(value: float) -> str:
    """Return a number rounded to two digits and no finer than a tenth."""
    return number(value, places=1) if abs(value) < 9.95 else number(value, 2)


def answer(position: str, pays: bool, chance: float, next_hours: Estimate, payback: float = math.nan) -> str:
    """Return the answer for a manager to repeat; a payback of 0 years is at once."""
    if pays:
        at_once = ", mostly at once" if payback == 0.0 else ""
        return f"Converting {position} {_next_change(next_hours)} and pays in {runs(chance)}{at_once}."
    return f"Do not convert {position} for money: it {_next_change(next_hours)} and pays in {runs(chance)}."


def when_no(pays: bool, chance: float, turning: Turning, covered: float, currency: str) -> str:
    """Return when the answer is no, or what would make it yes; both go by half of the runs.

    chance: that it pays; covered: hours of a stop that cost nothing [h].
    """
    if pays:
        return _would_be_no(chance, turning, currency)
    if turning.rate > 0.0:
        money = f"{two_digits(turning.rate)} {currency}"
        return f"Half of the runs would pay from {money} for an hour of lost production."
    if turning.at_nothing:
        return "Half of the runs would pay if an hour of lost production cost nothing."
    if turning.from_first_hour > 0.0 and covered > 0.0:
        return (
            f"No cost of lost production brings half of the runs to pay while the first {number(covered, 6)} h of a stop "
            f"cost nothing; if each hour cost from the first on, half of them would pay from "
            f"{two_digits(turning.from_first_hour)} {currency} an hour."
        )
    return "No cost of lost production brings half of the runs to pay."


def _would_be_no(chance: float, turning: Turning, currency: str) -> str:
    parts = []
    if turning.rate > 0.0:
        parts.append(f"an hour of lost production cost less than {two_digits(turning.rate)} {currency}")
    if not math.isnan(turning.share):
        parts.append(f"more than {number(100.0 * turning.share)} % of changes fell into stops taken anyway")
    if parts:
        return f"The answer would be no if {', or if '.join(parts)}."
    once = "" if turning.without_once else ", for what falls due once in a long stop carries it"
    return (
        f"Half of the runs pay even if an hour of lost production cost nothing{once}, or if every change fell into "
        f"a stop taken anyway; as things stand it loses in {runs(1.0 - chance)}."
    )


def _next_change(hours: Estimate) -> str:
    if hours.p10 == hours.p90 == 0.0:
        return "saves no outage at the next change"
    if hours.p10 >= 0.0:
        return f"saves {_range(hours.p10, hours.p90)} h at the next change"
    if hours.p90 <= 0.0:
        return f"takes {_range(-hours.p90, -hours.p10)} h more at the next change"
    more, less = two_digits(-hours.p10), two_digits(hours.p90)
    if less == "0":
        return f"takes up to {more} h more at the next change"
    if more == "0":
        return f"saves up to {less} h at the next change"
    return f"takes between {more} h more and {less} h less at the next change"


def _range(low: float, high: float) -> str:
    return " to ".join(dict.fromkeys((two_digits(low), two_digits(high))))
