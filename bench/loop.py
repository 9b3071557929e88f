# mypy: disable-error-code="no-any-return"
"""The sweep as a loop: every check of one unit after the other, on floats with `math`, for `bench_sweep.py`.

It answers what `halfbore.selection` answers, written as plain Python would be: what belongs to the position is worked
out once, what several checks ask for once a unit. It is no part of the package.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import fields, make_dataclass
from math import acos, asinh, inf, isnan, nan, pi, sin
from typing import Any

from halfbore.domain.check import State, Verdict
from halfbore.domain.position import EntrySide
from halfbore.domain.unit import Hand, SealKind, Support, UnitTable
from halfbore.mechanics import ring_joint, stiffness
from halfbore.selection.checks.bore_and_seat import SAME_SIZE
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.checks.lift_and_entry import SAME_HEIGHT, WORKING_CLEARANCE
from halfbore.selection.cost import BEARING_YEARS, SEAL_YEARS
from loop_place import Place

EXACT, RESERVE, JUST_TIGHT = 1e-9, 0.10, 0.901
FAILS_PAST = [check.fails_past + EXACT for check in CHECKS]
NEAR = [1.0 - check.reserve + EXACT for check in CHECKS]
NUMBER, NO_DATA, OUTSIDE, IDLE = State.NUMBER, State.NO_DATA, State.OUTSIDE, State.NOT_APPLICABLE
BY_STATE = [Verdict.HOLDS, Verdict.NO_DATA, Verdict.OUTSIDE, Verdict.NOT_APPLICABLE]
ZONES, HALF = (values.tolist() for values in ring_joint._zones())  # the table that the package reads
STIFFNESS = float(stiffness.roller_stiffness(1.0))
Unit: Any = make_dataclass("Unit", [f.name for f in fields(UnitTable)], slots=True)
Answer = tuple[float, float, int]
Row = tuple[list[Verdict], list[float], list[float], float, int, int, int]


def units_of(table: UnitTable) -> list[Any]:
    """Return the rows of a table as plain objects."""
    return [
        Unit(*row) for row in zip(*(getattr(table, f.name).tolist() for f in fields(UnitTable)), strict=True)
    ]


def worst(parts: list[float]) -> float:
    """Return the largest use; NaN where one is not known and none is past its limit."""
    most, unknown = -inf, False
    for part in parts:
        if part != part:
            unknown = True
        elif part > most:
            most = part
    return nan if unknown and most <= 1.0 + EXACT else most


def over(need: float, limit: float) -> float:
    """Return need over limit; without bound for a limit of zero."""
    if limit:
        return need / limit
    return nan if need == 0.0 or isnan(need) else inf


def number(good: float, bad: float) -> Answer:
    """Return an answer that is a number, or that a datum is missing."""
    low = good if good < bad else bad
    if isnan(good) or isnan(bad):
        return nan, nan, NO_DATA
    return low, bad, NUMBER


def sweep_loop(place: Place, units: list[Any]) -> list[Row]:
    """Put every unit through every check, one after the other."""
    return [judge(place, u) for u in units]


def judge(p: Place, u: Any) -> Row:
    """Return verdict, use at both ends of every check, cost, seals and clearance group of one unit."""
    low, high = deviations(p, u)
    group, least, greatest, smallest = clearance_of(p, u, low, high)
    left, right = (seal_of(p, u, side) for side in p.sides)
    lives = [((u.dynamic_rating / P if P else inf) ** (10 / 3)) for c in p.running for P in (c[3], c[2])]
    answers = [
        bore_and_seat(p, u, low, high),
        support_direction(p, u),
        room_of(p, u),
        number(p.fastest / u.speed_limit, p.fastest / u.speed_limit),
        number(
            max(p.shaft[0], 0.0) / u.ring_temperature_limit, max(p.shaft[1], 0.0) / u.ring_temperature_limit
        ),
        number(
            p.wanted_safety * p.peaks[0] / u.static_rating, p.wanted_safety * p.peaks[1] / u.static_rating
        ),
        minimum_load(p, u),
        both_seals(left, right),
        travel(p, u),
        tilt(p, u),
        lift(p, u),
        number(lost(low + p.heat[0] * 12e-6 * u.pitch_diameter, smallest), lost(smallest - least, smallest)),
        chain(p, u, low, least, greatest),
        joint(p, u, least),
        rating_life(p, u, lives),
        modified_life(p, u, lives),
        delivery(p, u),
    ]
    answers.append(cause(p, answers))
    verdict = [
        BY_STATE[state]
        if state
        else Verdict.FAILS
        if good > past
        else Verdict.TIGHT
        if bad > near
        else Verdict.HOLDS
        for (good, bad, state), past, near in zip(answers, FAILS_PAST, NEAR, strict=True)
    ]
    good_ends, bad_ends = [a[0] for a in answers], [a[1] for a in answers]
    return verdict, good_ends, bad_ends, cost(p, u, left[0], right[0]), left[0], right[0], group


def deviations(p: Place, u: Any) -> tuple[float, float]:
    """Return the least and the greatest deviation of the shaft [mm]."""
    if p.measured is None:
        return u.seat_lower + p.nominal - u.bore, u.seat_upper + p.nominal - u.bore
    return p.measured[0] - u.bore, p.measured[1] - u.bore


def part_of_tolerance(deviation: float, u: Any) -> float:
    """Return the part of the seat tolerance used."""
    span = u.seat_upper - u.seat_lower
    if deviation > u.seat_upper:
        return 1.0 + over(deviation - u.seat_upper, span)
    return over(u.seat_upper - deviation, span)


def part_of_gap(deviation: float, u: Any) -> float:
    """Return the part of the joint gap used up; nothing where it is not given."""
    if isnan(u.joint_gap) or isnan(deviation) or u.joint_gap == 0.0:
        return 0.0
    return max(1.0 - (u.joint_gap + pi / 2.0 * deviation) / u.joint_gap, 0.0)


def bore_and_seat(p: Place, u: Any, low: float, high: float) -> Answer:
    """Size, form and joints."""
    if p.measured is None:
        off = abs(p.nominal - u.bore)
        return number(1.0 + off, 1.0 + off) if off > SAME_SIZE else (nan, nan, NO_DATA)
    form = (nan, nan) if p.form is None else (p.form[0] / u.seat_form, p.form[1] / u.seat_form)
    large = part_of_tolerance(high, u)
    small = part_of_tolerance(low, u)
    good = worst([large, form[0], part_of_gap(high, u)])
    bad = worst([nan if isnan(small + large) else max(small, large), form[1], part_of_gap(low, u)])
    return number(good, bad)


def support_direction(p: Place, u: Any) -> Answer:
    """Load against the sectors that it reaches."""
    if u.support not in p.stands:
        return inf, inf, NUMBER
    good, bad = [0.0], [0.0]
    for light, heavy, limit in zip(
        p.light, p.heavy, (u.limit_side, u.limit_down, u.limit_side, u.limit_up), strict=True
    ):
        if heavy > 0.0:
            bad.append(over(heavy, limit))
            good.append(over(light, limit) if light > 0.0 else 0.0)
    return number(worst(good), worst(bad))


def room_of(p: Place, u: Any) -> Answer:
    """Room along, beside and above, and the side of entry."""
    side_entry = u.support == Support.SIDE_ENTRY
    takes = (u.length / 2.0, u.length / 2.0, u.width if side_entry else u.width / 2.0, u.height)
    parts = [over(t, f) for t, f in zip(takes, p.free, strict=True)]
    if isnan(p.free[2]) and not side_entry:
        parts[2] = 0.0
    if isnan(p.free[3]):
        parts[3] = 0.0
    if side_entry:
        if p.entry is None:
            parts.append(nan)
        elif p.entry is not EntrySide.BOTH:
            hand = {EntrySide.LEFT: Hand.LEFT, EntrySide.RIGHT: Hand.RIGHT}.get(p.entry)
            if hand is None or (u.hand not in (hand, Hand.NONE)):
                parts.append(inf)
    used = worst(parts)
    return number(used, used)


def minimum_load(p: Place, u: Any) -> Answer:
    """Load that keeps the rollers turning."""
    if not p.running:
        return nan, nan, IDLE
    good = bad = 0.0
    for _, speed, _, high, low, _, _ in p.running:
        wanted = u.dynamic_rating * (0.005 + 0.015 * min(speed / u.speed_limit, 1.0))
        if isnan(wanted):
            return nan, nan, NO_DATA
        good, bad = max(good, over(wanted, high)), max(bad, over(wanted, low))
    return number(good, bad)


def seal_of(p: Place, u: Any, side: tuple[float, list[bool], list[bool], float]) -> tuple[int, float, bool]:
    """Return kind, use, and whether water alone rules a seal out, of one side."""
    rubbing, suits, dry, stands_out = side
    best: tuple[int, float] = (5, 0.0)
    kind, used, offered = -1, inf, False
    for k in range(3):
        if not u.seal_offered[k]:
            continue
        offered = offered or dry[k]
        if not suits[k] or stands_out > u.length / 2.0:
            continue
        by_speed, by_heat = over(rubbing, u.seal_speed[k]), max(p.shaft[1], 0.0) / u.seal_temperature[k]
        use = nan if isnan(by_speed + by_heat) else max(by_speed, by_heat)
        if p.purged[k] and not use > JUST_TIGHT:
            use = nan if isnan(use) else JUST_TIGHT
        if use <= 1.0 - RESERVE:
            price = u.seal_price[k]
            rank = (0, 5e8 + use if isnan(price) else price)
        elif use <= 1.0:
            rank = (1, use)
        elif isnan(use):
            rank = (2, 0.0)
        else:
            rank = (3, use)
        if rank < best:
            best, kind, used = rank, k, use
    return kind, used, kind < 0 and offered and p.standing


def both_seals(left: tuple[int, float, bool], right: tuple[int, float, bool]) -> Answer:
    """The worse of both sides."""
    used = worst([nan if side[2] else side[1] for side in (left, right)])
    if isnan(used):
        return nan, nan, OUTSIDE if left[2] or right[2] else NO_DATA
    return used, used, NUMBER


def travel(p: Place, u: Any) -> Answer:
    """Axial travel against growth."""
    if p.locating:
        return nan, nan, IDLE
    if u.locating:
        return inf, inf, NUMBER
    parts = (u.track_travel, u.seal_travel, u.housing_travel)
    return number(worst([over(p.travel[0], t) for t in parts]), worst([over(p.travel[1], t) for t in parts]))


def tilt(p: Place, u: Any) -> Answer:
    """Free seat and rollers."""
    good = worst([over(p.setting[0], u.static_alignment), 0.0 / u.roller_tilt])
    return number(good, worst([over(p.setting[1], u.static_alignment), over(p.change, u.roller_tilt)]))


def lift(p: Place, u: Any) -> Answer:
    """Lift needed against lift allowed."""
    if p.allowed is None:
        return nan, nan, NO_DATA
    step = u.centre_height - p.old_centre
    step = 0.0 if isnan(step) else step
    rest = u.lip_depth + WORKING_CLEARANCE + (max(step, 0.0) if p.follows else 0.0) - max(-step, 0.0)
    if isnan(rest):
        return number(nan, nan)
    if step > SAME_HEIGHT:
        return number(1.0, 1.0)
    needed = max(p.studs[0] + rest, 0.0), max(p.studs[1] + rest, 0.0)
    good = over(needed[0], p.allowed[1]) if needed[0] > 0.0 else 0.0
    bad = over(needed[1], p.allowed[0]) if needed[1] > 0.0 else 0.0
    return number(min(good, 1.0), min(bad, 1.0))


def clearance_of(p: Place, u: Any, low: float, high: float) -> tuple[int, float, float, float]:
    """Return group, least and greatest known clearance in operation and the group's least by the catalogue."""
    by_heat = 12e-6 * u.pitch_diameter
    form = 0.0 if p.form is None else p.form[1]
    group = -1
    for g in range(3):
        least = u.clearance_min[g] - high - form - p.heat[1] * by_heat
        if least >= RESERVE * u.clearance_min[g]:
            group = g
            break
        if not isnan(least):
            group = g
    g = max(group, 0)
    least = u.clearance_min[g] - high - form - p.heat[1] * by_heat
    newest = u.clearance_min[g] if isnan(u.clearance_max[g]) else u.clearance_max[g]
    return group, least, newest - low - p.heat[0] * by_heat, u.clearance_min[g]


def lost(lost: float, smallest: float) -> float:
    """Return the part of the least clearance that is lost."""
    if isnan(smallest + lost):
        return nan
    if smallest > 0:
        return max(lost, 0.0) / smallest
    return 0.0 if smallest - lost >= 0 else inf


def half_zone(load: float, clearance: float, u: Any) -> float:
    """Return half the load zone [rad], by the same table."""
    clearance = 0.0 if clearance < 0.0 else clearance
    if load == 0.0:
        return 0.0
    if clearance == 0.0:
        return pi / 2.0
    scale = (u.rollers * STIFFNESS * u.roller_length ** (8 / 9) / load) ** 0.9
    at = asinh(clearance / 2.0 * scale)
    if isnan(at):
        return nan
    if at >= ZONES[-1]:
        return HALF[-1]
    i = bisect_right(ZONES, at)
    below, above = ZONES[i - 1], ZONES[i]
    return HALF[i - 1] + (HALF[i] - HALF[i - 1]) * (at - below) / (above - below)


def flange_heat(p: Place, u: Any, clearance: float) -> float:
    """Return the thrust at which p·v reaches its limit [N]."""
    if isnan(u.flange_height) or u.flange_height <= 0:
        return nan
    angle = 2.0 * acos(max(1.0 - 2.0 * u.flange_height / 0.6 / u.roller_diameter, -1.0))
    area = u.roller_diameter**2 / 8.0 * (angle - sin(angle))
    gamma = u.roller_diameter / u.pitch_diameter
    least = inf
    for load, speed, share in p.pushed:
        rollers = max(u.rollers * half_zone(load, clearance, u) / pi, 1.0)
        sliding = u.flange_height * pi * speed / 30.0 * (1.0 + gamma) / (2.0 * gamma) / 1000.0
        bears = over(u.flange_pv_limit * rollers * area, sliding) / share
        if isnan(bears):
            return nan
        least = min(least, bears)
    return least


def chain(p: Place, u: Any, low: float, least: float, greatest: float) -> Answer:
    """The weakest link of the axial chain."""
    if not p.locating:
        return nan, nan, IDLE if p.axial_known else NO_DATA
    if p.thrust[1] == 0.0:
        return (nan, nan, IDLE) if u.locating else (inf, inf, NUMBER)
    if not u.locating:
        return inf, inf, NUMBER
    gap = u.joint_gap + pi / 2.0 * low
    grip = nan if isnan(gap) else u.clamp_grip * 0.8 if gap > 0.0 else 0.0
    heat = flange_heat(p, u, greatest)
    best = flange_heat(p, u, min(least, greatest))
    others = [v for v in (u.axial_capacity, u.flange_strength, grip, u.housing_axial) if not isnan(v)]
    known = others if isnan(heat) else [heat, *others]
    bears = min(known) if known else nan
    at_best = bears if isnan(heat) else min([best, *others])
    good, bad = over(p.thrust[0], at_best), over(p.thrust[1], bears)
    if good <= 1.0 + EXACT or isnan(good):
        if isnan(heat):
            return nan, nan, OUTSIDE
        if len(known) < 5:
            return nan, nan, NO_DATA
    return number(good, max(bad, JUST_TIGHT) if full_contact(p, u) > 1.0 else bad)


def full_contact(p: Place, u: Any) -> float:
    """Return the radial load that the thrust asks for over what there is."""
    asked = 3.0 * (u.roller_diameter - 2.0 * u.flange_height) / u.roller_length
    if isnan(asked):
        return 0.0
    return max(over(share * p.thrust[1] * asked, load) for load, _, share in p.pushed)


def joint(p: Place, u: Any, least: float) -> Answer:
    """Load direction and load zone against the ring joint."""
    loaded = [c for c in p.running if c[3] > 0.0]
    if not loaded:
        return nan, nan, IDLE
    if isnan(u.joint_angle):
        return nan, nan, NO_DATA
    good = bad = 0.0
    clear, near, nearest = True, inf, inf
    for _, _, light, heavy, _, angle, spread in loaded:
        likely = abs((angle - u.joint_angle + pi / 2.0) % pi - pi / 2.0)
        distance = max(likely - spread, 0.0)
        zone = half_zone(heavy, least, u)
        zone = pi / 2.0 if isnan(zone) else zone
        narrow = zone if light == heavy else half_zone(light, least, u)
        narrow = pi / 2.0 if isnan(narrow) else narrow
        clear = clear and distance > zone
        near, nearest = min(near, likely), min(nearest, distance)
        if clear:
            good, bad = max(good, narrow / likely), max(bad, zone / distance)
    if clear:
        return number(good, bad)
    if u.joint_clear == 0.0:
        return JUST_TIGHT, JUST_TIGHT, NUMBER
    if isnan(u.joint_clear):
        return nan, nan, NO_DATA
    return number(max(over(u.joint_clear, near), JUST_TIGHT), max(over(u.joint_clear, nearest), JUST_TIGHT))


def over_duty(p: Place, lives: list[float]) -> float:
    """Return the life of the duty [h] from lives per condition [10^6 revolutions]."""
    turns = sum(c[0] for c in p.running)
    damage = sum(c[0] / life for c, life in zip(p.running, lives, strict=True))
    return (turns / damage if damage else inf) * 1e6 / p.turns_an_hour


def life_answer(p: Place, u: Any, good: float, bad: float) -> Answer:
    """A life against the one that is wanted, within half the rating."""
    eases, uses = over(p.life, good), over(p.life, bad)
    half = 0.5 * u.dynamic_rating * (1.0 + EXACT)
    if max(c[3] for c in p.running) > half:
        failed = eases > 1.0 + EXACT and not max(c[2] for c in p.running) > half
        if not failed:
            return nan, nan, OUTSIDE
    return number(eases, uses)


def said(p: Place) -> int:
    """Return why no unit has a life here, if none has."""
    if not p.running or max(c[3] for c in p.running) == 0.0:
        return IDLE
    return OUTSIDE if isnan(p.a_1) else NUMBER


def rating_life(p: Place, u: Any, lives: list[float]) -> Answer:
    """Rating life over the duty."""
    if state := said(p):
        return nan, nan, state
    return life_answer(p, u, p.a_1 * over_duty(p, lives[1::2]), p.a_1 * over_duty(p, lives[0::2]))


def modified_life(p: Place, u: Any, lives: list[float]) -> Answer:
    """Modified rating life over the duty."""
    if state := said(p):
        return nan, nan, state
    if p.viscosity is None:
        return nan, nan, NO_DATA
    ends: list[list[float]] = [[], []]
    for i, (c, viscosity) in enumerate(zip(p.running, p.viscosity, strict=True)):
        n = c[1]
        nu_1 = (45000 * n**-0.83 if n < 1000 else 4500 * n**-0.5) * u.pitch_diameter**-0.5
        for end, (nu, load) in enumerate(zip(viscosity, (c[3], c[2]), strict=True)):
            kappa = nu / nu_1
            if kappa < 0.1 * (1.0 - 1e-12):
                return nan, nan, OUTSIDE
            factor = life_factor(p, u, kappa, max(load, 1.0), 1 - end)
            ends[end].append(p.a_1 * factor * lives[2 * i + end])
    return life_answer(p, u, over_duty(p, ends[1]), over_duty(p, ends[0]))


def life_factor(p: Place, u: Any, kappa: float, load: float, level: int) -> float:
    """Return a_ISO, with proven additives."""
    e_C = contamination(p, u, kappa, level)
    plain = a_iso(kappa, e_C, u.fatigue_limit, load)
    if not p.proven_ep or kappa >= 1.0 or e_C < 0.2:
        return plain
    raised = a_iso(1.0, contamination(p, u, 1.0, level), u.fatigue_limit, load)
    return max(plain, min(raised, 3.0))


def contamination(p: Place, u: Any, kappa: float, level: int) -> float:
    """Return e_C."""
    c_1, c_2, large = p.constants[level]
    d = u.pitch_diameter
    film = min(c_1 * min(kappa, 4.0) ** 0.68 * d**0.55, 1.0)
    return max(film * (1.0 - (large if d >= 500 else c_2) / d ** (1 / 3)), 0.0)


def a_iso(kappa: float, e_C: float, limit: float, load: float) -> float:
    """Return the life modification factor."""
    k = min(kappa, 4.0)
    b = 1.3993 / k**0.054381 if k < 0.4 else 1.2348 / k ** (0.19087 if k < 1.0 else 0.071739)
    bracket = 1.0 - max(1.5859 - b, 0.0) * (e_C * limit / load) ** 0.4
    return min(50.0, 0.1 * (nan if isnan(bracket) else max(bracket, 0.1)) ** -9.185)


def delivery(p: Place, u: Any) -> Answer:
    """Lead time."""
    if p.latest is None:
        return nan, nan, IDLE
    used = over(u.lead_time, p.latest)
    return number(used, used)


def cause(p: Place, answers: list[Answer]) -> Answer:
    """The last failure against what stands against it."""
    if p.uncured:
        return inf, inf, NUMBER
    if p.cause is None:
        return nan, nan, IDLE
    parts = [answers[i] for i in p.cause]
    states = [a[2] for a in parts]
    if all(s == IDLE for s in states):
        return nan, nan, IDLE
    good, bad = (worst([0.0 if a[2] == IDLE else a[end] for a in parts]) for end in (0, 1))
    if isnan(bad) and OUTSIDE in states:
        return nan, nan, OUTSIDE
    return number(good, bad)


def cost(p: Place, u: Any, left: int, right: int) -> float:
    """Return the cost over the horizon."""
    if u.currency != p.currency:
        return nan
    total: float = u.price
    for kind in (left, right):
        if kind >= 0 and not isnan(u.seal_price[kind]):
            total += u.seal_price[kind] * max(p.years / SEAL_YEARS[SealKind(kind)], 1.0)
    bearing = u.price if isnan(u.bearing_price) else u.bearing_price
    return total + bearing * max(p.years / BEARING_YEARS - 1.0, 0.0)
