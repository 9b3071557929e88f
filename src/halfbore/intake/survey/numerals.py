"""Numbers in cells, by the decimal sign that a mapping names: rewritten only where they would be read otherwise."""

from __future__ import annotations

import re

from halfbore.errors import InputError, Problem

_RANGE = re.compile(r"(?<=\S)\s+(?:bis|à|a|hasta)\s+(?=[-−+]?\d)", re.IGNORECASE)
"""The word between the ends of a range in German, French and Spanish."""
_NUMBER = re.compile(r"\d[\d.,']*\d", re.ASCII)
_MARKS = re.compile(r"[.,']")
_BOTH_SIGNS = re.compile(r"\d{1,3}(?:([.,])\d{3})+(?!\1)[.,]\d+", re.ASCII)
_TWO_READINGS = re.compile(r"[1-9]\d{0,2}[.,]\d{3}", re.ASCII)


def standalone(text: str, decimal: str, thousands: str, money: bool = False) -> str:
    """Return a text whose numbers have one reading by themselves, with `to` between the ends of a range.

    text: of a quantity; decimal, thousands: signs, thousands may be empty; money: it is an amount.
    Returns the text as it is where its numbers are read so anyway. Raises InputError where a number has two readings.
    """
    text = _RANGE.sub(" to ", text)
    return _NUMBER.sub(lambda found: _number(found[0], decimal, thousands, money), text)


def _number(number: str, decimal: str, thousands: str, money: bool) -> str:
    marks = _MARKS.findall(number)
    if not marks:
        return number
    if thousands in marks:
        if re.fullmatch(rf"\d{{1,3}}(?:\{thousands}\d{{3}})+(?:\{decimal}\d+)?", number):
            return number.replace(thousands, "").replace(decimal, ".")
        if thousands == "'":
            return number  # a foot
        raise _refused(number, f"the {thousands!r} does not part thousands", decimal)
    if _BOTH_SIGNS.fullmatch(number) and marks[-1] != decimal:
        shown, told = (_point(number, sign) for sign in (marks[-1], decimal))
        raise _refused(number, f"it has two readings, {shown} and {told}", decimal)
    if len(marks) > 1 or not _TWO_READINGS.fullmatch(number):
        return number  # one reading, whatever the signs
    if marks[0] != decimal:
        raise _refused(number, f"the {marks[0]!r} has two readings", decimal)
    point = number.replace(decimal, ".")
    return f"{point}0" if money else point


def _point(number: str, decimal: str) -> str:
    """Return a number as it reads with a decimal sign, the other sign parting thousands."""
    return number.replace("," if decimal == "." else ".", "").replace(decimal, ".")


def _refused(number: str, what: str, decimal: str) -> InputError:
    step = 'write it without marks of thousands, or name them under [cells] of the mapping: thousands = "."'
    return InputError(Problem(what, value=number, accepted=f"the decimal sign {decimal!r}", next_step=step))
