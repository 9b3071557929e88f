"""What a sceptical chief engineer asks of the selection, on the demo machines."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np
import pytest

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.job import Job
from halfbore.domain.selection import Choice
from halfbore.domain.unit import Support, UnitTable
from halfbore.errors import InputError
from halfbore.intake.jobfile import read_job_data
from halfbore.selection.check import Check
from halfbore.selection.checks import (
    axial_chain,
    bore_and_seat,
    clearance,
    joint,
    lift_and_entry,
    support_direction,
)
from halfbore.selection.checks.every import CHECKS
from halfbore.selection.choose import choose
from halfbore.selection.need import Need
from halfbore.shaftline.respond import respond
from tests.samples_jobs import data
from tests.selection.units import demo_needs, demo_units, told

Change = Callable[[dict[str, Any]], None]


@cache
def units() -> UnitTable:
    return demo_units()


def job(name: str, change: Change = lambda _: None) -> Job:
    given = data(name)
    change(given)
    return read_job_data(given).job


def need(name: str, index: int, change: Change = lambda _: None) -> Need:
    return demo_needs(name, job(name, change))[index]


def one(bore: float, support: Support, locating: bool = True, supplier: str = "Quernvold") -> UnitTable:
    """Return the lightest demo unit of a size, support and role."""
    fits = (
        (np.abs(units().bore - bore) < 0.01) & (units().support == support) & (units().locating == locating)
    )
    return units().row(int(np.flatnonzero(fits & np.char.startswith(units().supplier, supplier))[0]))


def say(check: Check, asked: Need, unit: UnitTable) -> Finding:
    return told(check, asked, unit)


HEAD = 150.8125
"""5 15/16 in."""


def pull_down(given: dict[str, Any]) -> None:
    given["loads"][1]["tight_direction"] = "down"


def pull_down_with_room_to_lift(given: dict[str, Any]) -> None:
    pull_down(given)
    given["positions"][0]["lift"]["allowed"] = "60 mm"


def test_1_turning_the_pull_moves_the_verdicts_of_joint_and_support() -> None:
    level, down = need("head_shaft", 0), need("head_shaft", 0, pull_down)
    plain = one(HEAD, Support.PLAIN)
    before, after = say(joint.CHECK, level, plain), say(joint.CHECK, down, plain)
    assert (before.verdict, after.verdict) == (Verdict.FAILS, Verdict.HOLDS)
    assert "sideways to the left" in before.reason
    assert "downwards" in after.reason
    assert dict(before.details)["choices"].startswith("turn the base, another support, the other hand")
    bears = [say(support_direction.CHECK, asked, plain) for asked in (level, down)]
    assert "sideways to the left" in bears[0].reason
    assert "downwards" in bears[1].reason
    assert bears[0].limit is not None
    assert bears[1].limit is not None
    # The castings bear 0.45 of their strength sideways, 0.90 downwards.
    assert bears[1].limit.likely == pytest.approx(2 * bears[0].limit.likely, rel=0.01)
    # The support whose joint stands 50° off the level plane is the choice for a level pull, and need not be for a
    # weight, where the plain pedestal goes in without opening the drive.
    high = need("head_shaft", 0, pull_down_with_room_to_lift)
    chosen = [choose(asked, units()).chosen_unit for asked in (level, down, high)]
    assert [None if unit is None else int(unit.support[0]) for unit in chosen] == [
        *(Support.SIDE_ENTRY, Support.SIDE_ENTRY, Support.PLAIN),
    ]


def test_2_two_units_that_locate_are_refused_with_the_place() -> None:
    def both(given: dict[str, Any]) -> None:
        given["positions"][1]["role"] = "locating"

    with pytest.raises(InputError, match="F1-A and F1-B"):
        respond(job("fan", both))


def test_2_none_but_the_gear_unit_is_accepted() -> None:
    def by_the_gear_unit(given: dict[str, Any]) -> None:
        given["positions"][0]["role"] = "non-locating"
        given["machine"]["locates"] = [{"name": "gear unit", "holds": "both ways", "x": "170 mm"}]

    asked = need("head_shaft", 0, by_the_gear_unit)
    assert [path.holders for path in respond(asked.job).paths] == [("gear unit",), ("gear unit",)]
    found = choose(asked, units())
    assert found.chosen is not None or found.relaxations
    floating = one(HEAD, Support.SIDE_ENTRY, locating=False)
    assert say(axial_chain.CHECK, asked, floating).verdict is Verdict.NOT_APPLICABLE


def test_2_none_at_all_leaves_the_axial_checks_without_data() -> None:
    def nobody(given: dict[str, Any]) -> None:
        given["positions"][0]["role"] = "non-locating"

    found = choose(need("head_shaft", 0, nobody), units())
    assert found.chosen is None
    assert found.open > 0
    asked = {q for c in found.candidates for q in c.open_questions}
    assert "what holds the shaft in each axial direction, from the site" in asked


def shaft(size: float) -> Change:
    def change(given: dict[str, Any]) -> None:
        given["positions"][0]["seat"]["diameter"] = f"{size} mm"

    return change


def test_3_a_tenth_under_moves_clearance_and_joint_gap_and_asks_for_a_remedy() -> None:
    unit = one(160.0, Support.PLAIN, supplier="Tolvarden")
    nominal, thin = need("fan", 0, shaft(160.0)), need("fan", 0, shaft(159.9))
    wider = clearance.least_by_group(thin, unit) - clearance.least_by_group(nominal, unit)
    assert wider[0] == pytest.approx([0.100] * 3)
    # What the shaft gives, the clearance group need not: it steps down.
    assert clearance.group(thin, unit)[0] < clearance.group(nominal, unit)[0]
    before, after = (dict(say(bore_and_seat.CHECK, a, unit).details) for a in (nominal, thin))
    gap = float(unit.joint_gap[0])
    # π/2 · 0.10 mm = 0.157 mm at each joint.
    assert before["joint gap that is left"] == f"{gap:.2g} mm"
    assert after["joint gap that is left"] == f"{gap - 0.157:.2g} mm"
    assert after["grip on the shaft"] == before["grip on the shaft"]
    assert (before["remedy"], after["remedy"]) == (
        "none",
        f"a unit bored to the measured seat, or {bore_and_seat.SLEEVE}",
    )
    assert say(bore_and_seat.CHECK, thin, unit).verdict is Verdict.FAILS


def test_3_four_tenths_under_is_the_end() -> None:
    unit = one(160.0, Support.PLAIN, supplier="Tolvarden")
    worn = need("fan", 0, shaft(159.6))
    seat = say(bore_and_seat.CHECK, worn, unit)
    assert seat.verdict is Verdict.FAILS
    assert dict(seat.details)["grip on the shaft"] == "none"
    assert dict(seat.details)["remedy"] == f"{bore_and_seat.SLEEVE}, or weld repair and turning"
    chain = say(axial_chain.CHECK, worn, unit)
    assert "grip on the shaft bears 0 kN" in chain.reason
    found = choose(worn, units())
    assert (found.chosen, found.holding) == (None, 0)
    # The unit that comes nearest shows what the worn shaft does to it.
    assert found.nearest_unit is not None
    assert (found.nearest_unit.bore[0], bool(found.nearest_unit.locating[0])) == (160.0, True)
    seen = {f.check: f for f in found.nearest_findings}
    assert dict(seen["bore and seat"].details)["joint gap that is left"] == "none: the joint faces have met"
    assert seen["axial chain"].verdict is Verdict.FAILS
    assert seen["clearance"].value is not None
    assert {units().bore[c.row] for c in found.candidates} == {160.0}


def test_4_every_number_says_where_it_comes_from() -> None:
    found = choose(need("fan", 0), units())
    assert len(found.findings) == len(CHECKS)
    for finding in found.findings:
        assert finding.sources
        assert all(str(source.status) for source in finding.sources)


def screw(given: dict[str, Any]) -> None:
    given["loads"].append({"kind": "point load", "name": "screw", "x": "1000 mm", "axial_force": "48 kN"})


def test_5_forty_eight_kilonewtons_let_no_unit_in_and_say_what_would() -> None:
    asked = need("line_shaft", 0, screw)
    found = choose(asked, units())
    assert found.chosen is None
    assert "axial chain" in found.sentence
    turned = [c for c in found.candidates if c.first_check == "axial chain"]
    # With the factor of 1.4 at the start, 67 kN.
    assert any("67 kN to hold, weakest known link flange heat" in c.reason for c in turned)
    texts = [r.text for r in found.relaxations]
    assert any("thrust bearing at L1-1" in text for text in texts)
    assert any(text.startswith("axial thrust") for text in texts)
    # The separate thrust bearing leaves nothing axial for the unit: it then holds.
    own = next(r for r in found.relaxations if "thrust bearing" in r.text)
    assert own.checks == ("axial chain",)


def test_7_what_a_stop_costs_does_not_change_which_unit_is_right() -> None:
    def cheap(given: dict[str, Any]) -> None:
        given["value"]["stopped_production"] = [{"after": "0.5 h", "rate": "1 EUR/h"}]
        given["changeover"]["next_stop"] = "planned"

    found: list[Choice] = [choose(need("fan", 0, c), units()) for c in (lambda _: None, cheap)]
    assert found[0].chosen is not None
    assert found[1].chosen is not None
    assert found[0].chosen.code == found[1].chosen.code


def test_8_a_plain_pedestal_over_studs_of_sixty_needs_more_lift_than_the_drive_allows() -> None:
    asked = need("head_shaft", 0)
    plain, side = one(HEAD, Support.PLAIN), one(HEAD, Support.SIDE_ENTRY)
    found = say(lift_and_entry.CHECK, asked, plain)
    # 60 mm of studs + the lip + 2 mm to work with − what it stands lower than 280 mm, against 8 to 15 mm.
    wanted = 62 + float(plain.lip_depth[0]) - (280 - float(plain.centre_height[0]))
    assert found.value is not None
    assert found.value.likely == pytest.approx(wanted)
    assert found.verdict is Verdict.TIGHT
    assert "8 to 15 mm allowed (torque arm bush): the drive must be opened" in found.reason

    def bolts_come_out(given: dict[str, Any]) -> None:
        given["positions"][0]["base"]["stud_stick_out"] = "0 mm"

    freed = say(lift_and_entry.CHECK, need("head_shaft", 0, bolts_come_out), side)
    assert freed.verdict is Verdict.HOLDS
    assert "opened" not in freed.reason
