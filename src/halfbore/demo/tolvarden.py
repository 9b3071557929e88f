"""Tolvarden Rollerworks, an invented supplier: inch first, ±1.0°, an XLSX in Spanish with decimal commas.

Its catalogue gives no largest clearance and nothing about the ease of the ring joints.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from halfbore.demo import housing
from halfbore.demo.sizing import Bearings, Style, bearings, significant
from halfbore.demo.table import INCH, Column, Size, inches, numbers, rows_of, texts
from halfbore.domain.unit import Support

Floats = NDArray[np.float64]

STYLE = Style(
    roller=(14, 19, 24),
    slender=(1.5, 1.6, 1.7),
    gap=0.21,
    ring=1.08,
    axial=1.9,
    turning=(320e3, 290e3, 260e3),
    tilt=5e-4,
)
FACTOR = 0.97
"""Its prices over the rule."""
TITLE = "Tolvarden Rollerworks: unidades partidas, tabla 7 (proveedor y datos inventados)"
NOTE = "Nota: medidas en pulgadas; todos los datos son inventados"
LBF = 4.4482216152605
POUND = 0.45359237
_SIXTEENTHS = (
    *(24, 27, 28, 31, 32, 35, 36, 39, 40, 43, 44, 47, 48, 51, 52, 55, 56, 59, 60, 63, 64, 71, 72, 79, 80),
    *(87, 88, 95, 96, 103, 104, 111, 112, 119, 120, 127, 128, 136, 144, 152, 160, 168, 176, 192),
    *(208, 224, 240, 256, 272, 288, 304, 320),
)
_METRIC = (*range(50, 130, 10), *range(125, 126), *range(130, 200, 10), *range(200, 501, 20), 500)
_SUPPORTS = (
    ("llano", Support.PLAIN, "1N", 0.0, 900.0),
    ("lateral izq.", Support.SIDE_ENTRY, "6L", 70.0, 900.0),
    ("lateral der.", Support.SIDE_ENTRY, "6R", 70.0, 900.0),
    ("brida", Support.FLANGE, "3N", 0.0, 220.0),
    ("tensor", Support.TAKE_UP, "8N", 0.0, 160.0),
)
"""How the catalogue calls a support, what it is, its two characters, and the bores it is made for [mm]."""
_VALUES = "0123456789LNR"
_CHECK_LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"
_WEIGHTS = (3, 7, 2, 11, 5, 13, 4, 17, 6, 19, 8, 21, 9, 12)


def sizes() -> list[Size]:
    """Return the bores, inch first; a code writes sixteenths, or millimetres with a zero before them."""
    inch = [Size(inches(s), str(s), s * INCH / 16) for s in _SIXTEENTHS]
    metric = [Size(f"{d} mm", f"{d:04d}", float(d)) for d in sorted(set(_METRIC))]
    return inch + metric


def code(size: str, row: int, locating: bool, support: str) -> str:
    """Return the code of the standard build: packing on both sides, clearance group 1."""
    body = f"{size}-{row}{int(locating)}-{support}-001"
    counted = [_VALUES.index(c) + 1 for c in reversed(body) if c != "-"]
    total = sum(value * weight for value, weight in zip(counted, _WEIGHTS, strict=False))
    return f"{body}/{_CHECK_LETTERS[total % len(_CHECK_LETTERS)]}"


def rows(columns: list[Column]) -> list[tuple[str, ...]]:
    """Return the sheet: a title, headings in two rows, units, and a note below them."""
    blank = ("",) * (len(columns) - 1)
    return [(TITLE, *blank), *rows_of(columns), (NOTE, *blank)]


def columns() -> list[Column]:
    """Return the catalogue, one row for each unit that can be ordered."""
    rows = [
        (size, row, locating, *support[:3])
        for size in sizes()
        for row in (1, 2, 3)
        for locating in (False, True)
        for support in _SUPPORTS
        if support[3] <= size.bore <= support[4]
    ]
    b = bearings(np.array([r[0].bore for r in rows]), np.array([r[1] for r in rows]), STYLE)
    locating = np.array([r[2] for r in rows])
    kinds = np.array([int(r[4]) for r in rows])
    return [
        texts("Unidad", "Clave", cells=[code(r[0].code, r[1], r[2], r[5]) for r in rows]),
        texts("Unidad", "Eje", cells=[r[0].text for r in rows]),
        texts("Unidad", "Cifra", cells=[r[0].code for r in rows]),
        texts("Unidad", "Fila", cells=[str(r[1]) for r in rows]),
        texts("Unidad", "Fijación", cells=["fijo" if r[2] else "libre" for r in rows]),
        texts("Unidad", "Soporte", cells=[r[3] for r in rows]),
        *_bearing(b, locating),
        *_seat(b),
        *_housing(b, kinds),
        *_support(b, locating, kinds),
    ]


def _inch(name: tuple[str, str], values: Floats, digits: int = 3) -> Column:
    """Return a column of lengths in inches, with decimal commas."""
    return _comma(numbers(*name, values=values / INCH, digits=digits))


def _comma(column: Column) -> Column:
    return Column(column.heading, [cell.replace(".", ",") for cell in column.cells], True)


def _force(
    name: tuple[str, str], values: Floats, digits: int, given: NDArray[np.bool_] | None = None
) -> Column:
    return numbers(*name, values=significant(values / LBF, digits), given=given)


def _bearing(b: Bearings, locating: NDArray[np.bool_]) -> list[Column]:
    travel = np.where(locating, 0.12 + 0.001 * b.bore, 1.8 + 0.045 * b.bore)
    return [
        numbers("Rodillos", "Z", values=b.rollers),
        _inch(("Rodillos", "diámetro in"), b.diameter, 4),
        _inch(("Rodillos", "longitud in"), b.length, 4),
        _inch(("Rodillos", "círculo in"), b.pitch, 4),
        _inch(("Rodillos", "pista in"), b.raceway, 4),
        _force(("Carga", "dinámica lbf"), b.dynamic, 3),
        _force(("Carga", "estática lbf"), b.static, 3),
        _force(("Carga", "axial lbf"), b.axial, 2, locating),
        _force(("Carga", "pestaña lbf"), 2.4 * b.axial, 2, locating),
        _force(("Carga", "agarre lbf"), 0.9 * housing.grip(b.bore), 2),
        _inch(("Pestaña", "altura in"), 0.085 * b.diameter, 4),
        numbers("Pestaña", "p·v MPa·m/s", values=30 - 2 * b.row.astype(float), given=locating),
        numbers("Límite", "r/min", values=significant(b.speed, 2)),
        _inch(("Carrera", "pista in"), travel, 4),
    ]


def _seat(b: Bearings) -> list[Column]:
    floors = [0.030 + 2.8e-4 * b.bore, 0.050 + 4.0e-4 * b.bore, 0.075 + 5.2e-4 * b.bore]
    thou = 2.0 + np.asarray(b.bore > 4 * INCH, dtype=np.float64) + (b.bore > 8 * INCH)
    return [
        *(_inch(("Juego radial mín in", str(g + 1)), floor, 4) for g, floor in enumerate(floors)),
        _comma(numbers("Asiento", "inferior in", values=-thou / 1000, digits=3)),
        _comma(numbers("Asiento", "forma in", values=0.0006 + 0.0001 * thou, digits=4)),
        _inch(("Junta", "luz in"), 0.28 + 0.0011 * b.bore, 4),
    ]


def _housing(b: Bearings, kinds: NDArray[np.intp]) -> list[Column]:
    on_base = np.isin(kinds, (Support.PLAIN, Support.SIDE_ENTRY))
    centre = np.where(kinds == Support.SIDE_ENTRY, 1.05, 1.0) * housing.centre_height(b.bore)
    apart = housing.bolt_spacing(b.bore)
    bolt = np.ceil(housing.bolt_size(b.bore) / INCH * 8) / 8 * INCH
    return [
        _inch(("Medidas", "longitud in"), 1.03 * housing.length(b), 2),
        _inch(("Medidas", "altura in"), housing.housing_outside(b) / 2 + 12 + 0.08 * b.bore, 2),
        _comma(numbers("Medidas", "centro in", values=_quarters(centre), digits=2, given=on_base)),
        _comma(numbers("Medidas", "pernos in", values=_quarters(apart), digits=2)),
        _inch(("Medidas", "ranura in"), 10 + 0.11 * b.bore, 2),
        _inch(("Medidas", "perno in"), bolt, 3),
        _inch(("Carrera", "sello in"), 2.8 + 0.03 * b.bore, 3),
        _inch(("Carrera", "caja in"), 4 + 0.055 * b.bore, 3),
    ]


def _quarters(values: Floats) -> Floats:
    """Return lengths in inches, to the quarter."""
    return np.rint(4 * values / INCH) / 4


def _support(b: Bearings, locating: NDArray[np.bool_], kinds: NDArray[np.intp]) -> list[Column]:
    """Return what depends on the support."""
    forms = [housing.FORMS[Support(k)] for k in kinds.tolist()]

    def of(name: str) -> Floats:
        return np.array([getattr(form, name) for form in forms])

    alone = housing.support_mass(b, housing.FORMS[Support.PLAIN]) * of("mass")
    whole = 0.97 * (b.mass + housing.cartridge_mass(b) + alone)
    price = FACTOR * of("price") * housing.price(whole, housing.FORMS[Support.PLAIN])
    price = significant(price * np.where(locating, 1.05, 1.0), 3)
    strength = 0.95 * housing.strength(b.bore)
    wide = housing.width(b.bore) * np.select(
        [kinds == Support.FLANGE, kinds == Support.TAKE_UP], [0.82, 0.78], 1.0
    )
    metric = np.abs(b.bore - np.rint(b.bore)) < 0.01
    weeks = np.array([1, 2, 3, 4, 6, 9, 12], dtype=float)
    later = sum(np.asarray(b.bore > limit, dtype=int) for limit in (105, 170, 280))
    bearing = FACTOR * 0.42 * housing.price(4.4 * b.mass, housing.FORMS[Support.PLAIN])
    return [
        _force(("Límite soporte", "abajo lbf"), of("down") * strength, 3),
        _force(("Límite soporte", "lado lbf"), of("side") * strength, 3),
        _force(("Límite soporte", "arriba lbf"), of("up") * strength, 3),
        _force(("Límite soporte", "axial lbf"), of("housing_axial") * strength, 2),
        _inch(("Medidas", "ancho in"), wide, 2),
        _inch(("Medidas", "labio in"), of("lip") * housing.housing_outside(b), 2),
        _comma(numbers("Masa", "total lb", values=significant(whole / POUND, 3), digits=1)),
        _comma(numbers("Masa", "rodamiento lb", values=significant(b.mass / POUND, 3), digits=2)),
        _comma(numbers("Masa", "soporte lb", values=significant(alone / POUND, 3), digits=1)),
        _comma(numbers("Masa", "mitad lb", values=significant(0.42 * whole / POUND, 3), digits=1)),
        numbers("Precio", "unidad EUR", values=price),
        numbers("Precio", "rodamiento EUR", values=significant(bearing, 3)),
        numbers("Precio", "soporte EUR", values=significant(0.24 * price, 3)),
        numbers("Precio", "sello 0 EUR", values=significant(FACTOR * (30 + 0.33 * b.bore), 2)),
        numbers("Precio", "sello 4 EUR", values=significant(FACTOR * (60 + 0.95 * b.bore), 2)),
        numbers("Precio", "sello 7 EUR", values=significant(FACTOR * (18 + 0.22 * b.bore), 2)),
        texts("Sellos", "tapa 7", cells=["sí" if bore <= 260 else "no" for bore in b.bore.tolist()]),
        numbers("Plazo", "semanas", values=weeks[later + metric + (kinds != Support.PLAIN) + (b.row == 3)]),
    ]


def write_xlsx(path: Path) -> None:
    """Write the catalogue as a workbook: merged title and group headings, numbers as numbers, text as text."""
    import xlsxwriter  # takes its time, and only this needs it

    made = columns()
    sheet_rows = rows(made)
    with xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_numbers": False}) as book:
        sheet = book.add_worksheet("Unidades")
        sheet.merge_range(0, 0, 0, len(made) - 1, TITLE)
        for i, cells in enumerate(sheet_rows[1:], 1):
            for j, cell in enumerate(cells):
                if made[j].number and cell and 3 <= i < len(sheet_rows) - 1:
                    sheet.write_number(i, j, float(cell.replace(",", ".")))
                elif cell:
                    sheet.write_string(i, j, cell)
        for first, last in _groups(sheet_rows[1]):
            if last > first:
                sheet.merge_range(1, first, 1, last, sheet_rows[1][first])


def _groups(headings: tuple[str, ...]) -> list[tuple[int, int]]:
    """Return first and last column of each run of equal group headings."""
    starts = [i for i, h in enumerate(headings) if i == 0 or headings[i - 1] != h]
    return list(zip(starts, [s - 1 for s in starts[1:]] + [len(headings) - 1], strict=True))
