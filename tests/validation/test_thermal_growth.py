"""Thermal expansion: one textbook example and two constructed bearing cases."""

from __future__ import annotations

from collections.abc import Callable

from halfbore.mechanics import growth


def test_rod_held_between_walls(compare: Callable[..., None]) -> None:
    """Brass, 20e-6/K, E 100 GPa, 172 MPa from 20 °C: the strain that is held back at 106 °C."""
    compare(
        "stress at the answer, in MPa",
        100e3 * growth.growth(20.0, 1.0, 106 - 20),
        172,
        source="Callister, Materials Science and Engineering, Example 19.1",
        status="read",
        rtol=1e-9,
    )


def test_travel_of_a_floating_bearing(compare: Callable[..., None]) -> None:
    moved = growth.growth_against_base(3000.0, growth.expansion("carbon steel"), 75.0, 11.7, 20.0)
    compare(
        "3 m, 55 K warmer than the base, in mm",
        moved,
        1.9305,
        source="constructed",
        status="computed",
        rtol=1e-9,
    )


def test_shaft_against_a_warm_iron_base(compare: Callable[..., None]) -> None:
    iron = growth.expansion("grey cast iron")
    moved = growth.growth_against_base(2400.0, 11.7, 80.0, iron, 40.0)
    compare(
        "2.4 m, +60 K against iron +20 K, in mm",
        moved,
        1.1664,
        source="constructed",
        status="computed",
        rtol=1e-9,
    )
