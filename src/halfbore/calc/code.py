"""Order codes in words and back: one record, two ways to write it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields

from halfbore.calc.reading import read
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.order import Specification
from halfbore.errors import InputError, Problem, shown
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

    Raises InputError of the scheme that reads furthest, which names the other suppliers that were tried.
    """
    failed: list[tuple[Catalogue, InputError]] = []
    for catalogue in catalogues:
        try:
            return _coded(read_code(text, catalogue.scheme, catalogue.supplier), catalogue)
        except InputError as error:
            failed.append((catalogue, error))
    names = ", ".join(catalogue.supplier for catalogue, _ in failed)
    scores = [_fit(text, catalogue, error) for catalogue, error in failed]
    if len(failed) > 1 and max(scores) == (0, 0):
        raise InputError(
            Problem("no supplier writes codes like this", "code", shown(text), f"codes of {names}")
        )
    nearest, best = failed[scores.index(max(scores))]
    others = [catalogue.supplier for catalogue, _ in failed if catalogue is not nearest]
    raise InputError(_of(nearest.supplier, p, others) for p in best.problems)


def _fit(text: str, catalogue: Catalogue, error: InputError) -> tuple[int, int]:
    """Return how far a scheme reads a text, and how often its separator stands in it."""
    problem = error.problems[0]
    place = re.search(r"character (\d+)$", problem.where)
    none = place is None or (problem.value != "" and text.startswith(problem.value))
    return 0 if none or place is None else int(place[1]) - 1, text.count(catalogue.scheme.separator)


def of_words(data: object, catalogues: Iterable[Catalogue]) -> Coded:
    """Return the code of a specification given as a mapping of its features, or as `Coded` holds it.

    Raises InputError for a feature that is missing or unknown, and where the supplier has no letters for one.
    """
    if isinstance(data, Mapping) and set(data) == {f.name for f in fields(Coded)}:
        data = data["specification"]
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


def _of(supplier: str, problem: Problem, others: list[str]) -> Problem:
    tried = f"tried too: {', '.join(others)}" if others else ""
    step = "; ".join(filter(None, (problem.next_step, tried)))
    return Problem(f"{supplier}: {problem.what}", problem.where, problem.value, problem.accepted, step)
