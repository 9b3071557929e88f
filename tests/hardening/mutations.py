"""Job files and tables spoiled at random, but the same for the same seed: what people and programs get wrong."""

from __future__ import annotations

import copy
import dataclasses
import random
import re
from collections.abc import Callable, Iterator
from datetime import date, datetime
from enum import StrEnum
from typing import Any, get_args, get_origin

from halfbore.domain.fields import FieldInfo, Quantity, fields_of
from halfbore.domain.job import Job
from halfbore.intake.records import plain

Data = dict[str, Any]
Place = tuple[Any, str | int]
"""A mapping or list, and the key or index of one thing in it."""

NASTY = (
    "1e999",
    "1e999 mm",
    "-1e308 kN",
    "1e-320 mm",
    "4 1/0 in",
    "4 15/16",
    "4 15/16 in",
    "1.200,5 mm",
    "1.250 EUR",
    "1,200 mm",
    "\u22125 mm",
    "4\u2032 3\u2033",
    "\u201c12\u201d",
    "125\u00a0mm",
    "\uff11\uff12\uff15 mm",
    "1O0 mm",
    '12"',
    "12'",
    "0 °F",
    "0",
    "-",
    "n/a",
    "",
    " ",
    "approx 100 mm",
    "100 ± 5 mm",
    "120 mm to 100 mm",
    "1 to 2 to 3 to 4 mm",
    "nan",
    "inf mm",
    "-5 °C to 10 °C",
    "x" * 10_000,
    "9" * 400 + " mm",
    "12 parsec",
    "150 kg to 200 N",
    "mm",
    "\x00",
    "a\x07b\x1b[2J",
    "\u202e100 mm",
    "=1+1",
    "{{ 7*7 }}",
    "'; DROP TABLE units; --",
    "../../etc/passwd",
    "<script>",
    "100 %",
    "101 %",
    "360 deg",
    "1900-01-00",
    "30 February",
    "\U0001f525",
)
"""Texts that people really type, or that something else typed for them."""

WRONG: tuple[Any, ...] = (
    True,
    False,
    0,
    -1,
    3,
    1.5,
    float("nan"),
    float("inf"),
    -float("inf"),
    10**400,
    2**63,
    -0.0,
    [],
    {},
    [[]],
    [{}],
    [1, "a"],
    {"a": {"b": {"c": 1}}},
    date(1900, 1, 1),
    datetime(2026, 3, 2, 12, 0),
    None,
)
"""Values of another type than the one that is wanted."""

FACTORS = (1e-6, 1e-3, 0.01, 0.1, 0.5, 0.9, 1.1, 2.0, 10.0, 100.0, 1e3, 1e6)
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def places(data: Any) -> Iterator[Place]:
    """Yield every key and every list entry of nested data."""
    for key in list(data if isinstance(data, dict) else range(len(data))):
        yield data, key
        if isinstance(data[key], (dict, list)):
            yield from places(data[key])


def _pick(draw: random.Random, data: Data, want: Callable[[Any], bool] = lambda _: True) -> Place:
    return draw.choice([(at, key) for at, key in places(data) if want(at[key])])


def _nasty(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data, lambda v: not isinstance(v, (dict, list)))
    at[key] = draw.choice(NASTY)


def _wrong_type(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data)
    at[key] = copy.deepcopy(draw.choice(WRONG))


def _misspelt(draw: random.Random, data: Data) -> None:
    at, key = draw.choice([(at, key) for at, key in places(data) if isinstance(key, str)])
    spot = draw.randrange(len(key))
    at[key[:spot] + draw.choice("xyz_") + key[spot + draw.randrange(2) :]] = at.pop(key)


def _removed(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data)
    del at[key]


def _scaled(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data, lambda v: isinstance(v, str) and bool(_NUMBER.search(v)))
    factor = draw.choice(FACTORS)
    at[key] = _NUMBER.sub(lambda found: f"{float(found[0]) * factor:.10g}", at[key])


def _one_end_scaled(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data, lambda v: isinstance(v, str) and " to " in v)
    first, _, rest = at[key].partition(" to ")
    factor = draw.choice(FACTORS)
    at[key] = f"{_NUMBER.sub(lambda found: f'{float(found[0]) * factor:.10g}', first)} to {rest}"


def _exchanged(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data, lambda v: isinstance(v, str) and " to " in v)
    at[key] = " to ".join(reversed(at[key].split(" to ")))


def _emptied(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data, lambda v: isinstance(v, (dict, list)))
    at[key] = type(at[key])()


def _doubled(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data, lambda v: isinstance(v, list) and bool(v))
    at[key].append(copy.deepcopy(draw.choice(at[key])))


def _reordered(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data, lambda v: isinstance(v, list) and len(v) > 1)
    at[key].reverse()


def _shares(draw: random.Random, data: Data) -> None:
    for condition in data["duty"]:
        condition["share"] = draw.choice([0, 0.0, 0.5, 1, 1.0, "100 %", -0.1, 1e-9])


def _moved(draw: random.Random, data: Data) -> None:
    thing = draw.choice(data["positions"] + data["loads"])
    others = [other["x"] for other in data["positions"] + data["loads"]]
    thing["x"] = draw.choice(
        [*others, "0 mm", "300 mm", "1 m", "2500.0000001 mm", "4 m", "-1 mm", "550.001 mm"]
    )


def _roles(draw: random.Random, data: Data) -> None:
    role = draw.choice(["locating", "non-locating"])
    for position in data["positions"]:
        position["role"] = role


def _nested(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data)
    deep: Any = "1 mm"
    for _ in range(draw.choice([3, 20, 100])):
        deep = {draw.choice(["a", "shaft", str(key)]): deep} if draw.random() < 0.7 else [deep]
    at[key] = deep


def _many(draw: random.Random, data: Data) -> None:
    name = draw.choice(["loads", "duty", "positions"])
    data[name] = [copy.deepcopy(data[name][0]) | {"name": f"n{i}"} for i in range(draw.choice([40, 501]))]


def records(kind: Any, data: Any) -> Iterator[tuple[type, Data]]:
    """Yield every table of a job's data together with the record that it is read into."""
    if get_origin(kind) is tuple:
        for entry in data if isinstance(data, list) else []:
            yield from records(get_args(kind)[0], entry)
    elif isinstance(data, dict):
        named = [k for k in get_args(kind) if getattr(k, "KIND", None) == data.get("kind")]
        kind = named[0] if named else kind
        if dataclasses.is_dataclass(kind):
            yield kind, data  # type: ignore[misc]
            for info in fields_of(kind):  # type: ignore[arg-type]
                yield from records(info.type, data.get(info.name))


def _added(draw: random.Random, data: Data) -> None:
    """Fill in what the file left out, at an end of what the field may be."""
    kind, table = draw.choice(list(records(Job, data)))
    info = draw.choice([info for info in fields_of(kind) if info.name not in table])
    table[info.name] = _extreme(draw, info)


def _extreme(draw: random.Random, info: FieldInfo) -> Any:
    if isinstance(info.meta, Quantity):
        ends = info.meta.limits or info.meta.plausible or (0.0, 1.0)
        return plain(draw.choice(ends), info.meta, "EUR")
    if isinstance(info.type, type) and issubclass(info.type, StrEnum):
        return draw.choice(list(info.type)).value
    given: dict[Any, Any] = {bool: draw.random() < 0.5, date: _day(draw), str: draw.choice(NASTY)}
    return given.get(info.type, [])


def _day(draw: random.Random) -> date:
    return draw.choice(
        [date(1, 1, 1), date(1900, 1, 1), date(2026, 3, 2), date(2031, 1, 1), date(9999, 12, 31)]
    )


def _dated(draw: random.Random, data: Data) -> None:
    at, key = _pick(draw, data, lambda v: isinstance(v, date))
    at[key] = _day(draw)


SPOIL: tuple[Callable[[random.Random, Data], None], ...] = (
    _nasty,
    _nasty,
    _nasty,
    _wrong_type,
    _wrong_type,
    _misspelt,
    _removed,
    _removed,
    _scaled,
    _scaled,
    _scaled,
    _one_end_scaled,
    _exchanged,
    _emptied,
    _doubled,
    _reordered,
    _shares,
    _moved,
    _roles,
    _nested,
    _many,
    _dated,
    _added,
    _added,
    _added,
)


Spoil = Callable[[random.Random, Data], None]
MAPPINGS: tuple[Spoil, ...] = (
    _nasty,
    _nasty,
    _nasty,
    _wrong_type,
    _misspelt,
    _misspelt,
    _removed,
    _removed,
    _emptied,
    _doubled,
    _reordered,
    _nested,
)
"""What may be spoiled in a mapping, which has no duty and no positions."""


def spoiled(data: Data, seed: int, ways: tuple[Spoil, ...] = SPOIL) -> tuple[Data, str]:
    """Return a copy of the data with one to three things spoiled, and in words how."""
    draw, changed, done = random.Random(seed), copy.deepcopy(data), []
    for spoil in draw.sample(ways, draw.choice([1, 1, 1, 2, 3])):
        try:
            spoil(draw, changed)
            done.append(spoil.__name__.strip("_"))
        except (IndexError, KeyError, TypeError, AttributeError):
            continue  # an earlier change took away what this one would spoil
    return changed, " and ".join(done)


def spoiled_text(text: str, draw: random.Random) -> str:
    """Return a text file after what editors, mail programs and cats do to it."""
    lines = text.splitlines(keepends=True)
    spot = draw.randrange(len(lines))
    odd = draw.choice(['"', "'", "[", "]", "=", "\\", "#", "\x00", "\u201c", "\t", "\r", "\ufeff", ",,"])
    ways: tuple[Callable[[], str], ...] = (
        lambda: "".join(lines[:spot] + lines[spot + 1 :]),
        lambda: "".join([*lines[:spot], lines[spot], *lines[spot:]]),
        lambda: text[: draw.randrange(len(text))],
        lambda: text.replace("\n", "\r\n"),
        lambda: text.replace('"', draw.choice(["'", "\u201d", ""])),
        lambda: text[: (cut := draw.randrange(len(text)))] + odd + text[cut + draw.randrange(2) :],
        lambda: "".join(draw.sample(lines, len(lines))),
    )
    return draw.choice(ways)()
