"""Ten invented machines: what their plates say, and what a full survey found.

Plates: power and speed as the plant's survey gives them for F1, F2, F3 and C1; for the others a motor that carries the
surveyed pulls. Places in mm from the first part or bearing at the drive end, forces in N, reactions as solved by hand
from the full survey.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Surveyed:
    """A machine: its plate, and the truth.

    values: of estimates by path, places counted from the first station; loads: sizes by name of the applied load.
    rest: what else a full survey says, as typed: the loads, and where they point; the shaft ends one diameter past its
    last part.
    """

    kind: str
    plate: dict[str, Any]
    values: dict[str, float]
    loads: dict[str, float]
    reactions: tuple[float, ...]
    given: dict[str, Any] = field(default_factory=dict)
    rest: dict[str, Any] = field(default_factory=dict)

    def data(self, name: str) -> dict[str, Any]:
        """Return the job of which only the plate is known."""
        machine = {"name": name, "kind": self.kind, "name_plate": self.plate}
        return {"format": 1, "title": f"{name} (invented)", "machine": machine, **self.given}


def plate(power: str, motor_speed: float, ratio: float, arrangement: str = "") -> dict[str, Any]:
    found: dict[str, Any] = {"power": power, "motor_speed": f"{motor_speed} r/min", "ratio": ratio}
    return found | ({"arrangement": arrangement} if arrangement else {})


def places(**at: float) -> dict[str, float]:
    """Return the paths of places; a name with two underscores stands for a position's tag with a hyphen."""
    return {
        (f"positions[{n.replace('__', '-')}].x" if "__" in n else f"loads[{n.replace('_', ' ')}].x"): x
        for n, x in at.items()
    }


D = "shaft.segments[0].diameter"

MACHINES = {
    "F1": Surveyed(
        "fan",
        plate("250 kW", 990, 1, "centre-hung, direct"),
        {
            D: 160,
            "loads[coupling].mass": 140,
            "loads[fan wheel].mass": 2600,
            "loads[fan wheel].axial_thrust": 1500,
            **places(coupling=0, F1__A=450, fan_wheel=2150, F1__B=3850),
        },
        {},
        (17.0e3, 15.3e3),
    ),
    "F2": Surveyed(
        "fan",
        plate("75 hp", 1480, 1, "overhung, belt"),
        {
            D: 100.0125,
            "loads[sheave].mass": 65,
            "loads[sheave].diameter": 355,
            "loads[fan wheel].mass": 210,
            **places(sheave=0, F2__A=240, F2__B=1140, fan_wheel=1490),
        },
        {"pull at sheave": 4.8e3},
        (6.1e3, 3.3e3),
        rest={"loads[sheave].pull": "4.8 kN", "loads[sheave].direction": "right"},
    ),
    "F3": Surveyed(
        "fan",
        plate("132 kW", 1480, 1, "overhung, direct"),
        {
            D: 140,
            "loads[coupling].mass": 85,
            "loads[fan wheel].mass": 640,
            "loads[fan wheel].axial_thrust": 2600,
            **places(coupling=0, F3__A=300, F3__B=1350, fan_wheel=1800),
        },
        {},
        (0.3e3, 9.9e3),
    ),
    "C1": Surveyed(
        "head shaft",
        plate("55 kW", 1488, 24),
        {
            D: 150.8125,
            "loads[gear unit].mass": 780,
            "loads[gear unit].arm_force": 9e3,
            "loads[gear unit].arm_reach": 950,
            "loads[head drum].mass": 900,
            "loads[head drum].diameter": 800,
            **places(gear_unit=0, C1__A=430, head_drum=1130, C1__B=2230),
        },
        {"tight strand at head drum": 38e3, "slack strand at head drum": 20e3},
        (35.6e3, 22.9e3),
        rest={
            "loads[gear unit].arm_direction": "up",
            "loads[head drum].tight_strand": "38 kN",
            "loads[head drum].slack_strand": "20 kN",
            "loads[head drum].tight_direction": "left",
        },
    ),
    "E1 head": Surveyed(
        "elevator head",
        plate("55 kW", 1482, 39),
        {
            D: 176.2125,
            "loads[gear unit].mass": 950,
            "loads[gear unit].arm_force": 12.5e3,
            "loads[head drum].mass": 1100,
            "loads[head drum].diameter": 1000,
            "loads[head drum].tight_strand": 55e3,
            "loads[head drum].slack_strand": 31e3,
            **places(gear_unit=0, **{"E1 head__A": 480, "head_drum": 1130, "E1 head__B": 1780}),
        },
        {},
        (78.3e3, 40.3e3),
        rest={"loads[gear unit].arm_direction": "down"},
    ),
    "E1 boot": Surveyed(
        "elevator boot",
        plate("55 kW", 1488, 24),
        {
            D: 100.0125,
            "loads[boot drum].mass": 480,
            "loads[boot drum].diameter": 600,
            "loads[boot drum].take_up": 12e3,
            **places(**{"E1 boot__A": 0, "boot_drum": 650, "E1 boot__B": 1300}),
        },
        {},
        (8e3, 8e3),
    ),
    "L1": Surveyed(
        "line shaft",
        plate("37 kW", 1449, 4.6),
        {
            D: 112.7125,
            "loads[sheave 1].mass": 95,
            "loads[sheave 2].mass": 80,
            "loads[sheave 3].mass": 60,
            "loads[sheave 1].diameter": 500,
            "loads[sheave 2].diameter": 450,
            "loads[sheave 3].diameter": 400,
            **places(L1__1=0, sheave_1=700, L1__2=1600, sheave_2=2400, L1__3=3300, sheave_3=4200, L1__4=4900),
        },
        {"pull at sheave 1": 9e3, "pull at sheave 2": 6.5e3, "pull at sheave 3": 4e3},
        (),
        {"positions": [{"name": f"L1-{i}"} for i in (1, 2, 3, 4)]},
        rest={
            "loads[sheave 1].pull": "9 kN",
            "loads[sheave 2].pull": "6.5 kN",
            "loads[sheave 3].pull": "4 kN",
            "loads[sheave 1].direction": "right",
            "loads[sheave 2].direction": "left",
            "loads[sheave 3].direction": "up",
        },
    ),
    "H1": Surveyed(
        "paddle shaft",
        plate("45 kW", 1488, 31),
        {
            D: 180,
            "loads[gear unit].mass": 650,
            "loads[gear unit].arm_force": 8e3,
            "loads[paddles].mass": 3200,
            "loads[paddles].diameter": 1400,
            "loads[paddles].length": 2200,
            **places(gear_unit=0, H1__A=500, paddles=2000, H1__B=3500),
        },
        {"push of the bed at paddles": 30e3},
        (28.8e3, 31.0e3),
        rest={"loads[gear unit].arm_direction": "up", "loads[paddles].push": "30 kN"},
    ),
    "S1": Surveyed(
        "screw",
        plate("37 kW", 1500, 25),
        {
            D: 125,
            "loads[gear unit].mass": 420,
            "loads[gear unit].arm_force": 0,
            "loads[screw].mass": 900,
            "loads[screw].length": 3400,
            **places(gear_unit=0, S1__A=350, screw=2350, S1__B=4350),
        },
        {"thrust of screw": 48e3},
        (8.9e3, 4.1e3),
        rest={"loads[screw].thrust": "48 kN", "loads[screw].thrust_towards": "drive end"},
    ),
    "T1": Surveyed(
        "tail drum",
        plate("55 kW", 1520, 16),
        {
            D: 100,
            "loads[tail drum].mass": 420,
            "loads[tail drum].diameter": 500,
            "loads[tail drum].take_up": 19e3,
            **places(T1__A=0, tail_drum=650, T1__B=1300),
        },
        {},
        (9.7e3, 9.7e3),
        rest={"loads[tail drum].tight_direction": "right"},
    ),
    "K1": Surveyed(
        "jackshaft",
        plate("200 kW", 1475, 2.5),
        {
            D: 140,
            "loads[sheave 1].mass": 900,
            "loads[sheave 2].mass": 420,
            "loads[sheave 1].diameter": 1000,
            "loads[sheave 2].diameter": 630,
            **places(sheave_1=0, K1__A=330, K1__B=1730, sheave_2=2030),
        },
        {"pull at sheave 1": 22e3, "pull at sheave 2": 26e3},
        (34.3e3, 36.9e3),
        rest={
            "loads[sheave 1].pull": "22 kN",
            "loads[sheave 2].pull": "26 kN",
            "loads[sheave 1].direction": "right",
            "loads[sheave 2].direction": "left",
        },
    ),
}
