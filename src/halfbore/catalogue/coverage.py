"""What a catalogue offers, what it leaves out, and which checks that blinds."""

from __future__ import annotations

import re
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from halfbore.catalogue.validate import dynamic_by_geometry, static_by_geometry
from halfbore.domain.catalogue import LISTED, Catalogue, Hole, Scheme, TaggedScheme
from halfbore.domain.coverage import Blinded, Coverage, Given, Left, Option, Sizes
from halfbore.domain.fields import Quantity, fields_of
from halfbore.domain.unit import COLUMNS, Hand, SealKind, Support, UnitTable

BLINDS: dict[str, tuple[str, ...]] = {
    "rollers": ("axial chain", "ring joint"),
    "roller_diameter": ("axial chain",),
    "roller_length": ("axial chain", "ring joint"),
    "pitch_diameter": ("modified life", "clearance", "axial chain", "ring joint"),
    "dynamic_rating": ("rating life", "modified life", "minimum load"),
    "static_rating": ("static safety",),
    "fatigue_limit": ("modified life",),
    "axial_capacity": ("axial chain",),
    "flange_height": ("axial chain",),
    "flange_pv_limit": ("axial chain",),
    "flange_strength": ("axial chain",),
    "clamp_grip": ("axial chain",),
    "housing_axial": ("axial chain",),
    "speed_limit": ("speed", "minimum load"),
    "ring_temperature_limit": ("temperature",),
    "clearance_min": ("clearance", "ring joint", "axial chain"),
    "seat_lower": ("bore and seat",),
    "seat_upper": ("bore and seat",),
    "seat_form": ("bore and seat",),
    "joint_gap": ("axial chain",),
    "joint_angle": ("ring joint",),
    "joint_clear": ("ring joint",),
    "limit_down": ("support direction",),
    "limit_side": ("support direction",),
    "limit_up": ("support direction",),
    "track_travel": ("axial travel",),
    "seal_travel": ("axial travel",),
    "housing_travel": ("axial travel",),
    "static_alignment": ("alignment",),
    "roller_tilt": ("alignment",),
    "seal_speed": ("seals",),
    "seal_temperature": ("seals",),
    "length": ("room",),
    "width": ("room",),
    "height": ("room",),
    "lip_depth": ("lift and entry",),
    "lead_time": ("delivery",),
}
"""Datum → the checks that give no answer without it. The root cause asks these checks and is blind with them."""
UNTOLD: dict[str, str] = {
    "rows": "whether the ratings are what the rollers yield, and how far the bearing gives",
    "clearance_max": "the greatest clearance in operation",
    "inner_raceway": "whether raceway and bore fit one another",
    "joint_eased": "how far the joint edges are eased",
    "seal_price": "what seals cost, first and later",
    "centre_height": "whether the base is packed or milled",
    "bolt_spacing": "whether the bolts meet the base",
    "bolt_slot": "whether the bolts meet the base",
    "bolt_size": "whether the bolts fit the base",
    "mass": "handling and shipping weight",
    "bearing_mass": "weight of a bearing set",
    "support_mass": "weight of a support alone",
    "heaviest_half": "what must be lifted at once",
    "price": "cost, rank and worth",
    "bearing_price": "what a bearing set costs; the unit's price stands in",
    "support_price": "what a support costs as a spare",
}
"""Datum that no check needs → what cannot be told without it."""
_LOCATING = ("axial_capacity", "flange_height", "flange_pv_limit", "flange_strength")
_INCH = re.compile(r"(in|inch|\"|″)\.?\s*$", re.IGNORECASE)
_PRICES = ("price", "bearing_price", "support_price", "seal_price")


def coverage(catalogue: Catalogue) -> Coverage:
    """Return what a catalogue offers and what it leaves out.

    catalogue: as admitted.
    """
    units = catalogue.units
    found = holes(units)
    computed = np.isnan(dynamic_by_geometry(units)) | np.isnan(static_by_geometry(units))
    return Coverage(
        supplier=catalogue.supplier,
        version=catalogue.version,
        invented=catalogue.invented,
        currency=catalogue.currency,
        units=len(units),
        sizes=tuple(_sizes(units)),
        options=tuple(_options(units)),
        scheme=scheme_in_words(catalogue.scheme),
        parts=tuple(part for _, part in catalogue.scheme.spares),
        prices=tuple(given for name in _PRICES for given in _given(name, units)),
        lead_time=next(_given("lead_time", units)),
        blinded=tuple(_blinded(units, found)),
        holes=found,
        left=tuple(Left(h.field, h.missing, h.of, UNTOLD[h.field]) for h in found if h.field in UNTOLD),
        unproven=int(computed.sum()),
        notes=catalogue.notes,
    )


def holes(units: UnitTable) -> tuple[Hole, ...]:
    """Return every datum that is missing where it applies, in how many units of how many."""
    found = []
    for name in _measured():
        applies = _applies(name, units)
        missing = np.isnan(getattr(units, name)) & applies
        if missing.any():
            count, of = int(_any(missing).sum()), int(_any(applies).sum())
            found.append(Hole(name, count, of, BLINDS.get(name, ())))
    return tuple(found)


def _measured() -> Iterator[str]:
    return (info.name for info in fields_of(UnitTable) if isinstance(info.meta, Quantity))


def _applies(name: str, units: UnitTable) -> NDArray[np.bool_]:
    """Return where a datum has a meaning: flanges on locating units, centre height on a base,
    seals and clearance groups that are offered."""
    if name in _LOCATING:
        return units.locating
    if name == "centre_height":
        return np.isin(units.support, (Support.PLAIN, Support.SIDE_ENTRY))
    if name == "clearance_min":  # a group that is not given is not offered; a unit without any lacks it
        given = ~np.isnan(units.clearance_min)
        return given | ~given.any(axis=1, keepdims=True)
    if name == "clearance_max":
        return ~np.isnan(units.clearance_min)
    if name.startswith("seal_") and getattr(units, name).ndim == 2:
        return units.seal_offered
    return np.ones(getattr(units, name).shape, dtype=np.bool_)


def _any(marks: NDArray[np.bool_]) -> NDArray[np.bool_]:
    return np.asarray(marks.any(axis=1) if marks.ndim == 2 else marks)


def _blinded(units: UnitTable, found: tuple[Hole, ...]) -> Iterator[Blinded]:
    """Yield the checks that some units do not answer, in the order of the data that they need."""
    for check in dict.fromkeys(check for blinds in BLINDS.values() for check in blinds):
        fields = tuple(hole.field for hole in found if check in hole.blinds)
        if fields:
            lacks = [_any(np.isnan(getattr(units, name)) & _applies(name, units)) for name in fields]
            yield Blinded(check, int(np.logical_or.reduce(lacks).sum()), fields)


def _sizes(units: UnitTable) -> Iterator[Sizes]:
    """Yield the bores by row size."""
    for row in np.unique(units.row_size).tolist():
        own = units.row_size == row
        texts, first = np.unique(units.size[own], return_index=True)
        order = np.argsort(units.bore[own][first], kind="stable")
        texts, bores = texts[order], units.bore[own][first][order]
        inch = [
            bool(_INCH.search(text)) or bore % 1 != 0
            for text, bore in zip(texts.tolist(), bores.tolist(), strict=True)
        ]
        metric = np.logical_not(inch)
        yield Sizes(row, tuple(texts[metric].tolist()), tuple(texts[~metric].tolist()), int(own.sum()))


def _options(units: UnitTable) -> Iterator[Option]:
    for support in Support:
        yield Option("support", support.word, int((units.support == support).sum()))
    for hand in (Hand.LEFT, Hand.RIGHT):
        yield Option("hand", hand.word, int((units.hand == hand).sum()))
    yield Option("flanges", "locating", int(units.locating.sum()))
    yield Option("flanges", "non-locating", int((~units.locating).sum()))
    for seal in SealKind:
        yield Option("seals", seal.word, int(units.seal_offered[:, seal].sum()))
    for i, group in enumerate(COLUMNS["clearance_min"]):
        yield Option("clearance", f"group {group}", int((~np.isnan(units.clearance_min[:, i])).sum()))


def _given(name: str, units: UnitTable) -> Iterator[Given]:
    """Yield how far a price or a lead time is given, where it applies."""
    values, applies = getattr(units, name), _applies(name, units)
    for i, column in enumerate(COLUMNS.get(name, ("",))):
        own, where = (values[:, i], applies[:, i]) if column else (values, applies)
        known = own[where & ~np.isnan(own)]
        least, middle, most = np.quantile(known, (0.0, 0.5, 1.0)).tolist() if len(known) else [np.nan] * 3
        yield Given(f"{name}.{column}" if column else name, len(known), int(where.sum()), least, middle, most)


def scheme_in_words(scheme: Scheme) -> str:
    """Return how codes are written, in words."""
    if not isinstance(scheme, TaggedScheme):
        return f"fixed places parted by {scheme.separator!r}, with a check character after {scheme.check.separator!r}"
    if scheme.separator == LISTED:
        fixed = ", ".join(f"{feature.replace('_', ' ')} {value}" for feature, value in scheme.fixed)
        return f"codes as listed; {fixed}"
    return f"tagged words in any order, parted by {scheme.separator!r}"
