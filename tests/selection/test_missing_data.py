"""Whatever was not surveyed or not given is named in words: no reason and no detail ever shows a number that is none."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.job import Job
from halfbore.domain.position import Room
from halfbore.domain.unit import UnitTable
from halfbore.selection.bearing import bearing_of
from halfbore.selection.choose import findings
from halfbore.selection.need import Need
from halfbore.selection.relax import with_value
from halfbore.selection.sweep import sweep
from halfbore.shaftline.respond import respond
from tests.selection.units import demo_needs, demo_units

NO_NUMBER = re.compile(r"\b(nan|inf)\b", re.IGNORECASE)
SURVEYED = (
    "seat.diameter",
    "seat.form_error",
    "seat.nominal",
    "room.plain_left",
    "room.plain_right",
    "room.beside",
    "room.entry_side",
    "room.headroom",
    "base.centre_height",
    "base.bolt_spacing",
    "base.bolt_size",
    "lift.allowed",
    "lift.jack_x",
    "seal_left.diameter",
    "seal_right.diameter",
)
PLACES = [
    ("fan", 0),
    ("fan", 1),
    ("head_shaft", 0),
    ("head_shaft", 1),
    *(("line_shaft", i) for i in range(3)),
]


def surveys(job: Job, index: int) -> Iterator[tuple[str, Job]]:
    """Yield the job without each datum of a position's survey in turn, and without all of its room."""
    here = f"positions[{index}]"
    yield "nothing", job
    yield "room", with_value(job, f"{here}.room", Room())
    for name in SURVEYED:
        yield name, with_value(job, f"{here}.{name}", None)
    for c in range(len(job.duty)):
        for name in ("shaft_temperature", "housing_temperature"):
            yield f"duty[{c}].{name}", with_value(job, f"duty[{c}].{name}", None)
    yield "lubricant", with_value(job, "lubricant", None)


@cache
def kinds(bore: float) -> UnitTable:
    """Return one demo unit of each supplier, support, hand and role at a bore, and some of other bores."""
    units = demo_units()
    here = np.flatnonzero(np.abs(units.bore - bore) < 0.1)
    what = np.stack(
        [units.supplier, units.support.astype(str), units.hand.astype(str), units.locating.astype(str)]
    )
    _, first = np.unique(what[:, here], axis=1, return_index=True)
    return units.take(np.concatenate([here[first], np.arange(0, len(units), 1800)]))


def said(finding: Finding) -> Iterator[str]:
    yield from (finding.reason, finding.datum)
    for detail in finding.details:
        yield from detail


def assert_plain(need: Need, units: UnitTable, what: str) -> None:
    swept = sweep(need, units)
    for row in range(len(units)):
        for finding in findings(need, swept, row):
            assert finding.reason, (what, finding.check)
            for text in said(finding):
                assert not NO_NUMBER.search(text), (what, finding.check, units.code[row], text)
            if finding.verdict is Verdict.NO_DATA:
                assert finding.datum, (what, finding.check, finding.reason)


@pytest.mark.parametrize(("name", "index"), PLACES)
def test_a_datum_that_was_not_surveyed_is_named(name: str, index: int) -> None:
    asked = demo_needs(name)[index]
    units = kinds(asked.nominal)
    for what, job in surveys(asked.job, index):
        duty = respond(job).duties[index] if what.startswith("duty") else asked.duty
        assert_plain(Need(job, index, duty), units, what)


@pytest.mark.parametrize("index", [0, 1])
def test_a_datum_that_the_supplier_does_not_give_is_named(index: int) -> None:
    asked = demo_needs("head_shaft")[index]
    units = kinds(asked.nominal).take(slice(0, 8))
    for field in dataclasses.fields(UnitTable):
        column = getattr(units, field.name)
        if column.dtype != np.float64 or field.name in ("bore", "price"):
            continue
        without = dataclasses.replace(units, **{field.name: np.full_like(column, np.nan)})
        assert_plain(asked, without, field.name)


@pytest.mark.parametrize("field", ["rows", "rollers", "roller_length"])
def test_a_bearing_without_roller_geometry_is_rigid_to_the_shaft(field: str) -> None:
    asked = demo_needs("line_shaft")[0]
    unit = kinds(asked.nominal).row(0)
    assert np.isfinite(bearing_of(asked, unit).stiffness)
    without = dataclasses.replace(unit, **{field: np.array([np.nan])})
    assert bearing_of(asked, without).stiffness == np.inf
