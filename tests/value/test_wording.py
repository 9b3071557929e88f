"""The answer in words, and when it is no."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from halfbore.domain.value import Estimate
from halfbore.value import wording
from halfbore.value.breakeven import Turning


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (0.0, "0"),
        (0.04, "0"),
        (0.38, "0.4"),
        (11.4, "11"),
        (6.42, "6.4"),
        (12884.0, "13\u202f000"),
        (-3.21, "−3.2"),
    ],
)
def test_two_digits(number: float, text: str) -> None:
    assert wording.two_digits(number) == text


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        (11.0, 19.0, "saves 11 to 19 h at the next change"),
        (3.52, 3.54, "saves 3.5 h at the next change"),
        (-3.5, -3.5, "takes 3.5 h more at the next change"),
        (-1.4, 0.04, "takes up to 1.4 h more at the next change"),
        (-0.04, 1.4, "saves up to 1.4 h at the next change"),
        (-5.2, -0.5, "takes 0.5 to 5.2 h more at the next change"),
        (-1.0, 6.4, "takes between 1.0 h more and 6.4 h less at the next change"),
    ],
)
def test_hours_in_words(low: float, high: float, text: str) -> None:
    assert text in wording.answer("A", True, 0.9, Estimate(low, (low + high) / 2.0, high, 0.0))


@pytest.mark.parametrize(("payback", "said"), [(0.0, True), (2.5, False), (math.nan, False)])
def test_a_payback_of_nothing_is_at_once(payback: float, said: bool) -> None:
    sentence = wording.answer("A", True, 0.74, Estimate(1.0, 2.0, 3.0, 2.0), payback)
    assert ("pays in 74 runs of 100, mostly at once." in sentence) == said


NOWHERE = Turning(math.nan, math.nan, math.nan, False, False)


@pytest.mark.parametrize(
    ("pays", "turning", "covered", "said"),
    [
        (
            True,
            Turning(220.0, 0.0, 0.88, False, False),
            0.5,
            "The answer would be no if an hour of lost production cost less than 220 EUR, or if more than 88 % of "
            "changes fell into stops taken anyway.",
        ),
        (
            True,
            Turning(0.0, 0.0, math.nan, True, True),
            0.5,
            "Half of the runs pay even if an hour of lost production cost nothing, or if every change fell into a "
            "stop taken anyway; as things stand it loses in 26 runs of 100.",
        ),
        (
            True,
            Turning(0.0, 0.0, math.nan, True, False),
            0.5,
            "Half of the runs pay even if an hour of lost production cost nothing, for what falls due once in a long "
            "stop carries it, or if every change fell into a stop taken anyway; as things stand it loses in 26 runs "
            "of 100.",
        ),
        (
            False,
            Turning(900.0, 700.0, math.nan, False, False),
            0.5,
            "Half of the runs would pay from 900 EUR for an hour of lost production.",
        ),
        (
            False,
            Turning(math.nan, math.nan, math.nan, True, True),
            0.5,
            "Half of the runs would pay if an hour of lost production cost nothing.",
        ),
        (
            False,
            replace(NOWHERE, from_first_hour=700.0),
            6.0,
            "No cost of lost production brings half of the runs to pay while the first 6 h of a stop cost nothing; "
            "if each hour cost from the first on, half of them would pay from 700 EUR an hour.",
        ),
        (False, NOWHERE, 6.0, "No cost of lost production brings half of the runs to pay."),
    ],
)
def test_when_no_in_words(pays: bool, turning: Turning, covered: float, said: str) -> None:
    assert wording.when_no(pays, 0.74, turning, covered, "EUR") == said
