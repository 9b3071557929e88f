"""Drum drives: wrap factors, a conveyor in the form of ISO 5048 and a bucket elevator.

No published drum example with numbers could be read; the conveyor and the elevator are constructed cases
whose arithmetic was done apart from this code.
"""

from __future__ import annotations

from collections.abc import Callable
from math import asin, radians

import pytest

from halfbore.mechanics import belt, conveyor, drum, elevator
from halfbore.mechanics.forces import magnitude

ISO5048 = "constructed case in the form of ISO 5048"
ELEVATOR = "constructed elevator, common practice"


@pytest.mark.parametrize(
    ("degrees", "bare", "lagged"),
    [
        (180, 0.84, 0.50),
        (200, 0.72, 0.42),
        (210, 0.66, 0.38),
        (220, 0.62, 0.35),
        (240, 0.54, 0.30),
        (380, 0.23, 0.11),
    ],
)
def test_wrap_factor(compare: Callable[..., None], degrees: float, bare: float, lagged: float) -> None:
    given = {"source": "CEMA, Belt Conveyors for Bulk Materials, wrap factor", "status": "from memory"}
    why = "two decimals, some cut off where others are rounded"
    for name, friction, printed in (("bare", 0.25, bare), ("lagged", 0.35, lagged)):
        factor = drum.wrap_factor(friction, radians(degrees))
        compare(f"wrap factor, {degrees}°, {name}", factor, printed, atol=0.007, why=why, **given)


def test_conveyor(compare: Callable[..., None]) -> None:
    """600 t/h at 2.5 m/s over 200 m, lift 10 m, 190° wrap at µ 0.35, start factor 1.3."""
    given = {"source": ISO5048, "status": "computed", "rtol": 1e-9}
    load = conveyor.load_per_metre(600.0, 2.5)
    main = conveyor.main_resistance(0.02, 200e3, 12 + 4.5, 14.0, load, asin(10 / 200), 9.81)
    lift = conveyor.lift_resistance(load, 10e3, 9.81)
    pull = conveyor.conveyor_pull(conveyor.length_coefficient(200e3), main, lift)
    slack = drum.slack_minimum(pull, 0.35, radians(190), 1.3)
    tight = drum.tight_from_slack(slack, pull)
    compare("F_H in N", main, 4357.533694241665, **given)
    compare("F_St in N", lift, 6540, **given)
    compare("F_U in N", pull, 12858.423856650414, **given)
    compare("T_2 in N", slack, 7625.931449035771, **given)
    compare("T_1 in N", tight, 20484.355305686186, **given)
    compare("resultant in N", belt.shaft_pull(tight, slack, radians(190)), 28025.73442513805, **given)
    carry = conveyor.sag_tension(1200.0, 14 + load, 0.02, 9.81)
    compare("sag limit on the carrying run in N", carry, 5935.05, **given)
    compare(
        "sag limit on the return run in N", conveyor.sag_tension(3000.0, 14.0, 0.02, 9.81), 2575.125, **given
    )
    across = belt.strand_pull(tight, slack, radians(90), belt.slack_direction(radians(90), radians(190), -1))
    compare("resultant from the two directions in N", magnitude(*across), 28025.73442513805, **given)


def test_bucket_elevator(compare: Callable[..., None]) -> None:
    given = {"source": ELEVATOR, "status": "computed", "rtol": 1e-9}
    run = elevator.run_per_metre(9.0, 2.8, 200.0)
    load = elevator.load_per_metre(3.2, 0.75, 200.0)
    tight = elevator.tight_strand(run, load, 25e3, 4e3, 3000.0, 9.81)
    slack = elevator.slack_strand(run, 25e3, 3000.0, 9.81)
    compare("belt and buckets in kg/m", run, 23, **given)
    compare("load in kg/m", load, 12, **given)
    compare("T_1 in N", tight, 10554.63, **given)
    compare("T_2 in N", slack, 7140.75, **given)
    compare("power in kW", elevator.power(tight, slack, 2.2) / 1000, 7.510536, **given)
    compare("capacity in t/h", elevator.capacity(load, 2.2), 95.04, **given)
    compare("head shaft load in N", elevator.head_load(tight, slack, 2500.0), 20195.38, **given)
