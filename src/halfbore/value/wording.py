"""The answer in a sentence, and the sentence that says when it is no."""

from __future__ import annotations

import math

from halfbore.domain.value import Estimate

THIN, MINUS = "\u202f", "\u2212"


def two_digits(value: float) -> str:
    """Return a number rounded to two digits or tenths, thousands parted by a narrow space, with a true minus."""
    places = min(1 - math.floor(math.log10(abs(value) or 1.0)), 1)
    rounded = round(value, places)
    if rounded == 0.0:
        return "0"
    text = f"{abs(rounded):,.{max(places, 0)}f}".replace(",", THIN)
    return f"{MINUS}{text}" if rounded < 0.0 else text


def runs(chance: float) -> str:
    """Return a chance as runs of 10."""
    tenths = round(chance * 10.0)
    if tenths == 0:
        return "hardly any run"
    return "nearly every run" if tenths == 10 else f"{tenths} {'run' if tenths == 1 else 'runs'} of 10"


def answer(position: str, pays: bool, chance: float, next_hours: Estimate) -> str:
    """Return the answer for a manager to repeat."""
    if pays:
        return f"Converting {position} {_next_change(next_hours)} and pays in {runs(chance)}."
    return f"Do not convert {position} for money: it {_next_change(next_hours)} and pays in {runs(chance)}."


def when_no(
    pays: bool, rate: float, from_first_hour: float, share: float, covered: float, currency: str
) -> str:
    """Return when the answer is no, or what would make it yes.

    rate, from_first_hour: break-even cost of lost production [money/h], NaN where there is none;
    share: of changes in stops taken anyway at which it turns, NaN where it does not;
    covered: hours of a stop that cost nothing [h].
    """
    if pays:
        return _would_be_no(rate, share, currency)
    if rate > 0.0:
        return f"It would pay from {two_digits(rate)} {currency} for an hour of lost production."
    if from_first_hour > 0.0 and covered > 0.0:
        return (
            f"No cost of lost production makes it pay while the first {covered:g} h of a stop cost "
            f"nothing; if each hour cost from the first on, it would pay from "
            f"{two_digits(from_first_hour)} {currency} an hour."
        )
    return "No cost of lost production makes it pay."


def _would_be_no(rate: float, share: float, currency: str) -> str:
    parts = []
    if rate > 0.0:
        parts.append(f"an hour of lost production cost less than {two_digits(rate)} {currency}")
    if not math.isnan(share):
        parts.append(f"more than {share:.0%} of changes fell into stops taken anyway".replace("%", " %"))
    if not parts:
        return "It pays even if an hour of lost production cost nothing, however many changes fell into planned stops."
    return f"The answer would be no if {', or if '.join(parts)}."


def _next_change(hours: Estimate) -> str:
    if hours.p10 >= 0.0:
        return f"saves {_range(hours.p10, hours.p90)} h at the next change"
    if hours.p90 <= 0.0:
        return f"takes {_range(-hours.p90, -hours.p10)} h more at the next change"
    more, less = two_digits(-hours.p10), two_digits(hours.p90)
    return f"takes between {more} h more and {less} h less at the next change"


def _range(low: float, high: float) -> str:
    return f"{two_digits(low)} to {two_digits(high)}"
