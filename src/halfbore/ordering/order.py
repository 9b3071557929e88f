"""The order of one position: words, code, parts, spares, and every question answered or open."""

from __future__ import annotations

from halfbore.domain.catalogue import Catalogue
from halfbore.domain.job import Job
from halfbore.domain.order import AnswerState, Order, Wishes
from halfbore.domain.position import Position
from halfbore.domain.shaftline import PositionDuty
from halfbore.domain.unit import UnitTable
from halfbore.ordering.parts import items_of, spares_of, specification_of
from halfbore.ordering.questions import Asked, answers
from halfbore.ordering.scheme import code_parts, write_code
from halfbore.ordering.words import describe


def make_order(
    job: Job,
    position: Position,
    unit: UnitTable,
    seal_left: int,
    seal_right: int,
    clearance: int,
    catalogue: Catalogue,
    duty: PositionDuty | None = None,
    wishes: Wishes | None = None,
) -> Order:
    """Return the order of the unit that is chosen for a position.

    unit: one row of the catalogue; seal_left, seal_right, clearance: columns of its seal and clearance arrays,
    as a sweep gives them; duty: loads of the position, without which their questions stay open;
    wishes: what is wanted beside the unit.
    Returns the order; it is ready when no question is open, though some answers may be assumed.
    Raises InputError when the unit is not made like that.
    """
    specification = specification_of(unit, seal_left, seal_right, clearance)
    code = write_code(specification, catalogue.scheme)
    wanted = wishes or Wishes()
    asked = Asked(job, position, unit, specification, code, catalogue.version, duty, wanted)
    found = answers(asked)
    return Order(
        position=position.name,
        specification=specification,
        words=describe(specification),
        code=code,
        items=items_of(specification, unit, catalogue),
        spares=spares_of(specification, unit, catalogue),
        answers=found,
        ready=all(answer.state is not AnswerState.OPEN for answer in found),
        to_confirm=tuple(a.question for a in found if a.state is AnswerState.ASSUMED),
        code_parts=code_parts(specification, catalogue.scheme),
    )
