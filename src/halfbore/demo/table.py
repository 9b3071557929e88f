"""Columns of a demo catalogue as the text that its supplier would print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
INCH = 25.4


@dataclass(frozen=True)
class Size:
    """One bore of a supplier's list: as it is written, in a code, and in mm."""

    text: str
    code: str
    bore: float


@dataclass(frozen=True)
class Column:
    """One column: its heading, in one or more rows, its cells, and whether they are numbers."""

    heading: tuple[str, ...]
    cells: Sequence[str]
    number: bool


def numbers(*heading: str, values: Floats, digits: int = 0, given: NDArray[np.bool_] | None = None) -> Column:
    """Return a column of numbers with so many decimals, blank where a value is not given."""
    texts = [f"{v:.{digits}f}" for v in values.tolist()]
    if given is not None:
        texts = [t if g else "" for t, g in zip(texts, given.tolist(), strict=True)]
    return Column(heading, texts, True)


def texts(*heading: str, cells: Sequence[str]) -> Column:
    """Return a column of text."""
    return Column(heading, cells, False)


def inches(sixteenths: int) -> str:
    """Return a size in inches as the trade writes it, such as 4 15/16 in."""
    whole, part = divmod(Fraction(sixteenths, 16), 1)
    written = [str(whole)] if whole else []
    written += [f"{part.numerator}/{part.denominator}"] if part else []
    return f"{' '.join(written)} in"


def rows_of(columns: Sequence[Column]) -> list[tuple[str, ...]]:
    """Return columns as rows: the rows of their headings, then their cells."""
    depth = len(columns[0].heading)
    headings = [tuple(column.heading[i] for column in columns) for i in range(depth)]
    return headings + list(zip(*(column.cells for column in columns), strict=True))
