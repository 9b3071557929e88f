"""Belt and chain examples of three machine-design books, read in notebook copies and worked again."""

from __future__ import annotations

from collections.abc import Callable
from math import pi, radians

from halfbore.mechanics import belt
from halfbore.mechanics.power import surface_speed, torque

KHURMI = "Khurmi & Gupta, Theory of Machines, Example "
HORSEPOWER = 745.69987158227
POUND = 4.4482216152605


def test_flat_belt_power(compare: Callable[..., None]) -> None:
    speed = surface_speed(600.0, 200.0)
    slack = belt.slack_from_tight(2500.0, belt.tension_ratio(0.25, radians(160)))
    given = {"source": KHURMI + "11.4", "rtol": 1e-3, "why": "three figures printed"}
    compare("flat belt, power in kW", (2500 - slack) * speed / 1000, 7.89, status="read", **given)
    compare(
        "flat belt, slack strand in N", slack, 1243.7849, source=KHURMI + "11.4", status="computed", rtol=1e-7
    )
    pull = belt.shaft_pull(2500.0, slack, radians(160))
    compare(
        "flat belt, shaft pull in N", pull, 3693.3559, source=KHURMI + "11.4", status="computed", rtol=1e-7
    )


def test_rope_on_a_drum(compare: Callable[..., None]) -> None:
    slack = belt.slack_from_tight(9000.0, belt.tension_ratio(0.25, 2.5 * 2 * pi))
    power = (9000 - slack) * surface_speed(300.0, 20.0) / 1000
    compare(
        "rope of 2.5 turns, slack end in N", slack, 177.33, source=KHURMI + "11.5", status="read", atol=0.005
    )
    compare("rope of 2.5 turns, power in kW", power, 2.772, source=KHURMI + "11.5", status="read", atol=5e-4)


def test_belt_width_with_centrifugal_tension(compare: Callable[..., None]) -> None:
    """The belt's own tension takes ρ·v² of the allowed stress; mass and width go together."""
    speed = surface_speed(1200.0, 250.0)
    pull = belt.effective_pull(7500.0, speed)
    ratio = belt.tension_ratio(0.3, radians(165))
    loaded = belt.tight_from_pull(pull, ratio)
    width = loaded / (10.0 * (1.5 - belt.centrifugal_tension(1000.0, speed) / 1e6))
    compare("belt width in mm", width, 65.9, source=KHURMI + "11.8", status="read", atol=0.05)
    tight = belt.tight_from_pull(pull, ratio, belt.centrifugal_tension(1e-3 * 10 * width, speed))
    compare(
        "that belt is stressed in MPa",
        tight / (10 * width),
        1.5,
        source=KHURMI + "11.8",
        status="computed",
        rtol=1e-9,
    )


def test_speed_of_greatest_power(compare: Callable[..., None]) -> None:
    allowed, mass = 2.0 * 100 * 6, 1e-3 * 100 * 6
    speed = belt.speed_of_greatest_power(allowed, mass)
    centrifugal = belt.centrifugal_tension(mass, speed)
    slack = belt.slack_from_tight(allowed, belt.tension_ratio(0.3, radians(120)), centrifugal)
    power = (allowed - slack) * speed / 1000
    compare(
        "speed of greatest power in m/s", speed, 25.82, source=KHURMI + "11.10", status="read", atol=0.005
    )
    compare("greatest power in kW", power, 9.64, source=KHURMI + "11.10", status="read", atol=0.005)
    compare(
        "centrifugal part", centrifugal / allowed, 1 / 3, source=KHURMI + "11.10", status="read", rtol=1e-12
    )


def test_power_from_initial_tension(compare: Callable[..., None]) -> None:
    pull = belt.pull_from_initial(2000.0, belt.tension_ratio(0.3, radians(150)))
    power = pull * surface_speed(400.0, 500.0) / 1000
    compare(
        "power from initial tension in kW",
        power,
        15.7,
        source=KHURMI + "11.12",
        status="read",
        atol=0.05,
        why="three figures printed; 15.653 in full",
    )


def test_two_v_belts(compare: Callable[..., None]) -> None:
    speed = surface_speed(300.0, 1500.0)
    mass, allowed = 1200 * 750e-6, 7.0 * 750
    ratio = belt.tension_ratio(belt.groove_friction(0.12, radians(15)), pi)
    slack = belt.slack_from_tight(allowed, ratio, belt.centrifugal_tension(mass, speed))
    power = 2 * (allowed - slack) * speed / 1000
    compare("two V-belts, power in kW", power, 171.69, source=KHURMI + "11.17", status="read", atol=0.005)
    best = belt.speed_of_greatest_power(allowed, mass) * 60_000 / (pi * 300)
    compare(
        "their speed of greatest power in r/min", best, 2807, source=KHURMI + "11.17", status="read", atol=0.5
    )


def test_crossed_belt(compare: Callable[..., None]) -> None:
    source = "Jindal, Machine Design, Example 20-1"
    wrap = belt.wrap_crossed(300.0, 900.0, 5800.0)
    pull = belt.effective_pull(50_000.0, 20.0)
    ratio, centrifugal = belt.tension_ratio(0.4, wrap), belt.centrifugal_tension(1.95, 20.0)
    why = "values of the notebook copy, which corrects a slip of the printed book"
    compare("crossed belt, wrap in rad", wrap, 3.35, source=source, status="read", atol=0.005)
    tight, slack = (
        belt.tight_from_pull(pull, ratio, centrifugal),
        belt.slack_from_pull(pull, ratio, centrifugal),
    )
    compare(
        "crossed belt, tight strand in N", tight, 4167.4, source=source, status="read", atol=0.05, why=why
    )
    compare(
        "crossed belt, slack strand in N", slack, 1667.4, source=source, status="read", atol=0.05, why=why
    )


def test_roller_chain(compare: Callable[..., None]) -> None:
    source = "Wentzell, Machine Design, Example 14.4"
    pitch_circumference = 0.5 * 25.4 * 12
    speed = surface_speed(pitch_circumference / pi, 1800.0)
    compare("chain speed in ft/min", speed / 0.3048 * 60, 900, source=source, status="read", rtol=1e-12)
    pull = belt.effective_pull(5.31 * HORSEPOWER, speed) / POUND
    compare(
        "chain pull in lbf",
        pull,
        194.62,
        source=source,
        status="read",
        rtol=5e-4,
        why="the book takes 63000 for 63025 lbf·in·r/min a horsepower",
    )


def test_torque_of_power_and_speed(compare: Callable[..., None]) -> None:
    metric = torque(1000.0, 1.0) / 1000
    inch = torque(HORSEPOWER, 1.0) / (POUND * 25.4)
    why = "last figure printed"
    compare(
        "T·n/P in N·m·r/min a kW",
        metric,
        9549.3,
        source="handbooks",
        status="from memory",
        atol=0.05,
        why=why,
    )
    compare(
        "T·n/P in lbf·in·r/min a hp", inch, 63025, source="handbooks", status="from memory", atol=0.5, why=why
    )
