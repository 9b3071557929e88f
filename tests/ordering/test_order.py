"""Orders of demo units: parts, words, and every question of the supplier answered or open."""

from __future__ import annotations

from dataclasses import replace
from math import isnan

import numpy as np
import pytest

from halfbore.demo.suppliers import load
from halfbore.domain.catalogue import FEATURES, Catalogue, Part
from halfbore.domain.job import Job
from halfbore.domain.order import Answer, AnswerState, Order, Wishes
from halfbore.domain.position import Position
from halfbore.domain.unit import SealKind, Support, UnitTable
from halfbore.errors import InputError
from halfbore.intake.check import leaf
from halfbore.intake.jobfile import read_job_data
from halfbore.ordering.order import make_order
from halfbore.ordering.parts import specification_of, unit_of
from halfbore.ordering.questions import QUESTIONS
from halfbore.ordering.scheme import code_parts, read_code
from halfbore.ordering.words import describe
from halfbore.shaftline.respond import respond
from tests.samples_jobs import data, simple

PACKING, LABYRINTH, CLOSED = SealKind.PACKING, SealKind.LABYRINTH, SealKind.CLOSED_END


@pytest.fixture(scope="module")
def job() -> Job:
    named = data("fan")
    named["machine"]["site"]["explosive_zone"] = "none"
    return read_job_data(named).job


@pytest.fixture(params=["first", "second"])
def catalogue(request: pytest.FixtureRequest) -> Catalogue:
    return load(request.param)


def unit_for(catalogue: Catalogue, support: Support = Support.PLAIN, locating: bool = True) -> UnitTable:
    u = catalogue.units
    found = (u.size == "160 mm") & (u.row_size == 1) & (u.support == support) & (u.locating == locating)
    return u.row(int(np.flatnonzero(found)[0]))


def ordered(job: Job, catalogue: Catalogue, unit: UnitTable, position: Position | None = None) -> Order:
    duty = respond(job).duties[0]
    return make_order(job, position or job.positions[0], unit, PACKING, LABYRINTH, 1, catalogue, duty)


def answer(order: Order, question: str) -> Answer:
    return next(a for a in order.answers if a.question.startswith(question))


def test_a_fully_surveyed_position_is_ready(job: Job, catalogue: Catalogue) -> None:
    order = ordered(job, catalogue, unit_for(catalogue))
    assert order.ready
    assert [a.question for a in order.answers] == [question for question, *_ in QUESTIONS]
    assert read_code(order.code, catalogue.scheme, catalogue.supplier) == order.specification
    assert order.words == describe(order.specification)
    assert answer(order, "Radial").answer.startswith("largest ")
    assert answer(order, "Shaft diameter at").answer.startswith("159.945 to 159.955 mm measured")
    assert answer(order, "Centre height").answer.startswith("base 250 mm below the shaft centre")


def test_the_pieces_of_a_code_make_it_up_and_say_every_feature_once(job: Job, catalogue: Catalogue) -> None:
    order = ordered(job, catalogue, unit_for(catalogue))
    assert "".join(part.text for part in order.code_parts) == order.code
    said = [feature for part in order.code_parts for feature, _ in part.says if feature in FEATURES]
    fixed = [feature for feature, _ in catalogue.scheme.fixed]
    assert sorted([*said, *fixed]) == sorted(FEATURES)
    spare = code_parts(replace(order.specification, part=Part.BEARING), catalogue.scheme)
    assert "".join(part.text for part in spare) == order.spares[0].code
    assert spare[-1].says == (("part", "bearing set"),)


def test_every_answer_names_the_values_of_the_job_that_say_it(job: Job, catalogue: Catalogue) -> None:
    for found in ordered(job, catalogue, unit_for(catalogue)).answers:
        for path in found.told_by:
            of_position = path.startswith("position.")
            leaf(
                Position if of_position else Job, path.removeprefix("position.")
            )  # raises where there is none


def test_without_a_solved_shaft_line_the_loads_are_open(job: Job, catalogue: Catalogue) -> None:
    order = make_order(job, job.positions[0], unit_for(catalogue), PACKING, PACKING, 0, catalogue)
    assert not order.ready
    assert {a.question for a in order.answers if a.state is AnswerState.OPEN} == {
        "Radial load with its direction",
        "Axial load with its direction",
    }


@pytest.mark.parametrize(
    ("change", "question"),
    [
        ({"seat": None}, "Shaft diameter at"),
        ({"centre_height": None}, "Centre height"),
        ({"bolt_size": None}, "Base bolts"),
    ],
)
def test_what_was_not_surveyed_keeps_the_order_open(
    job: Job, catalogue: Catalogue, change: dict[str, None], question: str
) -> None:
    position = job.positions[0]
    if "seat" in change:
        position = replace(position, seat=replace(position.seat, diameter=None))
    else:
        position = replace(position, base=replace(position.base, **change))  # type: ignore[arg-type]
    order = ordered(job, catalogue, unit_for(catalogue), position)
    assert answer(order, question).state is AnswerState.OPEN
    assert not order.ready


def test_a_job_without_lubricant_or_in_too_much_hurry_is_open(job: Job, catalogue: Catalogue) -> None:
    hurry = replace(job, lubricant=None, required=replace(job.required, latest_delivery=24.0))
    order = ordered(hurry, catalogue, unit_for(catalogue))
    assert answer(order, "Lubricant").state is AnswerState.OPEN
    assert answer(order, "Date").answer.startswith("wanted within 0.143 weeks")
    assert answer(order, "Date").state is AnswerState.OPEN


def test_what_does_not_apply_is_said(job: Job) -> None:
    first = load("first")
    u = first.units
    flange = u.row(int(np.flatnonzero((u.size == "160 mm") & (u.support == Support.FLANGE) & ~u.locating)[0]))
    order = ordered(job, first, flange)
    for question in ("Axial", "Centre height", "Base bolts"):
        assert answer(order, question).state is AnswerState.NOT_APPLICABLE


WANTED = Wishes(
    ports="M10 at the top",
    sensors="M8 hole at the load zone",
    paint="two coats",
    certificates="material of the rings",
    spares="none",
    wanted_by="1 June 2026",
    part_delivery=False,
    drawing="D-1, revision B",
)
"""Every wish said."""


def test_what_nobody_said_is_assumed_and_asks_to_be_confirmed(job: Job, catalogue: Catalogue) -> None:
    order = ordered(job, catalogue, unit_for(catalogue))
    assert order.ready
    assert order.to_confirm == (
        "Lubricant and ports",
        "Sensors",
        "Paint",
        "Certificates",
        "Spares",
        "Date, and delivery in parts",
        "Drawing and revision",
    )
    assert {answer(order, q).state for q in order.to_confirm} == {AnswerState.ASSUMED}
    assert answer(order, "Spares").answer == "none ordered; the list of spares follows (assumed)"
    assert answer(order, "Lubricant").answer.endswith("ports: the supplier's standard (assumed)")
    date = answer(order, "Date").answer
    assert date.startswith("wanted as soon as the supplier delivers (assumed), the supplier takes")
    assert date.endswith("all at once (assumed)")


def test_an_explosive_zone_that_nobody_named_is_to_be_confirmed(catalogue: Catalogue) -> None:
    order = ordered(read_job_data(data("fan")).job, catalogue, unit_for(catalogue))
    assert "Zone and special rules" in order.to_confirm
    assert answer(order, "Zone").answer == "explosive-atmosphere zone: none named (assumed)"


@pytest.mark.parametrize(
    ("apart", "bolt", "end"),
    [
        (0.0, -1.0, "apart, within its slots"),
        (30.0, 0.0, "apart: new holes or a plate between"),
        (0.0, 4.0, "apart, within its slots, and the bolts are thicker than it is made for"),
    ],
)
def test_base_bolts_that_do_not_fit_are_told(
    job: Job, catalogue: Catalogue, apart: float, bolt: float, end: str
) -> None:
    unit = replace(unit_for(catalogue), bolt_slot=np.array([20.0]))
    spacing, size = float(unit.bolt_spacing[0]) + apart, float(unit.bolt_size[0]) + bolt
    place = job.positions[0]
    there = replace(place, base=replace(place.base, bolt_spacing=spacing, bolt_size=size))
    told = ordered(replace(job, positions=(there, *job.positions[1:])), catalogue, unit)
    assert answer(told, "Base bolts").answer.endswith(end)


def test_wishes_said_leave_nothing_to_confirm_even_where_they_are_none(
    job: Job, catalogue: Catalogue
) -> None:
    unit, duty = unit_for(catalogue), respond(job).duties[0]
    order = make_order(job, job.positions[0], unit, PACKING, PACKING, 0, catalogue, duty, WANTED)
    assert order.ready
    assert order.to_confirm == ()
    assert answer(order, "Spares").answer == "none ordered; the list of spares follows"
    assert answer(order, "Date").answer.startswith("wanted by 1 June 2026, the supplier takes")


@pytest.mark.parametrize(
    ("change", "question"),
    [
        ({"ports": None}, "Lubricant"),
        ({"sensors": ""}, "Sensors"),
        ({"wanted_by": None}, "Date"),
        ({"part_delivery": None}, "Date"),
    ],
)
def test_one_wish_left_out_is_one_question_to_confirm(
    job: Job, catalogue: Catalogue, change: dict[str, str | None], question: str
) -> None:
    wishes = replace(WANTED, **change)  # type: ignore[arg-type]
    order = make_order(
        job, job.positions[0], unit_for(catalogue), PACKING, PACKING, 0, catalogue, wishes=wishes
    )
    assert [q.split(",")[0].split(" ")[0] for q in order.to_confirm] == [question]


def test_a_longest_lead_time_that_helps_is_a_wanted_date(job: Job, catalogue: Catalogue) -> None:
    within = replace(job, required=replace(job.required, latest_delivery=52 * 168.0))
    wishes = replace(WANTED, wanted_by=None)
    unit = unit_for(catalogue)
    order = make_order(within, job.positions[0], unit, PACKING, PACKING, 0, catalogue, wishes=wishes)
    assert answer(order, "Date").state is AnswerState.ANSWERED
    assert answer(order, "Date").answer.startswith("wanted within 52 weeks")


def test_wishes_in_a_job_file_are_read() -> None:
    asked = read_job_data({**data("fan"), "order": {"wanted_by": "1 June 2026", "part_delivery": True}})
    assert asked.job.order == Wishes(wanted_by="1 June 2026", part_delivery=True)
    assumed = {a.path for a in asked.assumptions}
    assert "order.sensors" in assumed
    assert "order.wanted_by" not in assumed


def test_parts_add_up(job: Job, catalogue: Catalogue) -> None:
    unit = unit_for(catalogue)
    order = ordered(job, catalogue, unit)
    total = unit.price[0] + unit.seal_price[0, PACKING] + unit.seal_price[0, LABYRINTH]
    assert sum(item.price for item in order.items) == pytest.approx(total)
    assert [item.part for item in order.spares] == [Part.BEARING, Part.SEALS, Part.SUPPORT]
    assert len({item.code for item in order.spares} | {order.code}) == 4
    for item in order.spares:
        assert read_code(item.code, catalogue.scheme, catalogue.supplier).part == item.part
    bearing, seals, support = order.spares
    assert bearing.words.startswith("matched halves")
    assert seals.price == pytest.approx(total - unit.price[0])
    assert isnan(support.price) == (catalogue.supplier == "Quernvold Split Units")


def test_a_seal_that_is_not_offered_is_not_ordered() -> None:
    units = load("first").units
    large = units.row(int(np.argmax(units.bore)))
    with pytest.raises(
        InputError, match="no such seal at the free end side; read 'closed-end'; accepted: packing, lab"
    ):
        specification_of(large, PACKING, CLOSED, 0)
    with pytest.raises(InputError, match="no such seal at the drive end side; read 'none'"):
        specification_of(large, -1, PACKING, 0)
    with pytest.raises(InputError, match="no clearance group"):
        specification_of(large, PACKING, PACKING, -1)


def test_a_specification_finds_its_unit(catalogue: Catalogue) -> None:
    unit = unit_for(catalogue, Support.SIDE_ENTRY)
    s = specification_of(unit, LABYRINTH, PACKING, 2)
    assert unit_of(s, catalogue.units).code[0] == unit.code[0]
    with pytest.raises(InputError, match="makes no such unit"):
        unit_of(replace(s, row_size=9), catalogue.units)


def test_the_axial_load_of_a_screw_is_asked_with_the_end_that_it_pushes_to() -> None:
    screw = read_job_data(
        simple(
            loads=[
                {
                    "kind": "screw flight",
                    "name": "flight",
                    "x": "1000 mm",
                    "mass": "300 kg",
                    "length": "900 mm",
                    "thrust": "20 kN to 30 kN",
                    "thrust_towards": "drive end",
                }
            ]
        )
    ).job
    catalogue = load("first")
    said = answer(ordered(screw, catalogue, unit_for(catalogue)), "Axial load").answer
    assert said == "30 kN, towards the drive end"
    uphill = replace(screw, shaft=replace(screw.shaft, inclination=-0.2))
    both = answer(ordered(uphill, catalogue, unit_for(catalogue)), "Axial load").answer
    assert both.endswith("towards the drive end and the free end")
