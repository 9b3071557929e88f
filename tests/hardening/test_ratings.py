"""Where a rating method ends, the answer says so: never a silent number, and such a unit is never chosen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import numpy as np
import pytest

from halfbore.catalogue.admit import admitted
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.check import Verdict
from halfbore.domain.selection import Sweep
from halfbore.errors import InputError
from halfbore.intake.jobfile import read_job_data
from halfbore.selection.choose import choose
from halfbore.selection.need import Need
from halfbore.selection.sweep import sweep
from halfbore.shaftline.respond import respond
from halfbore.study import Stage, study
from tests.hardening.thin import catalogues
from tests.samples_jobs import data, simple

Data = dict[str, Any]
UNITS = catalogues()[0].units.take(np.abs(catalogues()[0].units.bore - 160) < 0.1)
LIVES = ("rating life", "modified life")


def need(change: Callable[[Data], object], index: int = 0) -> Need:
    job = data("fan")
    change(job)
    reading = read_job_data(job)
    return Need(reading.job, index, respond(reading.job).duties[index])


def verdicts(found: Sweep, check: str) -> set[Verdict]:
    return {Verdict(v) for v in found.verdict[found.checks.index(check)].tolist()}


def as_it_is(_job: Data) -> None:
    """Change nothing."""


def _thin_oil(job: Data) -> None:
    job["lubricant"] = {"kind": "oil", "viscosity_40": "12 mm²/s", "viscosity_100": "2.8 mm²/s"}
    job["duty"] = [
        {
            "name": "slow",
            "share": 1,
            "speed": "12 r/min",
            "shaft_temperature": "70 °C",
            "housing_temperature": "60 °C",
        }
    ]


def _heavy(job: Data) -> None:
    job["loads"][1]["mass"] = "200000 kg"


OUTSIDE: list[tuple[Callable[[Data], object], tuple[str, ...], Verdict]] = [
    (lambda j: j["required"].update(reliability="85 %"), LIVES, Verdict.OUTSIDE),
    (lambda j: j["required"].update(reliability="99.99 %"), LIVES, Verdict.OUTSIDE),
    (_thin_oil, ("modified life",), Verdict.OUTSIDE),
    (_heavy, LIVES, Verdict.OUTSIDE),
    (lambda j: j.pop("lubricant"), ("modified life",), Verdict.NO_DATA),
    (lambda j: j.update(lubricant={"kind": "grease"}), ("modified life",), Verdict.NO_DATA),
    (lambda j: [c.pop("housing_temperature") for c in j["duty"]], ("modified life",), Verdict.NO_DATA),
]


@pytest.mark.parametrize(("change", "checks", "verdict"), OUTSIDE)
def test_a_method_past_its_range_or_without_its_datum_says_so(
    change: Callable[[Data], object], checks: tuple[str, ...], verdict: Verdict
) -> None:
    asked = need(change)
    found = sweep(asked, UNITS)
    for check in checks:
        assert verdicts(found, check) == {verdict}
    assert choose(asked, UNITS).chosen is None


def test_without_a_lubricant_the_basic_life_still_stands() -> None:
    found = sweep(need(lambda j: j.pop("lubricant")), UNITS)
    assert verdicts(found, "rating life") == {Verdict.HOLDS}


def test_inside_the_range_the_same_units_have_a_number() -> None:
    found = sweep(need(as_it_is), UNITS)
    for check in LIVES:
        assert verdicts(found, check) <= {Verdict.HOLDS, Verdict.TIGHT, Verdict.FAILS}


def _unloaded() -> Need:
    """A middle bearing that cannot hold the shaft down, where an overhung weight bends it up."""
    job = simple(
        loads=[{"kind": "point load", "name": "wheel", "x": "1900 mm", "mass": "640 kg"}],
        shaft={"segments": [{"length": "2000 mm", "diameter": "160 mm"}]},
        lubricant={"kind": "grease", "iso_vg": "VG 150"},
    )
    job["positions"].insert(
        1, {"name": "C", "x": "1000 mm", "role": "non-locating", "base": {"holds_down": False}}
    )
    job["duty"][0] |= {"shaft_temperature": "50 °C", "housing_temperature": "45 °C"}
    reading = read_job_data(job)
    return Need(reading.job, 1, respond(reading.job).duties[1])


def test_without_load_life_does_not_apply_and_the_minimum_load_fails() -> None:
    asked = _unloaded()
    assert asked.duty.equivalent_high.tolist() == [0.0]
    found = sweep(asked, UNITS)
    for check in (*LIVES, "static safety"):
        assert verdicts(found, check) == {Verdict.NOT_APPLICABLE}
    assert verdicts(found, "minimum load") == {Verdict.FAILS}


def test_a_shaft_on_end_loads_no_bearing_across_itself() -> None:
    job = simple(shaft={"segments": [{"length": "2 m", "diameter": "160 mm"}], "inclination": "90 deg"})
    found = study(read_job_data(job), catalogues(), Stage.SELECT, date(2026, 3, 2))
    assert [(r.y, r.z, r.high) for r in found.response.reactions] == [(0.0, 0.0, 0.0)] * 2
    # The whole weight, 1000 kg and the shaft, goes along it: 7850 · π/4 · 0.16² · 2 = 315.7 kg.
    assert found.response.reactions[0].axial == pytest.approx((1000 + 315.67) * 9.80665, rel=1e-4)


@pytest.mark.parametrize("share", [0.6, 1.4])
@pytest.mark.parametrize("rating", ["dynamic_rating", "static_rating"])
def test_a_rating_that_its_rollers_do_not_yield_is_refused(rating: str, share: float) -> None:
    first = catalogues()[0]
    wrong = getattr(first.units, rating).copy()
    wrong[3] *= share
    with pytest.raises(InputError, match="not what its rollers yield") as refused:
        admitted(replace(first, units=replace(first.units, **{rating: wrong})))
    assert str(first.units.code[3]) in str(refused.value)


def test_prices_in_another_currency_are_not_compared() -> None:
    first, second = catalogues()
    foreign = replace(second.units, currency=np.full(len(second.units), "USD"))
    found = sweep(need(as_it_is), foreign)
    assert np.isnan(found.cost).all()
    reading, on = read_job_data(data("line_shaft")), date(2026, 3, 2)

    def chosen(*offered: Catalogue) -> tuple[str, str]:
        choice = study(reading, offered, Stage.SELECT, on).positions[3].choice
        assert choice is not None and choice.chosen is not None
        return choice.chosen.supplier, choice.chosen.currency

    assert chosen(first, second) == (second.supplier, "EUR")  # the cheaper of two in one currency
    assert chosen(first, replace(second, units=foreign)) == (first.supplier, "EUR")


def test_a_unit_without_a_price_may_hold_and_has_no_value() -> None:
    first, second = catalogues()
    free = [replace(c, units=replace(c.units, price=np.full(len(c.units), np.nan))) for c in (first, second)]
    found = study(read_job_data(data("fan")), free, Stage.VALUE, date(2026, 3, 2)).positions[0]
    assert found.choice is not None and found.choice.chosen is not None
    assert found.value is None
    assert "gives no price" in found.because
