"""Tasks round a coupling and a fan wheel."""

from __future__ import annotations

from halfbore.changeover.shared_tasks import (
    CRANE,
    ENERGY,
    EXCHANGE,
    HOT,
    LOAD,
    PREPARE,
    RESTART,
    RESTORE,
    TURNING,
    WEIGHT,
    task,
)

PULL_HUB = task(
    EXCHANGE, "Uncouple and pull the coupling hub", (1.2, 2.5, 5.5), 3, (HOT, LOAD), ("puller", "heater")
)
REFIT_HUB = task(RESTORE, "Heat and refit the coupling hub", (0.9, 2.0, 4.0), 3, (HOT, LOAD), ("heater",))
ALIGN_COUPLING = task(RESTORE, "Align the coupling", (1.3, 2.4, 5.0), 2, (), ("alignment gear",))
OPEN_COUPLING = task(PREPARE, "Open the coupling to lift the shaft", (0.7, 1.2, 2.5), 2, (WEIGHT,))
CLOSE_COUPLING = task(RESTORE, "Close the coupling", (0.3, 0.6, 1.2), 2, (WEIGHT,))

OPEN_CASING = task(PREPARE, "Open the fan casing", (0.8, 1.4, 3.0), 3, (LOAD, WEIGHT), (CRANE,))
PULL_WHEEL = task(
    EXCHANGE, "Pull the wheel off the shaft", (1.8, 3.4, 7.0), 3, (LOAD, ENERGY), (CRANE, "puller")
)
REFIT_WHEEL = task(RESTORE, "Refit the wheel", (1.5, 2.8, 5.5), 3, (LOAD, HOT), (CRANE, "heater"))
CLOSE_CASING = task(
    RESTORE, "Close the fan casing, set the gap to the wheel", (0.7, 1.2, 2.5), 3, (LOAD,), (CRANE,)
)
BALANCE = task(RESTART, "Check the balance, trim", (0.5, 1.0, 2.5), 2, (TURNING,), ("vibration meter",))

SECURE_WHEEL = task(PREPARE, "Secure the wheel, open the shaft seal", (0.4, 0.7, 1.4), 2, (LOAD,), ("sling",))
CLOSE_SEAL = task(RESTORE, "Close the shaft seal, free the wheel", (0.2, 0.4, 0.8), 2)

NAMES = (
    *(PULL_HUB.name, REFIT_HUB.name, ALIGN_COUPLING.name, OPEN_COUPLING.name, CLOSE_COUPLING.name),
    *(OPEN_CASING.name, PULL_WHEEL.name, REFIT_WHEEL.name, CLOSE_CASING.name, BALANCE.name),
    *(SECURE_WHEEL.name, CLOSE_SEAL.name),
)
