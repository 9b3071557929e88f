"""What a record's field says about itself: unit, plausible range, limits and help.

Forms, readers, `calc --schema` and docs/fields.md are generated from this; nobody types a label twice.
"""

from __future__ import annotations

import dataclasses
import types
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from halfbore.units import Kind


@dataclass(frozen=True)
class Quantity:
    """A measured or computed quantity.

    plausible: outside it the value is asked about [internal unit].
    limits: outside it the value is refused [internal unit].
    assumed: why the default stands when nothing is given.
    prefix: text that may stand before the number, such as the G of a balance grade.
    """

    kind: Kind
    help: str
    plausible: tuple[float, float] | None = None
    limits: tuple[float, float] | None = None
    symbol: str = ""
    assumed: str = ""
    prefix: str = ""


@dataclass(frozen=True)
class Note:
    """A field that is no quantity: a name, a choice, a yes or no, a list of records."""

    help: str
    assumed: str = ""


Meta = Quantity | Note


@dataclass(frozen=True)
class FieldInfo:
    """One field of a record as readers and forms see it."""

    name: str
    type: Any
    optional: bool
    meta: Meta
    required: bool
    default: Any


_KNOWN: dict[type, tuple[FieldInfo, ...]] = {}


def fields_of(record: type) -> tuple[FieldInfo, ...]:
    """Return the described fields of a frozen record, in order."""
    if record not in _KNOWN:
        hints = get_type_hints(record, include_extras=True)
        _KNOWN[record] = tuple(_described(f, hints[f.name]) for f in dataclasses.fields(record))
    return _KNOWN[record]


def _described(f: dataclasses.Field[Any], hint: Any) -> FieldInfo:
    meta: Meta = Note("")
    if get_origin(hint) is Annotated:
        hint, *notes = get_args(hint)
        meta = next((n for n in notes if isinstance(n, (Quantity, Note))), meta)
    inner, optional = _without_none(hint)
    default: Any = f.default
    if f.default_factory is not dataclasses.MISSING:
        default = f.default_factory()
    missing = default is dataclasses.MISSING
    return FieldInfo(f.name, inner, optional, meta, missing, None if missing else default)


def _without_none(hint: Any) -> tuple[Any, bool]:
    if get_origin(hint) in (Union, types.UnionType):
        kept = tuple(a for a in get_args(hint) if a is not type(None))
        if len(kept) < len(get_args(hint)):
            return (kept[0] if len(kept) == 1 else Union[kept]), True  # noqa: UP007
    return hint, False


def walk(record: type, path: str = "") -> Iterator[tuple[str, FieldInfo]]:
    """Yield every field of a record and of the records inside it, with its dotted path."""
    for info in fields_of(record):
        here = f"{path}.{info.name}" if path else info.name
        yield here, info
        for inner in _records_in(info.type):
            yield from walk(inner, here + ("[]" if get_origin(info.type) is tuple else ""))


def _records_in(hint: Any) -> tuple[type, ...]:
    if dataclasses.is_dataclass(hint) and fields_of(hint) and not hasattr(hint, "of"):  # type: ignore[arg-type]
        return (hint,)  # type: ignore[return-value]
    return tuple(r for a in get_args(hint) for r in _records_in(a))
