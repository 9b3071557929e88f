"""A catalogue as read becomes one to choose from: checked, filled, its holes counted."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain, islice

from halfbore import limits
from halfbore.catalogue import coverage, schemes, validate
from halfbore.catalogue.fill import with_fatigue_limit
from halfbore.domain.catalogue import Catalogue
from halfbore.errors import InputError, Problem


def admitted(catalogue: Catalogue, place: validate.Place | None = None) -> Catalogue:
    """Return the catalogue, checked, with what a standard can fill in, its holes and what looks odd.

    place: where the value of a unit stands in the supplier's file; by its code when not given.
    Raises InputError with every problem, past a limit their count.
    """
    units, where = catalogue.units, place or (lambda i, path: f"unit {catalogue.units.code[i]}, {path}")
    found = chain(validate.problems(units, where), schemes.problems(catalogue.scheme, units))
    first = list(islice(found, limits.PROBLEMS))
    if first:
        more = sum(1 for _ in found)
        raise InputError(
            [*first, Problem(f"and {more} more problems", catalogue.supplier)] if more else first
        )
    filled, count = with_fatigue_limit(units)
    notes = [*catalogue.notes]
    if count:
        notes.append(
            f"fatigue load limit of {count} unit{'s' if count > 1 else ''} computed by ISO 281:2007, B.3.3.3"
        )
    notes.extend(validate.oddities(filled))
    notes.extend(schemes.oddities(catalogue.scheme))
    return replace(catalogue, units=filled, holes=coverage.holes(filled), notes=tuple(notes))
