"""What traps a bearing on elevators, paddle shafts and screws, and what is held before it is opened."""

from __future__ import annotations

import pytest

from halfbore.changeover.situation import Trap, situation_of, way_out
from halfbore.changeover.templates import steps_of
from halfbore.domain.machine import ElevatorDrum, Load, MachineKind, Paddles, ScrewFlight, ShaftDrive
from halfbore.domain.plan import Way
from halfbore.units import Span
from tests.changeover import cases

DRIVE = ShaftDrive("gear unit", 200.0, Span.of(650.0), 0.0)
PARTS: list[tuple[MachineKind, Load, Trap]] = [
    (MachineKind.ELEVATOR_HEAD, ElevatorDrum("drum", 1500.0, Span.of(900.0), 800.0), Trap.DRUM),
    (MachineKind.PADDLE_SHAFT, Paddles("paddles", 1500.0, 1200.0, Span.of(900.0)), Trap.PADDLES),
    (MachineKind.SCREW, ScrewFlight("flight", 1500.0, 1200.0, Span.of(900.0)), Trap.FLIGHT),
]


@pytest.mark.parametrize(("kind", "part", "trap"), PARTS)
def test_a_bearing_goes_off_over_the_drive_and_never_over_the_process_part(
    kind: MachineKind, part: Load, trap: Trap
) -> None:
    ends = (cases.position("A", 700.0, "gear unit", part.name), cases.position("B", 2500.0, part.name))
    job = cases.job(kind, 150.0, (DRIVE, part), ends)
    assert way_out(job, ends[0]) == (Trap.DRIVE,)
    # Without a drive the way over the far end would lead over the process part: a part that nobody named is nearer.
    alone = cases.job(kind, 150.0, (part,), ends)
    assert trap not in way_out(alone, ends[0])


def test_the_belt_of_an_elevator_is_held_before_its_bearing_is_opened() -> None:
    kind, part, _ = PARTS[0]
    ends = (cases.position("A", 700.0, "gear unit", "drum"), cases.position("B", 2500.0, "drum"))
    job = cases.job(kind, 150.0, (DRIVE, part), ends)
    situation = situation_of(job, ends[0], cases.unit(150.0), None, 0.0)
    names = [step.task.name for step in steps_of(Way.SPLIT_REPEAT, situation, situation.next)]
    assert "Hold the drum, slack the belt" in names
    assert names.index("Hold the drum, slack the belt") < len(names) - 1
