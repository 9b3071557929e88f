"""Amounts of grease by two maintenance guides that must agree with each other."""

from __future__ import annotations

from halfbore.mechanics.lubrication import relubrication_amount


def test_metric_and_inch_rule_agree(compare):
    compare(
        "grease for 180 mm × 34 mm by the inch rule, 0.114 oz for each square inch [g]",
        relubrication_amount(180.0, 34.0),
        0.114 * 28.349523125 * 180.0 * 34.0 / 25.4**2,
        rtol=3e-3,
        source="maintenance guides on grease, 0.005 g/mm² and 0.114 oz/in²",
        status="read",
        why="two roundings of one rule",
    )
