"""One column of cells as values: numbers in internal units, words by their letters, bad cells by reason."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import numpy as np

from halfbore import limits
from halfbore.domain.fields import Quantity
from halfbore.domain.position import Role
from halfbore.domain.unit import Hand, Support
from halfbore.errors import Problem, UnitError
from halfbore.intake.layout import Layout
from halfbore.intake.mapping import FIELDS, Spec
from halfbore.intake.texts import steering
from halfbore.units import parse

_PLAIN = {
    ".": re.compile(r"[-−]?\d+(\.\d+)?([eE][-+]?\d+)?"),
    ",": re.compile(r"[-−]?\d+(,\d+)?([eE][-+]?\d+)?"),
}
_LARGEST = 1e30
_DATE = re.compile(r"\d{4}-\d\d-\d\d(T.*)?")
_WORDS: dict[str, dict[str, int]] = {
    "support": {w: int(v) for w, v in Support.words().items()},
    "hand": {w: int(v) for w, v in Hand.words().items()},
    "row_size": {str(n): n for n in range(1, 100)},
    "locating": {Role.LOCATING.value: True, Role.NON_LOCATING.value: False},
    "seal_offered": {"yes": True, "no": False},
}


@dataclass(frozen=True)
class Column:
    """The values of a column, and why some cells gave none: index → problem without its place."""

    values: Any
    bad: dict[int, Problem]


def column_of(cells: list[str], path: str, spec: Spec, layout: Layout) -> Column:
    """Return the cells of a column as values of one field of a unit.

    cells: text; path: the field, `field.column` for one of several columns; spec, layout: how it is written.
    Blank numbers are NaN. Raises UnitError when the unit of the mapping is none of this quantity.
    """
    name = path.partition(".")[0]
    meta = FIELDS[name].meta if name in FIELDS else None
    if isinstance(meta, Quantity):
        return _numbers(cells, meta, spec, layout)
    if name in _WORDS:
        dtype = np.bool_ if name in ("locating", "seal_offered") else np.int8
        return _words(cells, _WORDS[name], dict(spec.letters), dtype)
    return _texts(cells, dict(spec.letters))


def _numbers(cells: list[str], meta: Quantity, spec: Spec, layout: Layout) -> Column:
    """Return numbers in internal units; every text is read once."""
    zero = parse(f"0 {spec.unit}", meta.kind, f"{spec.where}.unit") if spec.unit else 0.0
    one = parse(f"1 {spec.unit}", meta.kind, f"{spec.where}.unit") - zero if spec.unit else 1.0
    written = dict(spec.letters) | ({spec.constant: spec.constant} if spec.constant else {})
    known = {text: parse(value, meta.kind, spec.where) for text, value in written.items()}
    faults: dict[str, Problem] = {}
    for cell in dict.fromkeys(cells):
        if cell in known:
            continue
        known[cell] = np.nan
        try:
            if cell and cell not in layout.blanks:
                plain = plain_number(cell, layout)
                known[cell] = (
                    plain * one + zero if plain is not None else _with_unit(cell, meta, spec, layout)
                )
        except UnitError as error:
            faults[cell] = _refused(cell, error.problems[0].what, spec, layout)
    bad = {i: faults[cell] for i, cell in enumerate(cells) if cell in faults} if faults else {}
    return Column(np.array([known[cell] for cell in cells], dtype=np.float64), bad)


def plain_number(cell: str, layout: Layout) -> float | None:
    """Return a cell that is a number and nothing else, None for any other.

    Raises UnitError when the number is too large.
    """
    if len(cell) > limits.QUANTITY_LENGTH or not _PLAIN[layout.decimal].fullmatch(cell):
        return None
    value = float(cell.replace(",", ".").replace("−", "-"))
    if abs(value) > _LARGEST:
        raise UnitError("the number is too large")
    return value


def _with_unit(cell: str, meta: Quantity, spec: Spec, layout: Layout) -> float:
    """Return a cell that is no plain number: a fraction of an inch, or a number with a unit of its own."""
    other = "," if layout.decimal == "." else "."
    if other in cell:
        raise UnitError(f"has a {other!r}")
    text = cell.replace(",", ".")
    try:
        return parse(f"{text} {spec.unit}", meta.kind)
    except UnitError:
        return parse(text, meta.kind)


def _refused(cell: str, what: str, spec: Spec, layout: Layout) -> Problem:
    """Return why a cell is no number, and what is one."""
    unit = f" in {spec.unit}" if spec.unit else ""
    accepted = f"a number{unit} with the decimal sign {layout.decimal!r}"
    if _DATE.fullmatch(cell):
        step = "the spreadsheet changed it: format the cell as text and type it again"
        return Problem("is a date", value=cell, accepted=accepted, next_step=step)
    return Problem(what, value=cell[: limits.QUANTITY_LENGTH], accepted=accepted)


def _words(
    cells: list[str], words: dict[str, int], letters: dict[str, str], dtype: type[np.generic]
) -> Column:
    accepted = list(letters) or list(words)
    values = np.zeros(len(cells), dtype)
    bad = {}
    for i, cell in enumerate(cells):
        word = letters.get(cell, "" if letters else cell)
        if word in words:
            values[i] = words[word]
        else:
            known = ", ".join(accepted[:12])
            bad[i] = Problem(
                "is not one of the letters" if cell else "is blank", value=cell[:64], accepted=known
            )
    return Column(values, bad)


def _texts(cells: list[str], letters: dict[str, str]) -> Column:
    bad = {i: Problem("is blank") for i, cell in enumerate(cells) if not cell}
    for i, cell in enumerate(cells):
        if letters and cell and cell not in letters:
            known = ", ".join(list(letters)[:12])
            bad[i] = Problem("is not one of the letters", value=cell[:64], accepted=known)
        elif odd := steering(cell):
            accepted = f"a text without {odd!r}"
            bad[i] = Problem(
                "holds a control character", value=cell[: limits.QUANTITY_LENGTH], accepted=accepted
            )
    return Column(np.array([letters.get(cell, cell) for cell in cells], dtype=np.str_), bad)
