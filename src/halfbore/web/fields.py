"""A value of a document as a page shows and edits it: all it says comes from the field of its record."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, get_origin
from urllib.parse import quote, unquote

from halfbore.domain.fields import FieldInfo, Quantity
from halfbore.domain.survey import Plain, Thing
from halfbore.domain.survey_layout import NO, SEPARATOR, YES
from halfbore.domain.workspace import Address
from halfbore.errors import HalfboreError, InputError, Problem
from halfbore.intake.check import PARTS, RECORDS, check_text, leaf, leaves
from halfbore.numbers import Style, unit_of, write
from halfbore.store import paths
from halfbore.units import Kind
from halfbore.workspace.edits import THINGS

LISTS = {
    "loads": Thing.PART,
    "duty": Thing.CONDITION,
    "shaft.segments": Thing.SEGMENT,
    "history": Thing.FAILURE,
}
"""Lists of a document and what an entry of each is."""


DIGITS = 6
"""Of a length that is given: a seat is measured to the micrometre."""


@dataclass(frozen=True)
class Value:
    """One value of one document.

    typed: as it stands there, empty where it does not; used: what is counted with, where that reads otherwise;
    assumed: what stands in where nothing is given; above: whose value it is where it comes from above;
    common: plausible range in words; unit: the usual one, empty where there is none; options: of a choice.
    """

    at: Address
    path: str
    label: str
    help: str
    typed: str
    used: str
    assumed: str
    common: str
    unit: str
    options: tuple[str, ...]
    above: str = ""

    @property
    def shown(self) -> str:
        """The value as a row shows it."""
        return self.used or self.typed


def at_text(address: Address) -> str:
    """Return an address as the text of a form: tags parted by slashes."""
    return "/".join(quote(tag, safe="") or "-" for tag in address)


def address_of(text: str) -> Address:
    """Return the address that a form names."""
    return tuple("" if part == "-" else unquote(part) for part in text.split("/")) if text else ()


def value_at(at: Address, document: Plain, path: str, style: Style) -> Value:
    """Return the value at a path of a document. Raises InputError for a path that no record has."""
    return _value(at, path, leaf(THINGS[len(at)], path, _kind(document, path)), document, path, style)


def values_of(at: Address, document: Plain, style: Style, base: str = "") -> Iterator[Value]:
    """Yield every value of a document, or of one entry of it, given or not.

    base: path of the entry, such as loads[gear unit]; empty for the whole document.
    """
    record = _record(at, document, base)
    for name, info in leaves(record).items():
        path = f"{base}.{name}" if base else name
        yield _value(at, path, info, document, path, style)


def _record(at: Address, document: Plain, base: str) -> type:
    if not base:
        return RECORDS[THINGS[len(at)]]
    name = base.partition("[")[0]
    if name not in LISTS:
        raise InputError(Problem("is no list of this document", base, accepted=", ".join(LISTS)))
    if LISTS[name] is not Thing.PART:
        return RECORDS[LISTS[name]]
    kind = str(paths.get(document, f"{base}.kind") or "")
    if kind not in PARTS:
        raise InputError(Problem("there is no such part", base))
    return PARTS[kind]


def _kind(document: Plain, path: str) -> str:
    base, bracket, _ = path.partition("].")
    return str(paths.get(document, f"{base}].kind") or "") if bracket and path.startswith("loads[") else ""


def _value(at: Address, path: str, info: FieldInfo, document: Plain, where: str, style: Style) -> Value:
    typed = text_of(paths.get(document, where))
    meta = info.meta
    kind = meta.kind if isinstance(meta, Quantity) else None
    return Value(
        at,
        path,
        _label(path),
        meta.help,
        typed,
        _used(info, typed, path, style),
        _assumed(info, style),
        _common(meta, style) if isinstance(meta, Quantity) else "",
        "" if kind is None else _unit(kind, info, style),
        _options(info),
    )


def text_of(plain: Any) -> str:
    """Return a plain value as text that can be typed again."""
    if plain is None or isinstance(plain, dict):
        return ""
    if isinstance(plain, bool):
        return YES if plain else NO
    if isinstance(plain, list):
        return f"{SEPARATOR} ".join(str(item) for item in plain if not isinstance(item, dict))
    return str(plain)


def _label(path: str) -> str:
    return path.rpartition(".")[2].replace("_", " ")


def _used(info: FieldInfo, typed: str, path: str, style: Style) -> str:
    """Return what is counted with, in the units that are shown; empty for what is no quantity or cannot be read."""
    if not typed or not isinstance(info.meta, Quantity) or info.meta.kind in (Kind.MONEY, Kind.MONEY_RATE):
        return ""
    try:
        value = check_text(info, typed, path).value
    except HalfboreError:
        return ""
    number = write(value, info.meta.kind, style, digits=DIGITS if info.meta.kind is Kind.LENGTH else 0)
    prefix = info.meta.prefix
    return f"{prefix} {number}" if prefix and not number.startswith(prefix) else number


def _assumed(info: FieldInfo, style: Style) -> str:
    """Return what stands in where nothing is given, with why."""
    why = getattr(info.meta, "assumed", "")
    if info.required or not why:
        return ""
    default = info.default
    if isinstance(info.meta, Quantity) and default is not None:
        return f"{write(default, info.meta.kind, style)}: {why}"
    if isinstance(default, bool):
        return f"{YES if default else NO}: {why}"
    return f"{default.value}: {why}" if isinstance(default, StrEnum) else why


def _common(meta: Quantity, style: Style) -> str:
    if meta.plausible is None or meta.kind in (Kind.MONEY, Kind.MONEY_RATE):
        return ""
    return f"{write(meta.plausible, meta.kind, style)} is common"


def _unit(kind: Kind, info: FieldInfo, style: Style) -> str:
    meta = info.meta
    assert isinstance(meta, Quantity)
    return unit_of(kind, style, *(() if meta.plausible is None else meta.plausible))


def _options(info: FieldInfo) -> tuple[str, ...]:
    if info.type is bool:
        return (YES, NO)
    if get_origin(info.type) is tuple or not isinstance(info.type, type):
        return ()
    return tuple(str(one.value) for one in info.type) if issubclass(info.type, StrEnum) else ()
