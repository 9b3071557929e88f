"""What changed between two versions of a catalogue, and which of the codes in use that concerns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from halfbore.catalogue.coverage import scheme_in_words
from halfbore.domain.catalogue import LISTED, Catalogue, Letters, Scheme, TaggedScheme
from halfbore.domain.coverage import CatalogueChanges, Concern, FieldChange, PriceShift
from halfbore.domain.fields import fields_of
from halfbore.domain.order import Specification
from halfbore.domain.unit import COLUMNS, Hand, SealKind, Support, UnitTable
from halfbore.errors import InputError, Problem

PRICES = ("price", "bearing_price", "support_price", "seal_price")
_WORDS = {"support": Support, "hand": Hand}
_SAME = 1e-9
"""Numbers that differ by a smaller part are the same: rounding of unit conversions."""
Pairs = tuple[NDArray[np.intp], NDArray[np.intp]]
"""Rows of the units that both versions hold: in the old and in the new table."""
Build = tuple[str, int, bool, int, int]


def changes(old: Catalogue, new: Catalogue) -> CatalogueChanges:
    """Return what differs between two versions of a catalogue.

    Units are told apart by their codes; a code that is gone is recoded where one new code alone has its build.
    Raises InputError when the two are different suppliers'.
    """
    if old.supplier != new.supplier:
        raise InputError(Problem("is another supplier's catalogue", "catalogue", new.supplier, old.supplier))
    pairs, recoded = _paired(old.units, new.units)
    kept_old, kept_new = (set(rows.tolist()) for rows in pairs)
    found = list(_field_changes(old.units, new.units, pairs))
    priced = old.currency == new.currency
    repriced = tuple(c for c in found if c.field.partition(".")[0] in PRICES and priced)
    changed = tuple(c for c in found if c.field.partition(".")[0] not in PRICES)
    touched = {c.code for c in (*changed, *repriced)} | {code for code, _ in recoded}
    return CatalogueChanges(
        supplier=new.supplier,
        old=old.version,
        new=new.version,
        added=tuple(str(c) for i, c in enumerate(new.units.code.tolist()) if i not in kept_new),
        withdrawn=tuple(str(c) for i, c in enumerate(old.units.code.tolist()) if i not in kept_old),
        recoded=recoded,
        changed=changed,
        prices=tuple(_shifts(repriced)),
        repriced=repriced,
        options=tuple(_options(old, new)),
        scheme=tuple(_scheme(old.scheme, new.scheme)),
        same=len(kept_old) - len(touched),
    )


def concerned(
    found: CatalogueChanges, old: Catalogue, codes: Iterable[str | Specification]
) -> tuple[Concern, ...]:
    """Return what a new version means for codes in use; those that nothing changed for are left out.

    found: changes from old; codes: of units as in the catalogue, or what an order's code stands for.
    """
    recoded, by_build = dict(found.recoded), {b: code for code, b in _builds(old.units).items()}
    withdrawn, known = set(found.withdrawn), set(old.units.code.tolist())
    per_unit: dict[str, list[FieldChange]] = {}
    for change in (*found.changed, *found.repriced):
        per_unit.setdefault(change.code, []).append(change)
    concerns = []
    for asked in codes:
        code = asked if isinstance(asked, str) else by_build.get(_build_of(asked), "")
        if code not in known:
            text = asked if isinstance(asked, str) else f"{asked.size}, row {asked.row_size}, {asked.support}"
            concerns.append(Concern(text, "", (), True))
        elif code in withdrawn:
            concerns.append(Concern(code, "", ()))
        elif code in recoded or code in per_unit:
            concerns.append(Concern(code, recoded.get(code, code), tuple(per_unit.get(code, ()))))
    return tuple(concerns)


def _builds(units: UnitTable) -> dict[str, Build]:
    """Return what each unit is, by its code."""
    columns = (units.size, units.row_size, units.locating, units.support, units.hand)
    return dict(zip(units.code.tolist(), zip(*(c.tolist() for c in columns), strict=True), strict=True))


def _build_of(asked: Specification) -> Build:
    support, hand = Support.words().get(asked.support, -1), Hand.words().get(asked.hand, -1)
    return asked.size, asked.row_size, asked.locating, int(support), int(hand)


def _paired(old: UnitTable, new: UnitTable) -> tuple[Pairs, tuple[tuple[str, str], ...]]:
    """Return the units of both versions by code, then by build, and those that have another code now."""
    row_old = {code: i for i, code in enumerate(old.code.tolist())}
    row_new = {code: i for i, code in enumerate(new.code.tolist())}
    now = {code: code for code in row_old if code in row_new}
    gone = {c: b for c, b in _builds(old).items() if c not in now}
    come = {c: b for c, b in _builds(new).items() if c not in now}
    only_gone, only_come = _only(gone), _only(come)
    renamed = {code: only_come[build] for build, code in only_gone.items() if build in only_come}
    now |= renamed
    pairs = [(row_old[code], row_new[other]) for code, other in now.items()]
    pairs.sort()
    rows = np.array(pairs, dtype=np.intp).reshape(-1, 2)
    return (rows[:, 0], rows[:, 1]), tuple(renamed.items())


def _only(builds: dict[str, Build]) -> dict[Build, str]:
    """Return the code of each build that one code alone has."""
    codes: dict[Build, list[str]] = {}
    for code, build in builds.items():
        codes.setdefault(build, []).append(code)
    return {build: own[0] for build, own in codes.items() if len(own) == 1}


def _field_changes(old: UnitTable, new: UnitTable, pairs: Pairs) -> Iterator[FieldChange]:
    """Yield every datum that differs, field by field."""
    for info in fields_of(UnitTable):
        name = info.name
        if name in ("supplier", "code", "currency"):
            continue
        before, after = getattr(old, name)[pairs[0]], getattr(new, name)[pairs[1]]
        if before.dtype.kind == "f":
            both_blank = np.isnan(before) & np.isnan(after)
            differs = ~both_blank & ~(np.abs(after - before) <= _SAME * np.abs(before))
        else:
            differs = before != after
        for index in np.argwhere(differs):
            at = tuple(index)
            path = f"{name}.{COLUMNS[name][index[1]]}" if len(index) == 2 else name
            code = str(old.code[pairs[0][index[0]]])
            yield FieldChange(code, path, _plain(name, before[at]), _plain(name, after[at]))


def _plain(name: str, value: Any) -> float | str:
    """Return one value as a number or a word."""
    if name in _WORDS:
        return _WORDS[name](int(value)).word
    if isinstance(value, np.bool_):
        return "yes" if value else "no"
    return float(value) if isinstance(value, np.floating) else str(value)


def _shifts(repriced: tuple[FieldChange, ...]) -> Iterator[PriceShift]:
    """Yield how each kind of price moved, where both versions give it."""
    shares: dict[str, list[float]] = {}
    for change in repriced:
        if isinstance(change.old, float) and isinstance(change.new, float) and change.old > 0:
            share = change.new / change.old - 1.0
            if not np.isnan(share):
                shares.setdefault(change.field, []).append(share)
    for field, values in shares.items():
        least, middle, most = np.quantile(values, (0.0, 0.5, 1.0)).tolist()
        yield PriceShift(field, len(values), least, middle, most)


def _options(old: Catalogue, new: Catalogue) -> Iterator[str]:
    """Yield what is offered no longer, or for the first time."""
    if old.currency != new.currency:
        yield f"prices are in {new.currency}, they were in {old.currency}: compare them by a dated rate"
    before, after = dict(_offered(old.units)), dict(_offered(new.units))
    for kind in before:
        for gone in sorted(before[kind] - after[kind]):
            yield f"{kind} {gone} is offered no longer"
        for come in sorted(after[kind] - before[kind]):
            yield f"{kind} {come} is new"


def _offered(units: UnitTable) -> Iterator[tuple[str, set[str]]]:
    yield "size", set(units.size.tolist())
    yield "row size", {str(n) for n in units.row_size.tolist()}
    yield "support", {Support(n).word for n in set(units.support.tolist())}
    yield "hand", {Hand(n).word for n in set(units.hand.tolist())}
    yield "seal", {kind.word for kind in SealKind if units.seal_offered[:, kind].any()}


def _scheme(old: Scheme, new: Scheme) -> Iterator[str]:
    """Yield how the writing of order codes changed."""
    if scheme_in_words(old) != scheme_in_words(new):
        yield f"order codes are {scheme_in_words(new)}; they were {scheme_in_words(old)}"
    if old.spares != new.spares:
        marks = ", ".join(f"{mark} {part}" for mark, part in new.spares) or "none"
        yield f"spares are marked {marks}"
    if LISTED in (getattr(old, "separator", ""), getattr(new, "separator", "")):
        return
    before, after = _letters(old), _letters(new)
    for features in dict.fromkeys((*before, *after)):
        words = " and ".join(features).replace("_", " ")
        was, now = before.get(features, {}), after.get(features, {})
        other = [
            f"{text} is {' '.join(now[text])}, it was {' '.join(was[text])}"
            for text in was
            if now.get(text, was[text]) != was[text]
        ]
        if other:
            yield f"letters of {words} mean something else: {_some(other)}"
        if gone := [text for text in was if text not in now]:
            yield f"letters of {words} are gone: {_some(gone)}"
        if come := [text for text in now if text not in was]:
            yield f"letters of {words} are new: {_some(come)}"


def _letters(scheme: Scheme) -> dict[tuple[str, ...], dict[str, tuple[str, ...]]]:
    """Return the letters of each word or place by the features that they stand for."""
    groups: list[tuple[str, Letters]] = (
        [(word.tag, word.letters) for word in scheme.words]
        if isinstance(scheme, TaggedScheme)
        else [("", part) for place in scheme.places for part in place]
    )
    written = {
        letters.features: {tag + text: values for text, values in letters.table} for tag, letters in groups
    }
    return written | {(feature,): {"": (value,)} for feature, value in scheme.fixed}


def _some(texts: list[str]) -> str:
    more = f" and {len(texts) - 8} more" if len(texts) > 8 else ""
    return ", ".join(text or "nothing" for text in texts[:8]) + more
