"""What the plates of motor and gear unit say: power, speed and torque of the shaft; and what is missing on them."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from halfbore.domain.machine import Arrangement
from halfbore.errors import Problem
from halfbore.estimate.practice import FROM_PLATE, USE, WORDS
from halfbore.estimate.spans import times
from halfbore.estimate.typed import Plain, Sheet, given, likely, path_of, read_positive
from halfbore.mechanics import power as turning
from halfbore.units import Kind, Span

POWER = "machine.name_plate.power"
MOTOR_SPEED = "machine.name_plate.motor_speed"
RATIO = "machine.name_plate.ratio"
DIRECT = (Arrangement.CENTRE_HUNG_DIRECT, Arrangement.OVERHUNG_DIRECT)


@dataclass
class Plate:
    """The plates of a job; what is asked for and missing becomes a problem, each once."""

    sheet: Sheet
    asked: set[str] = field(default_factory=set)

    @cached_property
    def rated(self) -> Span | None:
        """Rated power of the motor [W]."""
        if not given(self.sheet.plate, "power"):
            self._miss(
                POWER, "the power of the motor is not given", "read it off the motor's plate, in kW or hp"
            )
        return read_positive(self.sheet.plate, "power", Kind.POWER)

    @cached_property
    def used(self) -> Span | None:
        """Power that goes into the shaft in running [W]."""
        return None if self.rated is None else times(self.rated, USE)

    @cached_property
    def speed(self) -> float | None:
        """Speed of the shaft [r/min], that of its longest condition where a duty is given."""
        duty = self.sheet.entries("duty")
        running = [c for c in duty if (likely(c, "share", Kind.FRACTION) or 0.0) > 0 or len(duty) == 1]
        longest = max(running, key=lambda c: likely(c, "share", Kind.FRACTION) or 0.0, default={})
        if not given(longest, "speed"):
            return self._over_ratio()
        found = read_positive(longest, "speed", Kind.SPEED)
        return None if found is None else found.likely

    def _over_ratio(self) -> float | None:
        plate = self.sheet.plate
        if not given(plate, "motor_speed"):
            self._miss(
                MOTOR_SPEED,
                "neither the speed of the shaft nor that of the motor is given",
                "read r/min off the motor's plate, or count the turns of the shaft",
            )
        if not given(plate, "ratio"):
            if self._is_direct():
                self.sheet.say(plate, "machine.name_plate", "ratio", 1, "the motor drives directly", WORDS)
            else:
                self._miss(
                    RATIO,
                    "the ratio between motor and shaft is not given",
                    "read it off the gear unit's plate; of a belt, diameter on the shaft over diameter on the motor",
                )
        motor = read_positive(plate, "motor_speed", Kind.SPEED)
        ratio = read_positive(plate, "ratio", Kind.NUMBER)
        return motor.likely / ratio.likely if motor and ratio else None

    def _is_direct(self) -> bool:
        if self.sheet.arrangement is not None:
            return self.sheet.arrangement in DIRECT
        kinds = {load.get("kind") for load in self.sheet.entries("loads")}
        return "fan wheel" in kinds and "coupling" in kinds

    @cached_property
    def torque(self) -> Span | None:
        """Torque of the shaft at rated power [N·m]."""
        if self.rated is None or self.speed is None:
            return None
        return times(self.rated, float(turning.torque(1.0, self.speed)) / 1000)

    @cached_property
    def torque_used(self) -> Span | None:
        """Torque of the shaft in running [N·mm]."""
        if self.used is None or self.speed is None:
            return None
        return times(self.used, float(turning.torque(1.0, self.speed)))

    def _miss(self, path: str, what: str, next_step: str) -> None:
        if path not in self.asked:
            self.asked.add(path)
            self.sheet.problems.append(Problem(what, path, next_step=next_step))


def running(sheet: Sheet, plate: Plate) -> None:
    """Fill in the duty: one condition that lasts, at motor speed over ratio, where none is given."""
    if not given(sheet.data, "duty"):
        speed = plate.speed
        if speed is None:
            return
        why = "no duty is given: one condition all the time"
        sheet.add("duty", [{"name": "running"}], why, WORDS)
    for i, condition in enumerate(sheet.entries("duty")):
        _fill_condition(sheet, plate, condition, path_of("duty", condition, i))


def _fill_condition(sheet: Sheet, plate: Plate, condition: Plain, place: str) -> None:
    if not given(condition, "share") and len(sheet.entries("duty")) == 1:
        sheet.say(condition, place, "share", 1, "the only condition", WORDS)
    if given(condition, "speed") or plate.speed is None:
        return
    span = Span.of(plate.speed)
    why = "motor speed over ratio"
    sheet.fill_one(condition, place, "speed", span, Kind.SPEED, why, FROM_PLATE, (MOTOR_SPEED, RATIO))


USED = f"{USE.low:.0%} to {USE.high:.0%} of the motor's rated power"
"""How the power in running is taken, in words."""
