"""Quernvold Split Units, an invented supplier: metric first, ±1.2°, a comma CSV with English headings.

Its catalogue gives no p·v limit at the flanges and no price of a support alone.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from halfbore.demo import housing
from halfbore.demo.sizing import Bearings, Style, bearings, significant
from halfbore.demo.table import INCH, Column, Size, inches, numbers, rows_of, texts
from halfbore.domain.unit import Support
from halfbore.standards import iso281_2007
from halfbore.standards.iso286_1_2010 import it

Floats = NDArray[np.float64]

STYLE = Style(
    roller=(15.5, 20, 25, 30),
    slender=(1.3, 1.45, 1.55, 1.6),
    gap=0.19,
    ring=1.0,
    axial=1.5,
    turning=(330e3, 310e3, 280e3, 250e3),
    tilt=6e-4,
)
FACTOR = 1.04
"""Its prices over the rule."""
_METRIC = (*range(40, 130, 5), *range(130, 200, 10), *range(200, 400, 20), *range(400, 501, 20), 530, 560)
_SIXTEENTHS = (
    *(23, 24, 27, 28, 31, 32, 35, 36, 39, 40, 43, 44, 47, 48, 51, 52, 55, 56, 59, 60, 63, 64, 67, 68),
    *(71, 72, 75, 76, 79, 80, 83, 84, 87, 88, 91, 92, 95, 96, 103, 104, 111, 112, 119, 120, 127, 128),
    *(136, 144, 152, 160, 168, 176, 192, 208, 224, 240, 256, 272, 288, 304, 320, 336, 352),
)
_LETTERS = {Support.PLAIN: "P", Support.SIDE_ENTRY: "V", Support.FLANGE: "G", Support.TAKE_UP: "Y"}


def sizes() -> list[Size]:
    """Return the bores, metric first; a code writes inches as whole inches + sixteenths."""
    metric = [Size(f"{d} mm", str(d), float(d)) for d in _METRIC]
    inch = [Size(inches(s), f"{s // 16}+{s % 16}", s * INCH / 16) for s in _SIXTEENTHS]
    return metric + inch


def rows(columns: list[Column]) -> list[tuple[str, ...]]:
    """Return the sheet: headings and units."""
    return rows_of(columns)


def columns() -> list[Column]:
    """Return the catalogue, one row for each bore, row size and role."""
    rows = [
        (size, row, locating)
        for size in sizes()
        for row in (1, 2, 3, 4)
        if row < 4 or 80 <= size.bore <= 400
        for locating in (False, True)
    ]
    bore = np.array([size.bore for size, _, _ in rows])
    row = np.array([row for _, row, _ in rows])
    locating = np.array([locating for _, _, locating in rows])
    b = bearings(bore, row, STYLE)
    return [
        texts("Seat", cells=[size.text for size, _, _ in rows]),
        texts("Tag", cells=[size.code for size, _, _ in rows]),
        numbers("Seat mm", values=bore, digits=4),
        texts("Row", cells=[str(row) for _, row, _ in rows]),
        texts("Axial", cells=["l" if locating else "n" for _, _, locating in rows]),
        texts("Supports", cells=[_supports(size.bore) for size, _, _ in rows]),
        *_bearing(b, locating),
        *_seat(b),
        *_housing(b),
        *(column for support in Support for column in _support(b, locating, support)),
        *_seals(b),
    ]


def _supports(bore: float) -> str:
    made = ["P", *(["Vl", "Vr"] if bore >= 60 else []), *(["G"] if bore <= 300 else [])]
    return "/".join([*made, *(["Y"] if bore <= 200 else [])])


def _bearing(b: Bearings, locating: NDArray[np.bool_]) -> list[Column]:
    static = significant(b.static, 3)
    fatigue = np.asarray(iso281_2007.fatigue_load_limit(static, b.pitch))
    width = significant(b.axial, 2)
    return [
        numbers("Rollers", values=b.rollers),
        numbers("Roller dia mm", values=b.diameter),
        numbers("Roller length eff mm", values=b.length, digits=1),
        numbers("Pitch dia mm", values=b.pitch, digits=1),
        numbers("Raceway dia mm", values=b.raceway, digits=1),
        numbers("C kN", values=significant(b.dynamic, 3) / 1000, digits=1),
        numbers("C0 kN", values=static / 1000, digits=1),
        numbers("Cu kN", values=significant(fatigue, 3) / 1000, digits=2),
        numbers("Axial load kN", values=width / 1000, digits=1, given=locating),
        numbers("Flange contact height mm", values=0.09 * b.diameter, digits=2, given=locating),
        numbers("Flange strength kN", values=significant(2.6 * b.axial, 2) / 1000, digits=1, given=locating),
        numbers("Clamp grip kN", values=significant(housing.grip(b.bore), 2) / 1000, digits=1),
        numbers("Speed grease r/min", values=significant(b.speed, 2)),
        numbers("Bearing mass kg", values=significant(b.mass, 3), digits=2),
        numbers(
            "Track travel mm", values=np.where(locating, 0.1 + 0.001 * b.bore, 2 + 0.05 * b.bore), digits=2
        ),
    ]


def _seat(b: Bearings) -> list[Column]:
    heavy = b.row >= 3
    floor = np.stack([0.025 + 3.0e-4 * b.bore, 0.045 + 4.2e-4 * b.bore, 0.070 + 5.5e-4 * b.bore])
    band = 0.020 + 2.0e-4 * b.bore
    clearance = [
        numbers(f"Clearance {group + 1} {end} um", values=5 * np.rint(200 * values))
        for group in range(3)
        for end, values in (("min", floor[group]), ("max", floor[group] + band))
    ]
    return [
        *clearance,
        numbers("Seat lower um", values=-1000 * np.asarray(it(b.bore, np.where(heavy, 7, 8)))),
        numbers("Seat form um", values=1000 * np.asarray(it(b.bore, np.where(heavy, 5, 6)))),
        numbers("Joint gap mm", values=0.25 + 0.0012 * b.bore, digits=2),
        numbers("Joint clear deg", values=np.where(heavy, 35.0, 30.0)),
        numbers("Joint eased mm", values=1.2 + 0.006 * b.bore, digits=1),
    ]


def _housing(b: Bearings) -> list[Column]:
    return [
        numbers("Length mm", values=np.rint(housing.length(b))),
        numbers("Above centre mm", values=np.rint(housing.housing_outside(b) / 2 + 10 + 0.08 * b.bore)),
        numbers("Seal travel mm", values=3 + 0.035 * b.bore, digits=1),
        numbers("Housing travel mm", values=4 + 0.06 * b.bore, digits=1),
        numbers("Base bolts apart mm", values=housing.bolt_spacing(b.bore)),
        numbers("Slot mm", values=np.rint(12 + 0.12 * b.bore)),
        numbers("Base bolt mm", values=housing.bolt_size(b.bore)),
        numbers("Centre P mm", values=housing.centre_height(b.bore)),
        numbers("Centre V mm", values=5 * np.rint(1.04 * housing.centre_height(b.bore) / 5)),
    ]


def _support(b: Bearings, locating: NDArray[np.bool_], support: Support) -> list[Column]:
    """Return what depends on the support; a support that a bore does not have is left blank."""
    form, letter = housing.FORMS[support], _LETTERS[support]
    offered = np.array([letter in _supports(bore) for bore in b.bore.tolist()])
    alone = housing.support_mass(b, form)
    whole = b.mass + housing.cartridge_mass(b) + alone
    price = FACTOR * housing.price(whole, form) * np.where(locating, 1.06, 1.0)
    strength = housing.strength(b.bore) / 1000
    wide = housing.width(b.bore) * {Support.FLANGE: 0.8, Support.TAKE_UP: 0.75}.get(support, 1.0)
    column = {
        "Down kN": (significant(form.down * strength, 3), 1),
        "Side kN": (significant(form.side * strength, 3), 1),
        "Up kN": (significant(form.up * strength, 3), 1),
        "Axial housing kN": (significant(form.housing_axial * strength, 2), 1),
        "Width mm": (np.rint(wide), 0),
        "Lip mm": (np.rint(form.lip * housing.housing_outside(b)), 0),
        "Mass kg": (significant(whole, 3), 1),
        "Support mass kg": (significant(alone, 3), 1),
        "Heaviest half kg": (significant(np.maximum(0.40 * whole, 0.6 * alone), 3), 1),
        "Price": (significant(price, 3), 0),
        "Lead weeks": (_weeks(b, support), 0),
    }
    return [
        numbers(f"{heading} {letter}", values=values, digits=digits, given=offered)
        for heading, (values, digits) in column.items()
    ]


def _weeks(b: Bearings, support: Support) -> Floats:
    steps = np.array([1, 2, 3, 5, 8, 10, 14, 16], dtype=float)
    inch = np.abs(b.bore - np.rint(b.bore)) > 0.01
    later = sum(np.asarray(b.bore > limit, dtype=int) for limit in (110, 180, 260, 380))
    return np.asarray(steps[later + (b.row >= 3) + inch + (support is not Support.PLAIN)])


def _seals(b: Bearings) -> list[Column]:
    bearing = FACTOR * 0.42 * housing.price(4.6 * b.mass, housing.FORMS[Support.PLAIN])
    return [
        numbers("Bearing price", values=significant(bearing, 3)),
        numbers("Price packing J", values=significant(FACTOR * (28 + 0.35 * b.bore), 2)),
        numbers("Price labyrinth W", values=significant(FACTOR * (55 + 0.9 * b.bore), 2)),
        numbers("Price closed Z", values=significant(FACTOR * (20 + 0.2 * b.bore), 2)),
        texts("Closed end", cells=["yes" if bore <= 300 else "no" for bore in b.bore.tolist()]),
    ]
