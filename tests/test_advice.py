"""What is advised: a question that is open is no refusal, and nothing is bought before what may turn the unit away."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from halfbore.advice import NOT_SETTLED, NOT_SHOWN, advised, conditioned, held_back, sentence
from halfbore.domain.estimate import Narrowing
from halfbore.domain.order import SHOWN, AnswerState
from halfbore.domain.study import Decision, PositionStudy
from halfbore.selection.choose import choose
from tests.documents.studies import studied
from tests.selection.units import need, table

WORDS = "Weigh the wheel first: it decides whether the unit holds at F1-A"


def doubt(fails: bool = True) -> Narrowing:
    turned_away = ("room",) if fails else ()
    return Narrowing(
        "F1-A", "loads[wheel].mass", WORDS, "1 t", "3 t", 1.0, 1.0, "room", True, "scale", turned_away
    )


def fan_as(decision: Decision) -> PositionStudy:
    found = studied("fan")
    changed = replace(found, positions=(replace(found.positions[0], decision=decision),))
    return conditioned(changed, [doubt()]).positions[0]


def test_a_unit_that_waits_for_an_answer_is_not_turned_away() -> None:
    waits, fails = table(1, speed_limit=np.nan), table(1, length=500.0)
    assert advised(choose(need(), waits), None, "")[0] is Decision.WAITS
    assert advised(choose(need(), fails), None, "")[0] is Decision.NO_UNIT
    assert advised(
        choose(need(), table(2, speed_limit=[np.nan, 2000.0], length=[180.0, 500.0])), None, ""
    ) == (
        Decision.WAITS,
        "Not decided at A: of 2 with this bore, 1 is open until a question is settled: ask S for the speed limit (1). "
        "Room turns 1 away.",
    )


def test_a_conversion_waits_for_the_measurement_that_may_turn_its_unit_away() -> None:
    found = fan_as(Decision.CONVERT)
    assert found.decision is Decision.CONVERT_IF
    assert found.first == WORDS
    assert found.because.startswith(f"{WORDS}. At the bad end the unit does not hold. If it does: ")
    assert found.order is not None
    assert (found.order.ready, found.order.standing) == (False, f"not ready: {NOT_SHOWN}")


def test_a_unit_whose_worth_is_not_known_holds_only_once_that_is_shown() -> None:
    found = fan_as(Decision.HOLDS)
    assert found.decision is Decision.HOLDS_IF
    assert found.because.startswith(f"{WORDS}. At the bad end the unit does not hold. If it does: ")
    assert sentence([found]) == "At F1-A a split unit holds once that is shown."


@pytest.mark.parametrize("decision", [Decision.SETTLE_FIRST, Decision.NO_CLEAR_CASE, Decision.DOES_NOT_PAY])
def test_other_advice_stands_but_its_order_is_held_back(decision: Decision) -> None:
    found = fan_as(decision)
    assert found.decision is decision
    assert not found.because.startswith(WORDS)
    assert found.order is not None
    assert found.order.held_back == NOT_SHOWN


def test_what_is_still_to_be_shown_stands_among_the_questions_of_the_order() -> None:
    found = fan_as(Decision.CONVERT)
    assert found.order is not None
    last = found.order.answers[-1]
    assert (last.question, last.answer, last.state) == (SHOWN, WORDS, AnswerState.OPEN)


def test_a_measurement_that_only_narrows_changes_nothing() -> None:
    found = studied("fan")
    assert conditioned(found, [doubt(fails=False)]).positions == found.positions
    assert conditioned(found, []).sentence == found.sentence


def test_the_first_reason_that_holds_an_order_back_stands() -> None:
    order = studied("fan").positions[0].order
    held = held_back(order, NOT_SETTLED)
    assert held is not None
    assert held.standing == "not ready: the root cause is not settled"
    assert held_back(held, NOT_SHOWN) is held
    assert held_back(None, NOT_SHOWN) is None


def test_an_order_waits_for_its_root_cause() -> None:
    settle = next(p for p in studied("line_shaft").positions if p.decision is Decision.SETTLE_FIRST)
    assert settle.order is not None
    assert (settle.order.ready, settle.order.held_back) == (False, NOT_SETTLED)


@pytest.mark.parametrize("decision", Decision)
def test_every_advice_has_words_for_a_machine_and_for_a_column(decision: Decision) -> None:
    one = replace(studied("fan").positions[0], decision=decision)
    both = sentence([one, replace(one, position="F1-B")])
    assert "F1-A and F1-B" in both
    assert len({d.short for d in Decision}) == len(Decision)


def test_what_keeps_its_bearing_is_said_of_one_and_of_several() -> None:
    one = replace(studied("fan").positions[0], decision=Decision.KEEP)
    assert sentence([one]) == "F1-A keeps its bearing."
    assert sentence([one, replace(one, position="F1-B")]) == "F1-A and F1-B keep their bearing."
