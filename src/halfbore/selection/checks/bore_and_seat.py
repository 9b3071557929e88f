"""Bore against shaft: nominal size, size tolerance, form of the seat, and the joints that must stay open."""

from __future__ import annotations

import numpy as np

from halfbore.domain.check import Column
from halfbore.domain.unit import UnitTable
from halfbore.mechanics import shaft_seat
from halfbore.phrases import Phrase, kilonewton, micron, mm, phrase
from halfbore.selection.check import Check, Outcome, Wish, column, given, one, spread, worst
from halfbore.selection.need import Floats, Need, shared
from halfbore.sources import Source, Status, derived
from halfbore.units import Kind, Span

SAME_SIZE = 0.012
"""Sizes of two unit systems that differ by less are the same size [mm]; half the tightest seat tolerance."""

SLEEVE = "a sleeve after turning the shaft down, with the shaft's stress checked"
"""A sleeve for a worn seat has no wall until the shaft is turned down for it (common practice, no source)."""

_SUPPLIER = Source("supplier's unit table", "seat tolerance", Status.GIVEN)
_FORM = derived("a clamped split ring copies the shaft", "form of the seat, whatever the size class")
SIZE, FORM, JOINT = range(3)
MENDED = 0.80
"""A seat that is mended keeps this part of the unit's tolerance, and with it the reserve of a check that holds."""


@shared
def deviations(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the least and the greatest deviation of the shaft from the bore [mm].

    Without a measured diameter the shaft is taken anywhere in the supplier's tolerance.
    """
    measured = need.position.seat.diameter
    if measured is None:
        return units.seat_lower + need.nominal - units.bore, units.seat_upper + need.nominal - units.bore
    low = np.asarray(shaft_seat.shaft_deviation(measured.low, units.bore))
    return low, np.asarray(shaft_seat.shaft_deviation(measured.high, units.bore))


def part_of_tolerance(deviation: Floats, units: UnitTable) -> Floats:
    """Return the part of the minus tolerance used; over one for an oversize shaft as well."""
    room = units.seat_upper - units.seat_lower
    with np.errstate(divide="ignore", invalid="ignore"):
        under = (units.seat_upper - deviation) / room
        over = 1.0 + (deviation - units.seat_upper) / room
    return np.where(deviation > units.seat_upper, over, under)


def part_of_gap(deviation: Floats, units: UnitTable) -> Floats:
    """Return the part of the joint gap that an undersize shaft closes; nothing where the gap is not given.

    The supplier's tolerance keeps the joints open by itself: this only catches a tolerance that does not.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        left = np.asarray(shaft_seat.joint_gap(units.joint_gap, deviation)) / units.joint_gap
    return np.where(left < 1.0, 1.0 - left, 0.0)


def _parts(need: Need, units: UnitTable) -> tuple[Floats, Floats]:
    """Return the parts used by size, form and joints, at the good and at the bad end (3, n).

    The smallest reading is the bad end of an undersize shaft. The ring closes on the largest one: a shaft that
    is oversize there is oversize.
    """
    low, high = deviations(need, units)
    form = need.position.seat.form_error
    missing = np.full(len(units), np.nan)
    ends = missing, missing
    if form is not None:
        ends = form.low / units.seat_form, form.high / units.seat_form
    small, large = part_of_tolerance(low, units), part_of_tolerance(high, units)
    good = np.stack([large, ends[0], part_of_gap(high, units)])
    return good, np.stack([np.maximum(small, large), ends[1], part_of_gap(low, units)])


def _column(need: Need, units: UnitTable) -> Column:
    n = len(units)
    if need.position.seat.diameter is None:
        off = np.abs(need.nominal - units.bore)
        used = np.where(off > SAME_SIZE, 1.0 + off, np.nan)
        return column(used, used, n)
    good, bad = _parts(need, units)
    return column(worst(good), worst(bad), n)


def _outcome(need: Need, unit: UnitTable) -> Outcome:
    seat = need.position.seat
    bore, lower, upper = one(unit.bore), one(unit.seat_lower), one(unit.seat_upper)
    limit = spread(bore + lower, bore + upper)
    if seat.diameter is None:
        return Outcome(
            phrase("bore {} for a shaft of {}; the seat was not measured", mm(bore, 2), mm(need.nominal, 2)),
            (_SUPPLIER,),
            limit=limit,
            kind=Kind.LENGTH,
            datum="seat diameter at both ends and three angles, by micrometer, from the site",
        )
    low, high = (one(d) for d in deviations(need, unit))
    return Outcome(
        _reason(need, unit),
        (_SUPPLIER, _FORM, shaft_seat.joint_gap.source),
        spread(seat.diameter.low, seat.diameter.high),
        limit,
        Kind.LENGTH,
        datum="; ".join(f"{what}, from {who}" for what, who in _missing(need, unit).items()),
        details=(
            ("deviation of the shaft", Phrase(micron((low, high), signed=True))),
            ("allowed by the supplier", _tolerance(lower, upper)),
            ("roundness and taper", _form(need, one(unit.seat_form))),
            ("joint gap that is left", _left(unit, low)),
            ("grip on the shaft", _grip(unit, low)),
            ("remedy", _remedy(need, unit)),
        ),
    )


def _missing(need: Need, unit: UnitTable) -> dict[str, str]:
    """Return what is not known and who can supply it."""
    asked = {
        "seat tolerance": ("the supplier", np.isnan(one(unit.seat_lower + unit.seat_upper))),
        "form tolerance of the seat": ("the supplier", np.isnan(one(unit.seat_form))),
        "roundness and taper of the seat": ("the site", need.position.seat.form_error is None),
    }
    return {what: who for what, (who, missing) in asked.items() if missing}


def _reason(need: Need, unit: UnitTable) -> str:
    low, high = (one(d) for d in deviations(need, unit))
    bore, lower, upper = one(unit.bore), one(unit.seat_lower), one(unit.seat_upper)
    if high > 1:
        return phrase("bore {} is {} under the shaft", mm(bore, 2), mm(high, 1))
    if low < -1:
        return phrase("bore {} is {} over the shaft", mm(bore, 2), mm(-low, 1))
    if high > upper:
        over = micron(high - upper)
        return phrase("shaft {} over the largest size allowed for a bore of {}", over, mm(bore, 2))
    if low < lower:
        more = micron(lower - low)
        return phrase("shaft {} under nominal, {} more than the supplier allows", micron(-low), more)
    bad = _parts(need, unit)[1][:, 0]
    governs = int(np.nan_to_num(bad).argmax())
    if governs == FORM and bad[FORM] > 1:
        return phrase("roundness and taper {}", _form(need, one(unit.seat_form)))
    if governs == JOINT and bad[JOINT] >= 1:
        closes = "closes the joints of the inner ring: no grip is left"
        return phrase("shaft {} under nominal {}", micron(-low), closes)
    if np.isnan(bad).any():
        return f"not known: {', '.join(_missing(need, unit))}"
    form = _form(need, one(unit.seat_form))
    allowed = _tolerance(lower, upper)
    return phrase("shaft {} at most, {} allowed; roundness and taper {}", _under(low), allowed, form)


def _under(deviation: float) -> str:
    return phrase("{} {} nominal", micron(abs(deviation)), "under" if deviation <= 0 else "over")


def _tolerance(lower: float, upper: float) -> str:
    return given(micron((lower, upper), signed=True))


def _form(need: Need, allowed: float) -> str:
    form = need.position.seat.form_error
    measured = "not measured" if form is None else Phrase(micron(form, digits=2))
    return phrase("{} of {}", measured, given(micron(allowed, digits=3)))


def _left(unit: UnitTable, low: float) -> str:
    left = one(np.asarray(shaft_seat.joint_gap(unit.joint_gap, low)))
    return "none: the joint faces have met" if left <= 0 else given(mm(left, digits=2))


def _grip(unit: UnitTable, low: float) -> str:
    left = one(np.asarray(shaft_seat.joint_gap(unit.joint_gap, low)))
    return "none" if left <= 0 else given(kilonewton(one(unit.clamp_grip)))


def _remedy(need: Need, unit: UnitTable) -> str:
    """Return what would make the seat good."""
    low, high = (one(d) for d in deviations(need, unit))
    form = need.position.seat.form_error
    if one(np.asarray(shaft_seat.joint_gap(unit.joint_gap, low))) <= 0:
        return f"{SLEEVE}, or weld repair and turning"
    if low < one(unit.seat_lower):
        return f"a unit bored to the measured seat, or {SLEEVE}"
    if high > one(unit.seat_upper) or (form is not None and form.high > one(unit.seat_form)):
        return "dress the seat"
    return "none"


def _relax(need: Need, unit: UnitTable) -> tuple[Wish, ...]:
    """Mend the seat for a unit of the right size, and say by what."""
    seat, bore = need.position.seat, one(unit.bore)
    if seat.diameter is None or abs(bore - need.nominal) > SAME_SIZE:
        return ()
    low, high = (one(d) for d in deviations(need, unit))
    lower, upper, form = one(unit.seat_lower), one(unit.seat_upper), one(unit.seat_form)
    at, remedy = f"positions[{need.index}].seat", _remedy(need, unit)
    size, true = bore + MENDED * lower, MENDED * form
    wishes = []
    if low < lower or high > upper:
        turned = Span(size, 0.5 * (size + bore + upper), bore + upper)
        size_of = "mended seat diameter" if low < lower else "seat diameter"
        wishes.append(Wish(f"{at}.diameter", turned, f"{remedy}: {size_of}", Kind.LENGTH))
    if seat.form_error is not None and seat.form_error.high > form:
        words = "roundness and taper" if wishes else f"{remedy}: roundness and taper"
        wishes.append(Wish(f"{at}.form_error", Span.of(true), words, Kind.LENGTH))
    return tuple(wishes)


CHECK = Check("bore and seat", "Bore and seat", _column, _outcome, decisive=True, relax=_relax)
