"""What a mechanics function refuses: the one place that words it.

Not a number is let through: a datum that nobody gave makes a result that nobody knows.
"""

from __future__ import annotations

from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike

from halfbore.errors import InputError, Problem
from halfbore.working import Number

T = TypeVar("T")


def refuse(bad: ArrayLike, accepted: str, **values: Number) -> None:
    """Refuse values of which one or more are bad.

    bad: truth value or array of them; accepted: what is accepted, in words; values: by argument name.
    Raises InputError that names the arguments, what was read and what is accepted.
    """
    if not np.any(bad):
        return
    raise InputError(
        Problem("cannot be used", where=name, value=_shown(value), accepted=accepted)
        for name, value in values.items()
    )


def positive(**values: Number) -> None:
    """Refuse values that are zero, below it or without end."""
    for name, value in values.items():
        refuse(np.less_equal(value, 0) | np.isinf(value), "a number above zero", **{name: value})


def not_negative(**values: Number) -> None:
    """Refuse values that are below zero or without end."""
    for name, value in values.items():
        refuse(np.less(value, 0) | np.isinf(value), "zero or more", **{name: value})


def a_sense(**values: Number) -> None:
    """Refuse values that are neither 1 (from y to z) nor -1 (the other way)."""
    for name, value in values.items():
        refuse(np.abs(value) != 1, "1 (from y to z) or -1", **{name: value})


def a_ring(diameter: Number, bore: Number) -> None:
    """Refuse a bore that is not inside its diameter."""
    bad = np.less(bore, 0) | np.greater_equal(bore, diameter) | np.isinf(diameter)
    refuse(bad, "a bore from 0 to below the diameter", diameter=diameter, bore=bore)


def one_of(table: dict[str, T], where: str, name: str) -> T:
    """Return a row of a table by name, or refuse the name and list those that are known."""
    if name not in table:
        raise InputError(Problem("is not in the table", where, name, ", ".join(sorted(table))))
    return table[name]


def _shown(value: Number) -> str:
    return np.array2string(np.asarray(value), threshold=6, precision=6)
