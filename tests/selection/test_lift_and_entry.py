"""Lift needed = studs + lip (20 mm) + 2 mm to work with; allowed 30 to 40 mm unless a test says more."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from halfbore.domain.check import Verdict
from halfbore.domain.position import Lift
from halfbore.present.bars import used_words
from halfbore.present.wording import limit_of, value_of
from halfbore.selection.checks.lift_and_entry import CHECK, base_step, needed
from halfbore.units import Span
from tests.selection.units import BASE, need, table, told


def studs(low: float, high: float | None = None) -> object:
    most = low if high is None else high
    return dataclasses.replace(BASE, stud_stick_out=Span(low, (low + most) / 2, most))


@pytest.mark.parametrize(
    ("low", "high", "verdict", "used"),
    [
        (0.0, 0.0, Verdict.HOLDS, (22 / 40, 22 / 30)),
        (5.0, 5.0, Verdict.HOLDS, (27 / 40, 27 / 30)),
        (6.0, 6.0, Verdict.TIGHT, (28 / 40, 28 / 30)),
        (8.0, 8.0, Verdict.TIGHT, (30 / 40, 30 / 30)),
        # 60 mm studs: 82 mm against 30 to 40 mm; the drive is opened, which the plan pays for: the whole limit.
        (60.0, 60.0, Verdict.TIGHT, (1.0, 1.0)),
        (0.0, 20.0, Verdict.TIGHT, (22 / 40, 1.0)),
    ],
)
def test_lift_needed_against_lift_allowed(
    low: float, high: float, verdict: Verdict, used: tuple[float, float]
) -> None:
    found = told(CHECK, need(base=studs(low, high)), table())
    assert found.verdict is verdict
    assert found.used is not None
    assert (found.used.low, found.used.high) == pytest.approx(used)
    assert ("the drive must be opened" in found.reason) is (20 + 2 + high > 30)


@pytest.mark.parametrize(
    ("high", "cells"),
    [
        (5.0, ("needs 27 mm", "allowed 30 to 40 mm", "90 %")),
        (60.0, ("needs 82 mm", "allowed 30 to 40 mm", "over 100 %")),
    ],
)
def test_a_lift_reads_as_what_is_needed_and_what_is_allowed(high: float, cells: tuple[str, str, str]) -> None:
    found = told(CHECK, need(base=studs(high)), table())
    read = (value_of(found), limit_of(found), used_words(found))
    assert tuple(words.replace("\u00a0", " ") for words in read) == cells


def test_a_lift_that_is_not_allowed_at_all_is_tight() -> None:
    found = told(CHECK, need(lift=Lift(Span.of(0.0))), table())
    assert found.verdict is Verdict.TIGHT
    assert found.used is not None
    assert (found.used.low, found.used.high) == (1.0, 1.0)


def test_without_the_survey_or_the_lip_it_is_open() -> None:
    site = told(CHECK, need(lift=Lift()), table())
    assert site.verdict is Verdict.NO_DATA
    assert site.reason.startswith("22 mm of lift needed; what is allowed was not surveyed")
    assert site.datum.endswith("from the site")
    supplier = told(CHECK, need(), table(lip_depth=np.nan))
    assert (supplier.verdict, supplier.datum) == (
        Verdict.NO_DATA,
        "depth of the cradle's lip, from the supplier",
    )


@pytest.mark.parametrize(
    ("centre", "words"),
    [
        (135.0, ""),
        (120.0, "centre 15 mm lower than now: pack the base last"),
        (155.0, "centre 20 mm higher than now: mill the base, or the line and its drive follow"),
    ],
)
def test_the_new_centre_height_has_a_sign(centre: float, words: str) -> None:
    found = told(CHECK, need(), table(centre_height=centre))
    assert found.reason.endswith(words)
    assert base_step(need(), table(centre_height=centre))[0] == centre - 135.0


def test_a_line_that_can_follow_is_lifted_by_the_rise_as_well() -> None:
    follows = dataclasses.replace(BASE, drive_can_follow=True)
    high, low = table(centre_height=155.0), table(centre_height=120.0)
    assert needed(need(base=follows), high)[0][0] == pytest.approx(42.0)
    # 15 mm lower: it passes under the shaft before its packing goes in.
    assert needed(need(base=follows), low)[0][0] == pytest.approx(7.0)
    assert needed(need(), table(centre_height=100.0))[1][0] == 0.0
    assert needed(need(), high)[0][0] == pytest.approx(22.0)


def test_a_centre_height_that_nobody_surveyed_is_no_step() -> None:
    unknown = dataclasses.replace(BASE, centre_height=None, drive_can_follow=True)
    assert np.isnan(base_step(need(base=unknown), table())[0])
    assert told(CHECK, need(base=unknown), table()).verdict is Verdict.HOLDS


def test_a_base_that_must_be_milled_is_tight_whatever_the_lift() -> None:
    found = told(CHECK, need(), table(centre_height=155.0))
    assert found.verdict is Verdict.TIGHT
    assert found.used is not None
    assert found.used.high == 1.0
    # Lengths that hold beside a whole limit used would read wrongly: the base decides.
    assert (found.value, found.limit) == (None, None) and "mill the base" in found.reason
    # Without the lip nothing is known of the lift, higher or not.
    assert told(CHECK, need(), table(centre_height=155.0, lip_depth=np.nan)).verdict is Verdict.NO_DATA


def test_studs_that_end_in_the_packing_are_told() -> None:
    found = told(CHECK, need(base=studs(30.0)), table(centre_height=95.0))
    assert found.reason.startswith("12 mm of lift needed")
    assert found.reason.endswith("pack the base last, and studs of 30 mm are too short for it")


def test_base_bolts_are_compared() -> None:
    def bolts(spacing: float | None, **unit: object) -> str:
        base = dataclasses.replace(BASE, bolt_spacing=spacing)
        return dict(told(CHECK, need(base=base), table(**unit)).details)["base bolts"]

    assert bolts(None) == "spacing not known"
    assert bolts(300.0, bolt_spacing=290.0, bolt_slot=12.0).endswith("within its slots")
    assert bolts(300.0, bolt_spacing=270.0, bolt_slot=12.0).endswith("new holes or a plate between")
