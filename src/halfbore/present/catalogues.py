"""The coverage of a catalogue and the changes between two versions as text for a person."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from halfbore.domain.catalogue import Hole
from halfbore.domain.coverage import (
    CatalogueChanges,
    Concern,
    Coverage,
    FieldChange,
    Given,
    Option,
    PriceShift,
    Sizes,
)
from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.unit import UnitTable
from halfbore.numbers import METRIC, MINUS, THIN, Style, write
from halfbore.units import Kind

_META = {info.name: info.meta for info in fields_of(UnitTable)}
_WIDE = 110
_FIRST = 19
"""Width of the first column."""
_PRICE_WORDS = {"price": "unit", "bearing_price": "bearing set", "support_price": "support alone"}
_LISTED = 20
"""Changes that are listed one by one when no detail is asked for."""


def coverage_text(found: Coverage, style: Style = METRIC) -> str:
    """Return the coverage page of a catalogue: what it offers, what it leaves out, what that blinds."""
    invented = "  All data invented." if found.invented else ""
    lines = [
        f"{found.supplier}, version {found.version}: {_units(found.units)}.{invented}",
        "",
        "Offered",
    ]
    lines += [line for sizes in found.sizes for line in _row(f"row size {sizes.row_size}", _bores(sizes))]
    for kind in dict.fromkeys(option.kind for option in found.options):
        lines += _row(kind, _options([o for o in found.options if o.kind == kind], found.units))
    parts = ", ".join(found.parts) or "none"
    lines += _row("order codes", f"{found.scheme}; spares by code: {parts}")
    lines += _row("prices", _prices(found, style))
    lines += _row("lead times", _range(found.lead_time, Kind.DURATION, style, "weeks"))
    lines += ["", *_blinded(found), "", *_left(found)]
    if found.unproven:
        lines += [
            "",
            f"Ratings of {_of(found.unproven, found.units)} could not be checked: no roller geometry that ISO 281 covers.",
        ]
    if found.notes:
        lines += ["", "Remarks", *(line for note in found.notes for line in _row("", note))]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def changes_text(found: CatalogueChanges, detail: bool = False, style: Style = METRIC) -> str:
    """Return what changed between two versions in a few lines; with detail every unit and datum."""
    head = f"{found.supplier}: version {found.old} → {found.new}"
    if found.none:
        return f"{head}: nothing changed in {_units(found.same)}.\n"
    lines = [head, ""]
    for title, codes in (("withdrawn", found.withdrawn), ("new", found.added)):
        if codes:
            lines += _row(title, f"{_units(len(codes))}: {_codes(codes, detail)}")
    if found.recoded:
        pairs = tuple(f"{old} → {new}" for old, new in found.recoded)
        lines += _row("other code", f"{_units(len(pairs))}: {_codes(pairs, detail)}")
    lines += [line for shift in found.prices for line in _row("prices", _shift(shift))]
    lines += [line for text in found.options for line in _row("options", text)]
    lines += [line for text in found.scheme for line in _row("order codes", text)]
    lines += _changed(found.changed, detail, style)
    if detail:
        lines += [line for change in found.repriced for line in _row("price", change_text(change, style))]
    lines += _row("the same", f"{_units(found.same)}")
    return "\n".join(lines) + "\n"


def concern_text(concern: Concern, style: Style = METRIC) -> str:
    """Return what a new version means for one code in use."""
    if concern.unknown:
        return f"{concern.code}: neither version holds it"
    if concern.withdrawn:
        return f"{concern.code}: withdrawn"
    parts = [f"its code is now {concern.now}"] if concern.now != concern.code else []
    parts += [_said(change, style) for change in concern.changes]
    return f"{concern.code}: {'; '.join(parts)}"


def change_text(change: FieldChange, style: Style = METRIC) -> str:
    """Return one datum of one unit in both versions."""
    return f"{change.code}: {_said(change, style)}"


def field_words(path: str) -> str:
    """Return what a field is called: its words, and its column where it has several."""
    name, _, column = path.partition(".")
    return f"{name.replace('_', ' ')}{f' {column}' if column else ''}"


def _said(change: FieldChange, style: Style) -> str:
    old, new = _values(change, style)
    share = ""
    if (
        isinstance(change.old, float)
        and isinstance(change.new, float)
        and change.old > 0
        and change.new == change.new
    ):
        share = f" ({_percent(change.new / change.old - 1)})"
    return f"{field_words(change.field)} {old} → {new}{share}"


def _values(change: FieldChange, style: Style) -> tuple[str, str]:
    meta = _META[change.field.partition(".")[0]]

    def text(value: float | str, beside: float | str) -> str:
        if isinstance(value, str) or not isinstance(meta, Quantity):
            return str(value)
        if value != value:
            return "not given"
        other = beside if isinstance(beside, float) and beside == beside else None
        shown = write(value, meta.kind, style, beside=other)
        again = write(other, meta.kind, style, beside=value) if other is not None else ""
        return f"{value:.6g}" if shown == again else shown  # both round to the same: show what differs

    return text(change.old, change.new), text(change.new, change.old)


def _changed(changed: tuple[FieldChange, ...], detail: bool, style: Style) -> Iterator[str]:
    """Yield what changed: the ratings each, of other data how many, all of it with detail."""
    ratings = [c for c in changed if c.field.endswith("_rating")]
    others = [c for c in changed if not c.field.endswith("_rating")]
    shown = ratings if detail else ratings[:_LISTED]
    for change in shown:
        yield from _row("ratings", change_text(change, style))
    if len(ratings) > len(shown):
        yield from _row("ratings", f"and {_count(len(ratings) - len(shown))} more")
    if detail:
        for change in others:
            yield from _row("data", change_text(change, style))
        return
    counts: dict[str, int] = {}
    for change in others:
        counts[change.field] = counts.get(change.field, 0) + 1
    if counts:
        yield from _row("data", ", ".join(f"{field_words(f)} in {_units(n)}" for f, n in counts.items()))


def _shift(shift: PriceShift) -> str:
    least, middle, most = map(_percent, (shift.least, shift.middle, shift.most))
    moved = f"{least} each" if least == most else f"{least} to {most}, in the middle {middle}"
    return f"{field_words(shift.field)} of {_units(shift.units)}: {moved}"


def _percent(share: float) -> str:
    text = f"{100 * share:+.1f}"
    return f"{MINUS if text[0] == '-' else '+'}{text[1:]} %"


def _row(title: str, text: str) -> Iterator[str]:
    """Yield the lines of one row: title, then text that is broken under itself."""
    for i, line in enumerate(wrap(text, _WIDE - _FIRST - 2, break_long_words=False) or [""]):
        yield f"  {title if i == 0 else '':<{_FIRST}}{line}"


def _bores(sizes: Sizes) -> str:
    """Return the bores of one row size: how many, from which to which."""
    parts = [
        f"{len(texts)} {word}, {texts[0]} to {texts[-1]}" if len(texts) > 1 else f"{word} {texts[0]}"
        for word, texts in (("metric", sizes.metric), ("inch", sizes.inch))
        if texts
    ]
    bores = len(sizes.metric) + len(sizes.inch)
    return f"{_count(bores)} bore{'s' if bores > 1 else ''} in {_units(sizes.units)}: {'; '.join(parts)}"


def _options(options: list[Option], units: int) -> str:
    offered = [f"{o.word} {'all' if o.units == units else _count(o.units)}" for o in options if o.units]
    none = [o.word for o in options if not o.units]
    return "; ".join([", ".join(offered) or "none", *([f"not offered: {', '.join(none)}"] if none else [])])


def _prices(found: Coverage, style: Style) -> str:
    """Return each kind of price with its range, and how many units have it."""
    if not any(given.units for given in found.prices):
        return "none given"
    parts = []
    for given in found.prices:
        word = _PRICE_WORDS.get(given.field, field_words(given.field.replace("_price.", " ")))
        if given.of:
            parts.append(f"{word} {_range(given, Kind.MONEY, style, currency=found.currency)}")
    return "; ".join(parts)


def _range(given: Given, kind: Kind, style: Style, unit: str = "", currency: str = "") -> str:
    if not given.units:
        return "none given"
    text = write((given.least, given.most), kind, style, unit=unit, currency=currency)
    return text if given.units == given.of else f"{text} in {_of(given.units, given.of)}"


def _blinded(found: Coverage) -> Iterator[str]:
    if not found.blinded:
        yield "No check is blind: every datum that one needs is given for every unit."
        return
    yield "Checks that give no answer, and the data that they lack"
    missing = {hole.field: hole for hole in found.holes}
    for blind in found.blinded:
        fields = ", ".join(_lacking(missing[name], blind.units) for name in blind.fields)
        yield from _row(blind.check, f"in {_of(blind.units, found.units)}: {fields}")


def _lacking(hole: Hole, units: int) -> str:
    """Return a datum, with its count where not all of these units lack it."""
    words = field_words(hole.field)
    return words if hole.missing == units else f"{words} ({_count(hole.missing)} of {_count(hole.of)})"


def _left(found: Coverage) -> Iterator[str]:
    if not found.left:
        yield "Nothing else is missing."
        return
    yield "Also missing, without blinding a check"
    for left in found.left:
        yield from _row(field_words(left.field), f"in {_of(left.missing, left.of)}: {left.untold}")


def _codes(codes: tuple[str, ...], detail: bool) -> str:
    shown = codes if detail else codes[:5]
    more = f" and {_count(len(codes) - len(shown))} more" if len(codes) > len(shown) else ""
    return ", ".join(shown) + more


def _count(number: int) -> str:
    return f"{number:,}".replace(",", THIN)


def _units(number: int) -> str:
    """Return how many units: 1 unit, 2 units."""
    return f"{_count(number)} unit{'' if number == 1 else 's'}"


def _of(part: int, whole: int) -> str:
    return f"all {_units(whole)}" if part == whole else f"{_count(part)} of {_units(whole)}"
