"""Order codes in words and back: one record, two ways to write it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from halfbore.calc.reading import read
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.order import Specification
from halfbore.errors import InputError, Problem
from halfbore.ordering.parts import unit_of
from halfbore.ordering.scheme import read_code, write_code
from halfbore.ordering.words import describe


@dataclass(frozen=True)
class Coded:
    """A specification with its code, its words, and whether the catalogue holds such a unit."""

    specification: Specification
    code: str
    words: str
    in_catalogue: bool


def of_code(text: str, catalogues: Iterable[Catalogue]) -> Coded:
    """Return what a code stands for, by the first scheme that reads it.

    Raises InputError that says, for each supplier, where in the code it goes wrong.
    """
    problems: list[Problem] = []
    for catalogue in catalogues:
        try:
            return _coded(read_code(text, catalogue.scheme, catalogue.supplier), catalogue)
        except InputError as error:
            problems += [_of(catalogue.supplier, p) for p in error.problems]
    raise InputError(problems)


def of_words(data: object, catalogues: Iterable[Catalogue]) -> Coded:
    """Return the code of a specification given as a mapping of its features.

    Raises InputError for a feature that is missing or unknown, and where the supplier has no letters for one.
    """
    specification, known = read(Specification, data), {c.supplier: c for c in catalogues}
    if specification.supplier not in known:
        raise InputError(
            Problem("no catalogue of this supplier", "supplier", specification.supplier, ", ".join(known))
        )
    return _coded(specification, known[specification.supplier])


def _coded(specification: Specification, catalogue: Catalogue) -> Coded:
    code = write_code(specification, catalogue.scheme)
    try:
        held = len(unit_of(specification, catalogue.units)) > 0
    except InputError:
        held = False
    return Coded(specification, code, describe(specification), held)


def _of(supplier: str, problem: Problem) -> Problem:
    return Problem(
        f"{supplier}: {problem.what}", problem.where, problem.value, problem.accepted, problem.next_step
    )
