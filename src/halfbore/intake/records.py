"""Read any described record from plain data: one reader for job files, JSON inputs and forms."""

from __future__ import annotations

import dataclasses
import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from enum import StrEnum
from typing import Any, TypeVar, get_args, get_origin

from halfbore.domain.fields import FieldInfo, Note, Quantity, fields_of
from halfbore.domain.job import Assumption, Question
from halfbore.errors import InputError, Problem, UnitError, shown
from halfbore.intake.texts import steering
from halfbore.phrases import Amount, Phrase, phrase
from halfbore.units import INTERNAL, Kind, Span, convert, parse, parse_span

R = TypeVar("R")
MISSING = object()
TEXT_LIMIT = 500
NESTING_LIMIT = 8
LIST_LIMIT = 500
TINY = 1e-30
"""No quantity of a machine is smaller, in any unit used inside."""


@dataclass
class Report:
    """What the reader met on the way; filled while it reads.

    partial: what is left out is no problem, and money may be in any one currency: the rest stands elsewhere.
    """

    problems: list[Problem] = field(default_factory=list)
    typed: dict[str, str] = field(default_factory=dict)
    assumptions: list[Assumption] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    currency: str | None = None
    partial: bool = False


def read_record(record: type[R], data: object, where: str, report: Report) -> R | None:
    """Build a record from a mapping of plain values, noting everything odd in the report.

    Returns the record, or None when something in it cannot be used; the report then says what.
    """
    if not isinstance(data, Mapping):
        report.problems.append(Problem("a table of named values is wanted here", where, shown(data)))
        return None
    if where.count(".") > NESTING_LIMIT:
        report.problems.append(Problem("nested too deeply", where))
        return None
    fields = fields_of(record)
    if isinstance(data.get("currency"), str):
        report.currency = data["currency"]
    _refuse_unknown(fields, data, where, report)
    before = len(report.problems)
    values: dict[str, Any] = {}
    for info in fields:
        path = f"{where}.{info.name}" if where else info.name
        values[info.name] = read_field(info, data.get(info.name, MISSING), path, report)
    if len(report.problems) > before:
        return None
    return record(**values)


def _refuse_unknown(
    fields: tuple[FieldInfo, ...], data: Mapping[str, Any], where: str, report: Report
) -> None:
    known = [f.name for f in fields]
    for key in data:
        if key not in known and not (key == "kind" and "kind" not in known):
            near = difflib.get_close_matches(str(key), known, 1, 0.5)
            hint = f"nearest known key: {near[0]}" if near else ""
            report.problems.append(
                Problem(f"unknown key {key!r}", where or "the file", accepted=hint or ", ".join(known))
            )


def read_field(info: FieldInfo, value: object, path: str, report: Report) -> Any:
    """Return the value of one field, or its default with a problem in the report.

    info: the field; value: plain, MISSING where it is left out; path: where it stands, for messages.
    """
    if value is MISSING:
        return _left_out(info, path, report)
    try:
        return _value(info.type, info.meta, value, path, report)
    except UnitError as error:
        report.problems.extend(_with_words(problem, info.meta) for problem in error.problems)
    except _RefusedError as refused:
        report.problems.append(refused.problem)
    return info.default


def _left_out(info: FieldInfo, path: str, report: Report) -> Any:
    if report.partial:
        return info.default
    if info.required:
        name = INTERNAL[info.meta.kind] if isinstance(info.meta, Quantity) else ""
        unit = f" in {name}" if name else ""
        report.problems.append(
            Problem("is missing", path, accepted=f"{info.meta.help}{unit}", next_step=f"add {info.name}")
        )
        return None
    if info.meta.assumed:
        report.assumptions.append(
            Assumption(path, _assumed(info.default, info.meta, report.currency), info.meta.assumed)
        )
    elif dataclasses.is_dataclass(info.type) and info.type is not Span and not info.optional:
        return read_record(info.type, {}, path, report)  # type: ignore[arg-type]
    return info.default


class _RefusedError(Exception):
    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.what)
        self.problem = problem


def _value(hint: Any, meta: Quantity | Note, value: object, path: str, report: Report) -> Any:
    if isinstance(meta, Quantity):
        return _quantity(hint, meta, value, path, report)
    if get_origin(hint) is tuple:
        return _list(get_args(hint)[0], meta, value, path, report)
    if dataclasses.is_dataclass(hint):
        return read_record(hint, value, path, report)  # type: ignore[arg-type]
    if len(get_args(hint)) > 1:
        return _one_of_kinds(get_args(hint), value, path, report)
    return _plain(hint, meta, value, path, report)


def _list(hint: Any, meta: Note, value: object, path: str, report: Report) -> tuple[Any, ...]:
    if not isinstance(value, list):
        value = [value]
    if len(value) > LIST_LIMIT:
        raise _RefusedError(Problem("too many entries", path, str(len(value)), f"up to {LIST_LIMIT}"))
    return tuple(_value(hint, meta, v, f"{path}[{i}]", report) for i, v in enumerate(value))


def _one_of_kinds(options: tuple[type, ...], value: object, path: str, report: Report) -> Any:
    kinds = {option.KIND: option for option in options}  # type: ignore[attr-defined]
    kind = value.get("kind") if isinstance(value, Mapping) else None
    if not isinstance(kind, str) or kind not in kinds:
        raise _RefusedError(
            Problem(
                "kind is missing" if kind is None else "unknown kind", path, shown(kind), ", ".join(kinds)
            )
        )
    return read_record(kinds[kind], value, path, report)


def _plain(hint: Any, meta: Note, value: object, path: str, report: Report) -> Any:
    if hint is bool:
        if not isinstance(value, bool):
            raise _RefusedError(Problem("yes or no is wanted", path, shown(value), "true, false"))
        return value
    if hint is date:
        return _date(value, path)
    if not isinstance(value, str):
        raise _RefusedError(Problem("a text is wanted", path, shown(value), meta.help))
    if len(value) > TEXT_LIMIT:
        raise _RefusedError(Problem("text is too long", path, shown(value), f"up to {TEXT_LIMIT} characters"))
    if odd := steering(value):
        raise _RefusedError(
            Problem("the text holds a control character", path, shown(value), f"a text without {odd!r}")
        )
    report.typed[path] = value
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        return _choice(hint, value, path)
    return value


def _choice(hint: type[StrEnum], value: str, path: str) -> StrEnum:
    folded = " ".join(value.casefold().split())
    for option in hint:
        if folded == option.value.casefold():
            return option
    options = [o.value for o in hint]
    near = difflib.get_close_matches(folded, options, 1, 0.6)
    raise _RefusedError(
        Problem(
            "is not one of the choices",
            path,
            shown(value),
            ", ".join(options),
            f"did you mean {near[0]!r}?" if near else "",
        )
    )


def _date(value: object, path: str) -> date:
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    try:
        return date.fromisoformat(value if isinstance(value, str) else "")
    except ValueError:
        raise _RefusedError(Problem("is no date", path, shown(value), "2026-03-02")) from None


def _quantity(hint: Any, meta: Quantity, value: object, path: str, report: Report) -> Any:
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise _RefusedError(Problem("a quantity is wanted", path, shown(value), _accepted(meta)))
    report.typed[path] = shown(value)
    text = _without_prefix(value, meta)
    if _is_direction(meta) and isinstance(text, str):
        text = DIRECTIONS.get(text.strip().casefold(), text)
    if hint is Span:
        span = parse_span(text, meta.kind, path, currency=_currency(meta, text, report))
        for end in dict.fromkeys((span.low, span.high)):
            _within(meta, end, path, report)
        return span
    number = parse(text, meta.kind, path, currency=_currency(meta, text, report))
    _within(meta, number, path, report)
    if hint is int:
        return _whole(number, path)
    return number


def _is_direction(meta: Quantity) -> bool:
    return meta.kind is Kind.ANGLE and "direction" in meta.help


def _with_words(problem: Problem, meta: Quantity | Note) -> Problem:
    """Return what is wrong with a direction with the words that are accepted for it."""
    if not (isinstance(meta, Quantity) and _is_direction(meta)):
        return problem
    return replace(problem, accepted=f"{', '.join(DIRECTIONS)}, or an {problem.accepted}")


def _currency(meta: Quantity, text: str | float, report: Report) -> str | None:
    if meta.kind not in MONEY:
        return None
    if report.partial and report.currency is None and isinstance(text, str):
        named = _CODE.search(text)
        return (named[0] if named[0] != "€" else "EUR") if named else None
    return report.currency


_CODE = re.compile(r"€|(?<![A-Za-z])[A-Z]{3}(?![A-Za-z])")


MONEY = (Kind.MONEY, Kind.MONEY_RATE)

DIRECTIONS = {"up": "0 deg", "right": "90 deg", "down": "180 deg", "left": "270 deg"}
"""Directions seen from the drive end, as words."""


def _without_prefix(value: str | float, meta: Quantity) -> str | float:
    if meta.prefix and isinstance(value, str):
        return value.strip().removeprefix(meta.prefix).strip()
    return value


def _whole(number: float, path: str) -> int:
    if number != int(number):
        raise _RefusedError(Problem("a whole number is wanted", path, str(number)))
    return int(number)


def _within(meta: Quantity, value: float, path: str, report: Report) -> None:
    if 0 < abs(value) < TINY:
        raise _RefusedError(Problem("the number is too small to be meant", path, f"{value:g}", "0, or more"))
    typed = report.typed[path]
    if meta.limits and not meta.limits[0] <= value <= meta.limits[1]:
        unit = _told_in(meta, typed)
        raise _RefusedError(
            Problem(
                f"{meta.help} is out of bounds",
                path,
                _as_typed(meta, value, typed, unit),
                _bounds(meta, meta.limits, unit),
            )
        )
    if meta.plausible and not meta.plausible[0] <= value <= meta.plausible[1]:
        report.questions.append(Question(path, _unusual(meta, meta.plausible, value, _told_in(meta, typed))))


def _unusual(meta: Quantity, common: tuple[float, float], value: float, unit: str) -> str:
    """Return what is asked about a value, in the unit that was typed or in that of another system."""
    if meta.kind in _UNITLESS:
        return f"{_in(meta, value, unit)} is unusual; {_bounds(meta, common, unit)} is common"
    given, ends = Amount(value, meta.kind, unit, digits=6), Amount(common, meta.kind, unit, digits=4)
    return phrase("{} is unusual; {} is common", given, ends)


YEAR = 8760.0
"""Hours; a duration that is a year at least is told in years."""
_UNIT = re.compile(r"[^\d\s.,/+-][^\d\s]*$")


def _told_in(meta: Quantity, typed: str) -> str:
    """Return the unit in which bounds are told: the one that was typed, years for what takes years."""
    inside = INTERNAL[meta.kind]
    if meta.kind in MONEY or (inside == "" and "%" not in typed):
        return inside
    if meta.kind is Kind.DURATION and meta.limits and meta.limits[0] >= YEAR:
        return "years"
    written = _UNIT.search(typed.strip())
    try:
        convert(1.0, meta.kind, written[0] if written else inside)
    except UnitError:
        return inside
    return written[0] if written else inside


def _in(meta: Quantity, value: float, unit: str) -> str:
    told = value if unit == INTERNAL[meta.kind] else convert(value, meta.kind, unit)
    text = f"{told:.6g} {unit}".strip()
    return f"\u2212{text[1:]}" if told < 0 else text


def _bounds(meta: Quantity, ends: tuple[float, float], unit: str) -> str:
    low, high = (_in(meta, end, unit) for end in ends)
    return f"{low.removesuffix(unit).strip()} to {high}"


def _as_typed(meta: Quantity, value: float, typed: str, unit: str) -> str:
    """Return what was typed, and beside it what it is in the units inside and in the unit of the bounds."""
    others = dict.fromkeys(_in(meta, value, u) for u in (INTERNAL[meta.kind], unit))
    beside = [text for text in others if text != typed.replace("-", "\u2212")]
    return f"{typed} ({', '.join(beside)})" if beside else typed


def _accepted(meta: Quantity) -> str:
    return f"{meta.help}, such as '100 {INTERNAL[meta.kind]}'".replace(" '", " '").strip()


def _assumed(value: object, meta: Quantity | Note, currency: str | None) -> str:
    """Return what is assumed as a text that can be written in other units."""
    if isinstance(meta, Quantity) and isinstance(value, float | Span) and meta.kind not in _UNITLESS:
        ends = _ends(value) if isinstance(value, Span) else value
        return Phrase(Amount(ends, meta.kind, INTERNAL[meta.kind], digits=5))
    return plain(value, meta, currency)


def plain(value: object, meta: Quantity | Note, currency: str | None = None) -> str:
    """Write a value of a record as the text that a job file would hold.

    value: a value of a described field; meta: its description; currency: code for amounts of money.
    Returns text with the internal unit, ranges as "low to likely to high".
    """
    if isinstance(meta, Quantity) and isinstance(value, (int, float, Span)):
        unit = INTERNAL[meta.kind]
        if meta.kind in _BARE:
            unit = ""
        if meta.kind in MONEY:
            unit = f"{currency or ''}{unit.strip()}"
        span = value if isinstance(value, Span) else Span(float(value), float(value), float(value))
        numbers = [f"{span.low:.10g}"] if span.low == span.high else [f"{v:.10g}" for v in _ends(span)]
        return f"{' to '.join(numbers)} {unit}".strip()
    if value is None:
        return "not given"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, tuple):
        return ", ".join(plain(v, meta, currency) for v in value) or "none"
    return str(value)


_BARE = (Kind.FRACTION, Kind.NUMBER, Kind.COUNT)
_UNITLESS = (*_BARE, *MONEY)


def _ends(span: Span) -> tuple[float, ...]:
    if abs(span.likely - 0.5 * (span.low + span.high)) < 1e-9 * max(1.0, abs(span.high)):
        return (span.low, span.high)
    return (span.low, span.likely, span.high)


def finish(report: Report) -> None:
    """Raise one error with all problems that the report holds.

    Raises InputError when there is any.
    """
    if report.problems:
        raise InputError(report.problems)
