"""Dates in cells, by the order that a mapping names; a date with two readings is refused."""

from __future__ import annotations

import re
from datetime import date, timedelta

from halfbore.errors import InputError, Problem
from halfbore.intake.survey.fold import folded

ACCEPTED = "a date, such as 2026-03-02 or 2 March 2026"
EARLIEST = date(1930, 1, 1)
"""No bearing in service is older (common practice, no source): before it, a spreadsheet showed a number as a date."""
_ORIGINS = {"1900": date(1899, 12, 30), "1904": date(1904, 1, 1)}
_ISO = re.compile(r"(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d:\d\d(?::\d\d(?:\.\d+)?)?))?", re.ASCII)
NUMBERS = re.compile(r"(\d{1,4})([./-])\s?(\d{1,2})\2\s?(\d{1,4})", re.ASCII)
_DAY_MONTH = re.compile(
    r"(\d{1,2})(?:\.|st|nd|rd|th|er)?[\s-]+(?:de\s+)?([^\W\d_]+)\.?,?[\s-]+(?:de\s+)?(\d{4})"
)
_MONTH_DAY = re.compile(r"([^\W\d_]+)\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})")
_SERIAL = re.compile(r"\d{4,6}(?:[.,]\d+)?", re.ASCII)
_MONTHS = (
    "january januar janvier enero jan janv ene",
    "february februar fevrier febrero feb fevr fev",
    "march marz mars marzo mar mrz",
    "april avril abril apr avr abr",
    "may mai mayo",
    "june juni juin junio jun",
    "july juli juillet julio jul juil",
    "august aout agosto aug ago",
    "september septembre septiembre sep sept setiembre",
    "october oktober octobre octubre oct okt",
    "november novembre noviembre nov",
    "december dezember decembre diciembre dec dez dic",
)
_MONTH = {folded(name): number for number, names in enumerate(_MONTHS, 1) for name in names.split()}
LIKE_A_DATE = re.compile(
    r"\d{4}-\d\d-\d\d(?:[T ].*)?|\d{1,2}\.\d{1,2}\.\d{4}|\d{1,2}[-. ]{1,2}[^\W\d_]{3,4}\.?|[^\W\d_]{3}\.?[- ]\d{1,2}"
)
"""Texts that a spreadsheet makes of 4-7/16 and its like when it takes it for a day."""


def read_date(text: str, order: str, serials: str) -> tuple[date, str]:
    """Return the date that a cell holds, and the time of day that stood with it, empty for none.

    text: of the cell; order: of day, month and year in numbers, empty where nobody said; serials: origin of day
    numbers, 1900 or 1904, empty where nobody said. Raises InputError.
    """
    if found := _ISO.fullmatch(text):
        time = found[4] or ""
        return _day(text, int(found[1]), int(found[2]), int(found[3])), "" if time[:5] == "00:00" else time
    if found := NUMBERS.fullmatch(text):
        return _numbers(text, (found[1], found[3], found[4]), order), ""
    for pattern, places in ((_DAY_MONTH, (3, 2, 1)), (_MONTH_DAY, (3, 1, 2))):
        if (found := pattern.fullmatch(text)) and folded(found[places[1]]) in _MONTH:
            year, month, day = (found[place] for place in places)
            return _day(text, int(year), _MONTH[folded(month)], int(day)), ""
    if _SERIAL.fullmatch(text):
        return _serial(text, serials), ""
    raise _no("is no date", text, _advice(text))


def is_named_month(text: str) -> bool:
    """Return whether a word of a text names a month, as in what a spreadsheet makes of 4-7."""
    return any(folded(word) in _MONTH for word in re.findall(r"[^\W\d_]+", text))


def _advice(text: str) -> str:
    if re.fullmatch(r"\d{4}(-\d\d?)?|\d\d?/\d{4}|[^\W\d_]+\.? \d{4}", text):
        return "a day is wanted: write one, and say in the note that only month or year are known"
    return ""


def _numbers(text: str, parts: tuple[str, str, str], order: str) -> date:
    """Return the date of three numbers; with a year in front it is year, month, day."""
    if len(parts[0]) == 4:
        order = "ymd"
    elif len(parts[2]) != 4:
        raise _no("the year has not four digits", text, "write it in full")
    elif not order:
        order = only_order(text)
        if not order:
            raise _no(
                "has two readings",
                text,
                'write which comes first under [cells] of the mapping: dates = "dmy" or dates = "mdy"',
            )
    values = dict(zip(order, map(int, parts), strict=True))
    if order == "ymd" and len(parts[0]) != 4:
        raise _no("does not begin with the year as the mapping says", text)
    return _day(text, values["y"], values["m"], values["d"])


def only_order(text: str) -> str:
    """Return the one order that day, month and year can have in a text, empty where there are two."""
    found = NUMBERS.fullmatch(text)
    if found is None or len(found[4]) != 4 or len(found[1]) == 4:
        return ""
    first, second = int(found[1]), int(found[3])
    if first == second or first > 12:
        return "dmy"
    return "mdy" if second > 12 else ""


def _serial(text: str, serials: str) -> date:
    number = float(text.replace(",", "."))
    if not serials:
        raise _no(
            "is a number",
            text,
            'if it is a spreadsheet\'s day number, name its origin under [cells] of the mapping: serials = "1900"',
        )
    day = _ORIGINS[serials] + timedelta(days=int(number))
    if number < 1e4 or day < EARLIEST:
        raise _no("is a number, and no day number of our time", text, _advice(text))
    return _in_time(day, text)


def _day(text: str, year: int, month: int, day: int) -> date:
    try:
        return _in_time(date(year, month, day), text)
    except ValueError:
        raise _no("there is no such day", text) from None


def _in_time(day: date, text: str) -> date:
    if day < EARLIEST:
        step = "if the spreadsheet made a date of a number, format the cell as text and type it again"
        raise _no(f"is before {EARLIEST.year}", text, step)
    return day


def _no(what: str, text: str, step: str = "") -> InputError:
    return InputError(Problem(what, value=text[:64], accepted=ACCEPTED, next_step=step))
