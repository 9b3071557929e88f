"""Units and needs for tests of the selection: sane defaults, ratings from roller geometry, anything may be changed."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from halfbore.demo import suppliers
from halfbore.domain.check import Finding, Verdict
from halfbore.domain.duty import Condition, Lubricant, LubricantKind, Requirement
from halfbore.domain.job import Job
from halfbore.domain.machine import Contamination, Dust, Machine, MachineKind, Segment, Shaft, Site
from halfbore.domain.position import (
    Base,
    EntrySide,
    Lift,
    Position,
    Role,
    Room,
    Seat,
)
from halfbore.domain.shaftline import PositionDuty
from halfbore.domain.unit import Hand, Support, UnitTable, joined
from halfbore.intake.jobfile import read_job
from halfbore.selection.check import Check, finding, found, verdicts
from halfbore.selection.need import Need
from halfbore.shaftline.respond import respond
from halfbore.standards import iso76_2006, iso281_2007
from halfbore.units import Span
from tests.samples_jobs import JOBS

Floats = NDArray[np.float64]

ROLLERS, ROLLER_DIAMETER, ROLLER_LENGTH, PITCH = 24.0, 16.0, 20.0, 140.0
"""Geometry of the default unit on a 100 mm shaft [mm]."""


def table(n: int = 1, **columns: Any) -> UnitTable:
    """Return a table of n equal units on a 100 mm shaft; a column that is given is used as it stands.

    Ratings follow from the roller geometry by ISO 281:2007, ISO 76:2006 and ISO 281:2007 B.3.3.3.
    """
    values: dict[str, Any] = {
        "supplier": "S",
        "code": [f"u{i:03d}" for i in range(n)],
        "size": "100 mm",
        "bore": 100.0,
        "row_size": 1,
        "locating": False,
        "support": int(Support.PLAIN),
        "hand": int(Hand.NONE),
        "rollers": ROLLERS,
        "rows": 1.0,
        "roller_diameter": ROLLER_DIAMETER,
        "roller_length": ROLLER_LENGTH,
        "pitch_diameter": PITCH,
        "axial_capacity": 20e3,
        "flange_height": 1.4,
        "flange_pv_limit": 20.0,
        "flange_strength": 40e3,
        "clamp_grip": 30e3,
        "housing_axial": 50e3,
        "speed_limit": 2000.0,
        "ring_temperature_limit": 150.0,
        "clearance_min": [0.050, 0.080, 0.120],
        "clearance_max": [0.090, 0.120, 0.160],
        "inner_raceway": 124.0,
        "seat_lower": -0.054,
        "seat_upper": 0.0,
        "seat_form": 0.020,
        "joint_gap": 0.4,
        "joint_angle": np.pi / 2,
        "joint_clear": np.radians(30.0),
        "joint_eased": 1.5,
        "limit_down": 300e3,
        "limit_side": 120e3,
        "limit_up": 100e3,
        "track_travel": 6.0,
        "seal_travel": 5.0,
        "housing_travel": 8.0,
        "static_alignment": np.radians(1.2),
        "roller_tilt": 0.0006,
        "seal_offered": [True, True, True],
        "seal_speed": [5.0, 25.0, 50.0],
        "seal_temperature": [150.0, 120.0, 110.0],
        "seal_price": [60.0, 140.0, 40.0],
        "length": 180.0,
        "width": 400.0,
        "height": 130.0,
        "centre_height": 135.0,
        "bolt_spacing": 335.0,
        "bolt_slot": 24.0,
        "bolt_size": 20.0,
        "lip_depth": 20.0,
        "mass": 40.0,
        "bearing_mass": 8.0,
        "support_mass": 20.0,
        "heaviest_half": 16.0,
        "price": 2000.0,
        "bearing_price": 800.0,
        "support_price": 500.0,
        "currency": "EUR",
        "lead_time": 336.0,
    }
    values |= columns
    shape = {"Z": values["rollers"], "D_we": values["roller_diameter"], "L_we": values["roller_length"]}
    values.setdefault("dynamic_rating", dynamic_rating(D_pw=values["pitch_diameter"], **shape))
    values.setdefault("static_rating", static_rating(D_pw=values["pitch_diameter"], **shape))
    fatigue = iso281_2007.fatigue_load_limit(
        np.asarray(values["static_rating"]), np.asarray(values["pitch_diameter"])
    )
    values.setdefault("fatigue_limit", fatigue)
    return UnitTable(**{f.name: _filled(values[f.name], f.name, n) for f in dataclasses.fields(UnitTable)})


def _filled(value: Any, name: str, n: int) -> Any:
    """Return a column of n rows from one value or from a row each; codes are small integers."""
    array = np.asarray(value, dtype=np.int8 if name in ("row_size", "support", "hand") else None)
    if array.dtype == np.int64:
        array = array.astype(np.float64)
    wide = (3,) if name.startswith(("clearance_m", "seal_o", "seal_s", "seal_temp", "seal_p")) else ()
    return np.broadcast_to(array, (n, *wide)).copy()


def dynamic_rating(Z: Any, D_we: Any, L_we: Any, D_pw: Any) -> Floats:
    """Return C_r by ISO 281:2007, 7.1 [N]."""
    f_c = iso281_2007.f_c(iso281_2007.gamma(D_we, 0.0, D_pw))
    return np.asarray(
        iso281_2007.basic_dynamic_radial_load_rating(1.1, f_c, 1, np.asarray(L_we), 0.0, np.asarray(Z), D_we)
    )


def static_rating(Z: Any, D_we: Any, L_we: Any, D_pw: Any) -> Floats:
    """Return C_0r by ISO 76:2006 [N]."""
    return np.asarray(
        iso76_2006.basic_static_radial_load_rating(
            1, np.asarray(Z), np.asarray(L_we), D_we, 0.0, np.asarray(D_pw)
        )
    )


def duty(**changes: Any) -> PositionDuty:
    """Return the duty of a position under 10 kN straight down at 600 r/min, non-locating; arrays by condition."""
    values: dict[str, Any] = {
        "share": [1.0],
        "speed": [600.0],
        "equivalent_low": [10e3],
        "equivalent_high": [10e3],
        "peak_high": [10e3],
        "radial_low": [10e3],
        "axial_low": [0.0],
        "axial_high": [0.0],
        "angle": [np.pi],
        "angle_spread": [0.0],
        "slope_low": [0.001],
        "slope_high": [0.001],
        "slope_y": [0.001],
        "slope_z": [0.0],
        "growth_low": [0.5],
        "growth_high": [1.5],
        "shaft_temperature_low": [50.0],
        "shaft_temperature_high": [60.0],
        "housing_temperature_low": [45.0],
        "housing_temperature_high": [50.0],
    }
    scalars: dict[str, Any] = {
        "name": "A",
        "x": 500.0,
        "locating": False,
        "shaft_diameter": 100.0,
        "axial_known": True,
    }
    given = {k: changes.pop(k) for k in list(changes) if k in scalars}
    longest = max(len(np.atleast_1d(v)) for v in changes.values()) if changes else 1
    arrays: dict[str, Any] = {
        k: np.broadcast_to(np.asarray(v, dtype=np.float64), (longest,)).copy()
        for k, v in (values | changes).items()
    }
    return PositionDuty(**(scalars | given), **arrays)


LIFT = Lift(Span(30.0, 35.0, 40.0))
REQUIRED = Requirement(life=60_000.0)
SEAT = Seat(Span(99.970, 99.975, 99.980), Span(0.008, 0.009, 0.010), 100.0)
ROOM = Room(150.0, 200.0, "hub", "step", 600.0, EntrySide.RIGHT, 500.0, True)
BASE = Base(centre_height=135.0, tilt_error=Span(0.0, 0.0005, 0.001))
SITE = Site(Span(10.0, 20.0, 30.0), Contamination.NORMAL_CLEANLINESS, Dust.DUST)
OIL = Lubricant(LubricantKind.GREASE, iso_vg=220.0)


SHAFT = Shaft((Segment(2000.0, 100.0),))


def need(
    load: PositionDuty | None = None,
    *,
    seat: Seat = SEAT,
    room: Room = ROOM,
    base: Base = BASE,
    lift: Lift = LIFT,
    site: Site = SITE,
    lubricant: Lubricant | None = OIL,
    required: Requirement = REQUIRED,
    shaft: Shaft = SHAFT,
    **position: Any,
) -> Need:
    """Return one position's side of the checks, around a duty."""
    bears = load or duty()
    here = Position(
        "A",
        500.0,
        Role.LOCATING if bears.locating else Role.NON_LOCATING,
        seat=seat,
        room=room,
        base=base,
        lift=lift,
        **position,
    )
    conditions = tuple(
        Condition(f"condition {i}", float(share), float(speed))
        for i, (share, speed) in enumerate(zip(bears.share, bears.speed, strict=True))
    )
    job = Job(
        1,
        "a test",
        Machine("M", MachineKind.PLAIN_SHAFT, site=site),
        shaft,
        (),
        (here,),
        conditions,
        lubricant=lubricant,
        required=required,
    )
    return Need(job, 0, bears)


def told(check: Check, asked: Need, units: UnitTable, row: int = 0) -> Finding:
    """Return what a check says of one unit of a table."""
    answer = found(check, asked, units)
    verdict = int(verdicts(check, answer)[row])
    return finding(check, asked, units.row(row), verdict, float(answer.good[row]), float(answer.bad[row]))


def words(check: Check, asked: Need, units: UnitTable) -> list[str]:
    """Return the verdict of each unit as it is written."""
    return [Verdict(v).word for v in verdicts(check, found(check, asked, units))]


def demo_units() -> UnitTable:
    """Return all units of both demo catalogues."""
    return joined([suppliers.load(name).units for name in ("first", "second")])


def demo_needs(job: str, changed: Job | None = None) -> list[Need]:
    """Return the needs of all positions of a demo job, or of a changed one, that can be solved again."""
    read = changed or read_job(JOBS / f"{job}.toml").job
    response = respond(read)
    return [Need(read, i, response.duties[i], solver(i)) for i in range(len(read.positions))]


def solver(index: int) -> Callable[[Job], PositionDuty]:
    """Return what solves a changed job again for one position."""
    return lambda job: respond(job).duties[index]
