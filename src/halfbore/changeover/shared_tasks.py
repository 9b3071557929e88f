"""Tasks of every machine kind; plans that do the same work hold the same record.

Hours are least, likely and most for a 150 mm shaft and a crew of three: estimates from memory and common
practice, calibrated on whole changeovers, until a site replaces them.
"""

from __future__ import annotations

from halfbore.changeover.seat_branches import ONE_PIECE_SEAT, REPEAT_SEAT, SPLIT_SEAT, SeatState
from halfbore.domain.plan import Branch, Hazard, Phase, Task
from halfbore.domain.position import Mounting
from halfbore.sources import Source, Status
from halfbore.units import Span

TEMPLATE = Source(
    "task template", "hours", Status.ESTIMATE, "from memory and common practice, until the site replaces it"
)
SITE = Source("job file", "changeover", Status.GIVEN)

ENERGY, LOAD, FIRE = Hazard.STORED_ENERGY, Hazard.SUSPENDED_LOAD, Hazard.HOT_WORK
HOT, WEIGHT, TURNING = Hazard.HOT_SURFACE, Hazard.HANDLING, Hazard.ROTATING
CRANE = "crane or hoist"
SEAT = "condition of the seat"

Hours = tuple[float, float, float]


def task(
    phase: Phase,
    name: str,
    hours: Hours,
    persons: int,
    hazards: tuple[Hazard, ...] = (),
    equipment: tuple[str, ...] = (),
    branches: tuple[Branch, ...] = (),
    decided_by: str = "",
) -> Task:
    """Return a task of the template; hours are least, likely, most [h]."""
    return Task(name, phase, Span(*hours), persons, hazards, equipment, TEMPLATE, branches, decided_by)


ACCESS, PREPARE, EXCHANGE = Phase.ACCESS, Phase.PREPARE, Phase.EXCHANGE
RESTORE, RESTART = Phase.RESTORE, Phase.RESTART

ISOLATION = task(ACCESS, "Wait for the isolation", (0.5, 1.0, 2.0), 0)
COOLING = task(ACCESS, "Cool down", (0.0, 0.0, 0.0), 0)
CALL_IN = task(ACCESS, "Call in crew and lifting gear", (0.5, 1.5, 4.0), 0)
LOCK_OUT = task(ACCESS, "Lock out and prove dead", (0.2, 0.4, 0.8), 2, (ENERGY,), ("locks and tester",))
WAIT_FOR_CRANE = task(PREPARE, "Wait for the crane", (0.3, 0.7, 1.5), 0)
GUARDS_OFF = task(PREPARE, "Take the guards off", (0.2, 0.35, 0.6), 2)
DIAGNOSE = task(PREPARE, "Find out what failed", (0.5, 1.0, 2.0), 2)
HOLD_SHAFT = task(
    PREPARE, "Hold the shaft and take the load off", (0.3, 0.5, 1.1), 3, (LOAD,), ("jack or hold-down",)
)
PERMIT = task(
    PREPARE,
    "Set up the hot-work permit, cover shaft and seals",
    (0.3, 0.5, 1.0),
    2,
    (),
    ("fire watch", "heat-proof cover"),
)
OPEN_HOUSING = task(EXCHANGE, "Open the old housing", (0.2, 0.4, 0.8), 2, (WEIGHT,))
FETCH_PARTS = task(EXCHANGE, "Fetch parts that nobody expected", (0.5, 2.5, 6.0), 1)
CLEAR_DEBRIS = task(EXCHANGE, "Clear debris, check shaft and housing", (0.5, 1.3, 2.8), 2)
CLOSE_HOUSING = task(EXCHANGE, "Grease and close the housing", (0.4, 0.6, 1.2), 2, (WEIGHT,))
OLD_BASE = task(EXCHANGE, "Take the old housing away, clean the base", (0.3, 0.5, 1.0), 2, (WEIGHT,))
FIT_HALVES = task(
    EXCHANGE,
    "Fit the lower half and the ring halves",
    (0.6, 1.1, 2.2),
    3,
    (LOAD, WEIGHT),
    ("feeler gauges",),
)
OPEN_SPLIT = task(EXCHANGE, "Open the unit, take the ring halves out", (0.2, 0.4, 0.8), 2, (WEIGHT,))
NEW_HALVES = task(EXCHANGE, "Fit new ring halves and cage", (0.3, 0.5, 1.0), 2, (WEIGHT,), ("feeler gauges",))
TIGHTEN = task(
    EXCHANGE,
    "Tighten the clamping rings, check gaps and clearance",
    (0.25, 0.4, 0.8),
    2,
    (),
    ("torque wrench", "feeler gauges"),
)
CLOSE_SPLIT = task(EXCHANGE, "Grease and close the split unit", (0.3, 0.4, 0.8), 2, (WEIGHT,))
LOWER_SHAFT = task(EXCHANGE, "Lower the shaft", (0.1, 0.2, 0.4), 3, (LOAD,), ("jack or hold-down",))
BASE_BOLTS = task(RESTORE, "Tighten the base bolts", (0.2, 0.3, 0.6), 2, (), ("torque wrench",))
CHECK_ALIGNMENT = task(RESTORE, "Check the alignment", (0.5, 0.6, 1.5), 2, (), ("alignment gear",))
GUARDS_ON = task(RESTORE, "Put the guards on", (0.2, 0.35, 0.6), 2)
LOCKS_OFF = task(RESTART, "Take the locks off, hand back", (0.2, 0.3, 0.5), 2, (ENERGY,))
TEST_RUN = task(RESTART, "Test run, watch the temperature", (0.5, 0.8, 1.5), 1, (TURNING,), ("thermometer",))
RUN_UP = task(RESTART, "Run up to product", (0.5, 1.0, 2.0), 0)

PACKING = task(
    EXCHANGE, "Fit packing and set the base", (0.3, 0.6, 1.2), 2, (WEIGHT,), ("packing", "straightedge")
)
MILL_BASE = task(
    EXCHANGE, "Mill the base down", (4.0, 8.0, 16.0), 2, (TURNING,), ("portable milling machine",)
)
RAISE_LINE = task(
    EXCHANGE,
    "Raise the whole line, align the drive",
    (4.0, 8.0, 16.0),
    3,
    (LOAD,),
    ("jacks", "alignment gear"),
)
UNKNOWN_BASE = task(
    EXCHANGE,
    "Set the base to a height not compared before",
    (0.3, 0.6, 1.2),
    2,
    (WEIGHT,),
    ("packing", "straightedge"),
    (
        Branch("packing is enough", 0.8, Span(0.0, 0.0, 0.0)),
        Branch("the base is milled or the line raised", 0.2, Span(4.0, 8.0, 16.0)),
    ),
)

_TAKE_OFF: dict[Mounting | None, Hours] = {
    Mounting.ADAPTER_SLEEVE: (0.5, 1.1, 3.0),
    Mounting.WITHDRAWAL_SLEEVE: (0.5, 1.0, 2.5),
    Mounting.DIRECT_SEAT: (0.8, 1.5, 4.0),
    Mounting.TAPERED_SEAT: (0.5, 1.1, 2.5),
    Mounting.SET_SCREW: (0.1, 0.3, 0.8),
    Mounting.ECCENTRIC_COLLAR: (0.1, 0.3, 0.8),
    Mounting.PLAIN_BUSH: (0.2, 0.5, 1.2),
    Mounting.SPLIT_UNIT: (0.2, 0.4, 0.8),
    None: (0.4, 1.1, 4.0),
}
_CUT_OFF: dict[Mounting | None, Hours] = {
    Mounting.ADAPTER_SLEEVE: (1.0, 2.0, 4.5),
    Mounting.WITHDRAWAL_SLEEVE: (1.0, 2.0, 4.5),
    Mounting.DIRECT_SEAT: (1.2, 2.5, 5.5),
    Mounting.TAPERED_SEAT: (1.2, 2.3, 5.0),
    Mounting.SET_SCREW: (0.4, 0.8, 2.0),
    Mounting.ECCENTRIC_COLLAR: (0.4, 0.8, 2.0),
    None: (1.0, 2.2, 5.5),
}
LIFTS_OUT = (Mounting.PLAIN_BUSH, Mounting.SPLIT_UNIT)
"""Old bearings that come out in halves: nothing is cut."""
AS_A_WHOLE = (Mounting.SET_SCREW, Mounting.ECCENTRIC_COLLAR)
"""Old bearings that come off with their housing."""
_FIT_NEW: dict[Mounting | None, Hours] = {
    Mounting.DIRECT_SEAT: (0.8, 1.6, 3.5),
    Mounting.SET_SCREW: (0.2, 0.3, 0.8),
    Mounting.ECCENTRIC_COLLAR: (0.2, 0.3, 0.8),
    Mounting.PLAIN_BUSH: (0.4, 0.8, 2.0),
    Mounting.SPLIT_UNIT: (0.6, 1.1, 2.2),
}
COLD_CUT = 1.6
"""Splitting without hot work takes this many times as long (common practice, no source)."""
SEIZED_CUT = 1.7
"""Cutting off a seized bearing takes this many times as long (common practice, no source)."""


def take_off(mounting: Mounting | None) -> Task:
    """Return taking the old bearing off over the free end of the shaft."""
    hazards = (ENERGY, WEIGHT) if mounting not in AS_A_WHOLE else (WEIGHT,)
    return task(
        EXCHANGE, "Take the old bearing off the shaft", _TAKE_OFF[mounting], 2, hazards, ("puller or nut",)
    )


def cut_off(mounting: Mounting | None, hot_work: bool, seized: bool) -> Task:
    """Return cutting the old bearing off where it sits: rings and cage cut, inner ring cracked, nut split."""
    low, likely, high = _CUT_OFF[mounting]
    times = (1.0 if hot_work else COLD_CUT) * (SEIZED_CUT if seized else 1.0)
    hours = (low * times, likely * times, high * times)
    if hot_work:
        return task(EXCHANGE, "Cut the old bearing off", hours, 2, (FIRE,), ("grinder", "cutting torch"))
    return task(
        EXCHANGE, "Split the old bearing without hot work", hours, 2, (ENERGY,), ("hydraulic splitter",)
    )


def fit_new(mounting: Mounting | None) -> Task:
    """Return fitting a new one-piece bearing, driven up on a sleeve or heated."""
    hazards = (WEIGHT,) if mounting in (*AS_A_WHOLE, *LIFTS_OUT) else (HOT, WEIGHT)
    hours = _FIT_NEW.get(mounting, (0.8, 1.7, 3.5))
    return task(
        EXCHANGE, "Fit the new one-piece bearing", hours, 2, hazards, ("heater or nut", "feeler gauges")
    )


def clean_seat(state: SeatState) -> Task:
    """Return cleaning and gauging the seat for a one-piece bearing, with what may be found."""
    found = ONE_PIECE_SEAT[state]
    return task(
        EXCHANGE, "Clean and gauge the seat", (0.2, 0.4, 0.8), 1, (), ("micrometer",), found, decided_by=SEAT
    )


def hold_point(state: SeatState) -> Task:
    """Return the hold point when the shaft is bare, with its branches."""
    found = SPLIT_SEAT[state]
    name = "Hold point: measure the bare seat and decide"
    return task(EXCHANGE, name, (0.3, 0.5, 0.8), 1, (), ("micrometer", "form gauge"), found, decided_by=SEAT)


def inspect_seat(seized: bool) -> Task:
    """Return looking at a seat that was accepted at the first conversion."""
    found = REPEAT_SEAT if seized else ()
    return task(
        EXCHANGE, "Inspect the seat", (0.1, 0.2, 0.5), 1, (), ("micrometer",), found, SEAT if seized else ""
    )


NAMES = (
    *(ISOLATION.name, COOLING.name, CALL_IN.name, LOCK_OUT.name, WAIT_FOR_CRANE.name, GUARDS_OFF.name),
    *(DIAGNOSE.name, HOLD_SHAFT.name, PERMIT.name, OPEN_HOUSING.name, FETCH_PARTS.name, CLEAR_DEBRIS.name),
    *(CLOSE_HOUSING.name, OLD_BASE.name, FIT_HALVES.name, OPEN_SPLIT.name, NEW_HALVES.name, TIGHTEN.name),
    *(CLOSE_SPLIT.name, LOWER_SHAFT.name, BASE_BOLTS.name, CHECK_ALIGNMENT.name, GUARDS_ON.name),
    *(LOCKS_OFF.name, TEST_RUN.name, RUN_UP.name, PACKING.name, MILL_BASE.name, RAISE_LINE.name),
    *(UNKNOWN_BASE.name, take_off(None).name, cut_off(None, True, False).name),
    *(cut_off(None, False, False).name, fit_new(None).name, clean_seat(SeatState.GOOD).name),
    *(hold_point(SeatState.GOOD).name, inspect_seat(False).name),
)
