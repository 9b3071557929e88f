"""Tasks round a shaft-mounted drive and a belt on a drum."""

from __future__ import annotations

from halfbore.changeover.shared_tasks import (
    CRANE,
    ENERGY,
    EXCHANGE,
    LOAD,
    PREPARE,
    RESTART,
    RESTORE,
    TURNING,
    WEIGHT,
    task,
)
from halfbore.domain.plan import Branch
from halfbore.units import Span

HOLD_DRUM = task(
    PREPARE, "Hold the drum, slack the belt", (0.2, 0.4, 1.0), 3, (ENERGY,), ("belt clamps", "chain hoist")
)
TENSION_BELT = task(RESTORE, "Tension the belt, take the clamps off", (0.2, 0.2, 0.6), 2, (ENERGY,))
TRACK_BELT = task(RESTART, "Track the belt", (0.1, 0.2, 0.5), 2, (TURNING,))
SLING_DRIVE = task(
    EXCHANGE, "Sling the drive, free the torque arm", (0.4, 0.9, 2.0), 4, (LOAD, ENERGY), (CRANE, "slings")
)
PULL_DRIVE = task(
    EXCHANGE,
    "Pull the drive off the shaft",
    (1.2, 2.4, 5.0),
    4,
    (LOAD, ENERGY),
    (CRANE, "hydraulic puller"),
    (
        Branch("comes off", 0.85, Span(0.0, 0.0, 0.0)),
        Branch("seized on the shaft", 0.15, Span(4.0, 10.0, 24.0)),
    ),
    decided_by="drive on the shaft",
)
REFIT_DRIVE = task(RESTORE, "Refit the drive", (1.2, 2.2, 4.5), 4, (LOAD,), (CRANE, "slings"))
SET_ARM = task(RESTORE, "Set the torque arm, align the drive", (0.5, 1.0, 2.0), 2, (WEIGHT,))
FREE_ARM = task(
    PREPARE,
    "Sling the drive, free its arm to lift the shaft",
    (0.4, 0.8, 1.6),
    3,
    (LOAD, ENERGY),
    ("chain hoist", "slings"),
)

NAMES = (
    *(HOLD_DRUM.name, TENSION_BELT.name, SLING_DRIVE.name, PULL_DRIVE.name, REFIT_DRIVE.name),
    *(SET_ARM.name, FREE_ARM.name, "drive on the shaft"),
)
