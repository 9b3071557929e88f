"""Tasks round sheaves, the next bearing on the shaft and other parts that trap a bearing."""

from __future__ import annotations

from halfbore.changeover.shared_tasks import CRANE, ENERGY, EXCHANGE, LOAD, PREPARE, RESTORE, WEIGHT, task

SLACK_BELTS = task(PREPARE, "Slack the drive belts", (0.2, 0.4, 0.8), 2, (ENERGY,))
TENSION_BELTS = task(
    RESTORE, "Tension the drive belts", (0.2, 0.4, 0.8), 2, (ENERGY,), ("belt tension gauge",)
)
PULL_SHEAVE = task(EXCHANGE, "Pull the sheave", (1.2, 2.4, 6.0), 2, (LOAD, ENERGY), ("puller",))
REFIT_SHEAVE = task(RESTORE, "Refit the sheave", (1.0, 1.9, 4.5), 2, (LOAD,))
ALIGN_SHEAVES = task(RESTORE, "Align the sheaves", (0.8, 1.4, 3.0), 2, (), ("straightedge",))
FREE_NEXT = task(EXCHANGE, "Open the next bearing, free the shaft end", (0.8, 1.6, 3.5), 2, (LOAD, WEIGHT))
CLOSE_NEXT = task(RESTORE, "Close the next bearing", (0.5, 1.2, 2.5), 2, (WEIGHT,))
PULL_PART = task(
    EXCHANGE, "Pull the part that traps the bearing", (1.2, 2.4, 6.0), 3, (LOAD,), (CRANE, "puller")
)
REFIT_PART = task(RESTORE, "Refit the part that traps the bearing", (1.2, 2.4, 5.0), 3, (LOAD,), (CRANE,))
OPEN_OTHER = task(PREPARE, "Open the other bearing to let the shaft turn", (0.3, 0.5, 1.0), 2, (LOAD, WEIGHT))
CLOSE_OTHER = task(RESTORE, "Close the other bearing", (0.3, 0.5, 1.0), 2, (WEIGHT,))
HOLD_DOWN = task(
    PREPARE,
    "Hold the shaft down at the bearing that stays closed",
    (0.3, 0.6, 1.2),
    3,
    (LOAD,),
    ("hold-down",),
)
HOLD_DOWN_OFF = task(RESTORE, "Take the hold-down off", (0.1, 0.2, 0.4), 2, (LOAD,), ("hold-down",))

NAMES = (
    *(SLACK_BELTS.name, TENSION_BELTS.name, PULL_SHEAVE.name, REFIT_SHEAVE.name, ALIGN_SHEAVES.name),
    *(FREE_NEXT.name, CLOSE_NEXT.name, PULL_PART.name, REFIT_PART.name),
)
