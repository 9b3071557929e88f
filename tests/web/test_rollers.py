"""The rollers in the position room, and their drawing."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from starlette.testclient import TestClient

from halfbore.domain.rollers import RollerPattern, RollerView
from halfbore.present.roller_drawing import heavier, pressure_along, rollers_round
from halfbore.present.svg import to_svg
from tests.present.drawn_texts import outside


def _pattern(clearance: float, most: float) -> RollerPattern:
    around = np.maximum(np.cos(2 * np.pi * np.arange(20) / 20), 0.0) * most
    along = np.linspace(900.0, 1000.0, 41)
    return RollerPattern(clearance, around, 1.2, along, along[::-1] * 1.1)


VIEW = RollerView(
    "running",
    20e3,
    math.pi,
    1,
    (math.pi / 2, 1.5 * math.pi),
    2e-4,
    np.linspace(-12.0, 12.0, 41),
    _pattern(0.02, 3e3),
    _pattern(0.1, 4e3),
)


def test_the_heavier_end_of_the_clearance_has_the_bars() -> None:
    assert heavier(VIEW)[0] is VIEW.loose
    same = replace(VIEW, loose=VIEW.tight)
    assert heavier(same) == (VIEW.tight, VIEW.tight)
    assert "4.00\u00a0kN on the heaviest, load down" in rollers_round(VIEW).title
    assert len(rollers_round(same).shapes[0].shapes) < len(rollers_round(VIEW).shapes[0].shapes)  # type: ignore[union-attr]


@pytest.mark.parametrize("degrees", range(0, 360, 15))
def test_whatever_the_direction_of_the_load_no_word_is_cut(degrees: int) -> None:
    turned = replace(VIEW, angle=math.radians(degrees))
    assert outside(to_svg(rollers_round(turned))) == []
    assert outside(to_svg(pressure_along(turned))) == []


def test_joints_that_are_not_known_are_not_drawn() -> None:
    assert to_svg(rollers_round(VIEW)).count(">joint<") == 2
    assert ">joint<" not in to_svg(rollers_round(replace(VIEW, joints=(math.nan, math.nan))))


def test_the_pressure_tells_its_largest_with_the_tilt() -> None:
    assert "1\u202f100\u00a0MPa" in to_svg(pressure_along(VIEW))


@pytest.mark.slow  # a study of a shaft line
def test_a_position_shows_its_rollers(client: TestClient) -> None:
    text = client.get("/positions/E1-B").text
    assert 'id="rollers"' in text
    assert "ISO/TS 16281" in text
    assert text.count("<figure>") == 2
