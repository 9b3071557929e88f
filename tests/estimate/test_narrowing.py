"""What to measure next: the input that matters leads, what changes the verdict leads all, nothing is asked in vain."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from halfbore.demo.suppliers import load_catalogue
from halfbore.domain.catalogue import Catalogue
from halfbore.domain.estimate import Narrowing
from halfbore.domain.study import Study
from halfbore.estimate.measured import measured
from halfbore.estimate.reading import read_completed
from halfbore.narrowing import what_to_measure
from halfbore.shaftline.widen import respond_over
from halfbore.study import Stage, study
from halfbore.uncertain import uncertain_inputs
from tests.estimate.machines import MACHINES


@cache
def catalogues() -> tuple[Catalogue, ...]:
    return tuple(load_catalogue(name, Path()) for name in ("demo:first", "demo:second"))


SITE: dict[str, Any] = {
    "room": {
        "plain_left": "400 mm",
        "plain_right": "400 mm",
        "beside": "2 m",
        "entry_side": "both",
        "headroom": "2 m",
    },
    "base": {
        "centre_height": "200 mm",
        "bolt_spacing": "400 mm",
        "bolt_size": "24 mm",
        "tilt_error": "0 rad",
    },
    "lift": {"allowed": "50 mm"},
    "seat": {"nominal": "140 mm", "diameter": "139.99 mm", "form_error": "0.005 mm"},
}


def fan(
    wheel: str = "2000 kg", pull: str = "5 kN", temperature: str = "40 °C", shaft: str = "40 °C"
) -> dict[str, Any]:
    """Return a fully surveyed shaft whose every datum is one value but for what is given."""
    return {
        "format": 1,
        "title": "constructed (invented)",
        "machine": {
            "name": "M",
            "kind": "plain shaft",
            "site": {"ambient": "20 °C"},
            "locates": [{"name": "thrust block", "holds": "both ways", "x": "100 mm"}],
        },
        "shaft": {"segments": [{"length": "2200 mm", "diameter": "140 mm"}]},
        "loads": [
            {"kind": "point load", "name": "wheel", "x": "1100 mm", "mass": wheel},
            {"kind": "point load", "name": "belt", "x": "300 mm", "force": pull},
        ],
        "positions": [
            {"name": "M-A", "x": "600 mm", "role": "non-locating", **SITE},
            {"name": "M-B", "x": "1600 mm", "role": "non-locating", **SITE},
        ],
        "duty": [
            {
                "name": "on",
                "share": 1,
                "speed": "300 r/min",
                "shaft_temperature": shaft,
                "housing_temperature": temperature,
            }
        ],
        "lubricant": {"kind": "grease", "iso_vg": "VG 220"},
        "required": {"life": "60000 h"},
    }


def studied(data: dict[str, Any]) -> Study:
    return study(read_completed(data), catalogues(), Stage.SELECT)


def next_at(found: Study, position: str) -> list[Narrowing]:
    return [n for n in what_to_measure(found) if n.position == position and n.path]


def straddling(found: Study, position: str) -> set[str]:
    choice = next(p.choice for p in found.positions if p.position == position)
    assert choice is not None
    return {f.check for f in choice.shown_findings if f.used is not None and f.used.low <= 1 < f.used.high}


def test_where_every_datum_is_one_value_there_is_nothing_to_measure() -> None:
    assert [n for n in what_to_measure(studied(fan())) if n.path] == []


@pytest.mark.parametrize(
    ("wide", "path"),
    [
        ({"wheel": "200 kg to 2000 kg to 50000 kg"}, "loads[wheel].mass"),
        ({"pull": "1 kN to 5 kN to 120 kN"}, "loads[belt].force"),
    ],
)
def test_the_one_wide_input_leads_and_takes_the_whole_range(wide: dict[str, str], path: str) -> None:
    found = studied(fan(**wide))
    first = next_at(found, "M-A")[0]
    assert first.path == path
    assert first.narrows == pytest.approx(1.0)
    assert first.check in straddling(found, "M-A") or not straddling(found, "M-A")
    assert first.words.endswith(" first: it decides whether the unit holds at M-A")
    chosen = next(p for p in found.positions if p.position == "M-A").choice
    assert chosen is not None
    assert bool(first.fails) is (chosen.chosen is not None)


def test_of_two_inputs_the_wider_one_leads() -> None:
    found = studied(fan(wheel="1000 kg to 2000 kg to 4000 kg", pull="1 kN to 5 kN to 120 kN"))
    assert [n.path for n in next_at(found, "M-A")] == ["loads[belt].force", "loads[wheel].mass"]


@cache
def plate_study(name: str) -> Study:
    return studied(MACHINES[name].data(name))


@cache
def plate_next(name: str) -> tuple[Narrowing, ...]:
    return what_to_measure(plate_study(name))


PLATES = ("C1", "T1")
POSITIONS = [(name, f"{name}-{letter}") for name in PLATES for letter in "AB"]


@pytest.mark.parametrize(("name", "position"), POSITIONS)
def test_what_changes_the_verdict_stands_before_all_else(name: str, position: str) -> None:
    changes = [n.changes for n in plate_next(name) if n.position == position]
    assert True in changes
    assert changes == sorted(changes, reverse=True)


@pytest.mark.parametrize(("name", "position"), POSITIONS)
def test_from_the_plate_alone_the_shaft_is_to_be_measured(name: str, position: str) -> None:
    """A unit is bored for one shaft: another diameter is another verdict."""
    deciding = [n.path for n in plate_next(name) if n.position == position and n.changes]
    assert "shaft.segments[0].diameter" in deciding


def test_measuring_narrows_the_load_by_what_was_said() -> None:
    path = "loads[head drum].diameter"
    said = next(n for n in plate_next("C1") if n.position == "C1-A" and n.path == path)
    before, after = (
        respond_over(r.job, (), r.widening).duties[0]
        for r in (
            plate_study("C1").reading,
            read_completed(measured(plate_study("C1").reading.frame, path, "825 mm")),
        )
    )
    left, width = (d.equivalent_high[0] - d.equivalent_low[0] for d in (after, before))
    assert 1 - left / width == pytest.approx(said.load_narrows)


def test_missing_data_come_after_what_can_be_measured_and_say_who_gives_them() -> None:
    said = [n for n in plate_next("C1") if n.position == "C1-A"]
    paths = [bool(n.path) for n in said]
    assert paths == sorted(paths, reverse=True)
    missing = [n for n in said if not n.path]
    assert any("seat diameter" in n.words and n.how == "ask the site" for n in missing)


def test_every_way_to_measure_is_said_in_words() -> None:
    for name in MACHINES:
        for uncertain in uncertain_inputs(read_completed(MACHINES[name].data(name))):
            assert uncertain.asks[0].isupper() and "{" not in uncertain.asks
            assert uncertain.how != "ask the site", uncertain.path


def test_an_open_question_of_an_order_is_told() -> None:
    data = measured(fan(), "positions[M-A].base", {"fixing": "base"})
    found = study(read_completed(data), catalogues(), Stage.ORDER)
    orders = [p.order for p in found.positions if p.order is not None and not p.order.ready]
    told = [n.words for n in what_to_measure(found) if n.words.startswith("Answer for the order")]
    assert bool(orders) == bool(told)


def doubted(found: Study, position: str) -> set[str]:
    choice = next(p.choice for p in found.positions if p.position == position)
    assert choice is not None
    assert choice.chosen is not None
    return {f.check for f in choice.findings if f.in_doubt}


def test_whatever_is_past_its_limit_at_the_bad_end_is_to_be_shown_first() -> None:
    """One rule for what a measurement decides, what several decide together, and what a supplier knows."""
    found = studied(fan(wheel="1 t to 2 t to 8 t", pull="1 kN to 5 kN to 60 kN"))
    said = what_to_measure(found)
    for position in ("M-A", "M-B"):
        assert doubted(found, position) <= {c for n in said if n.position == position for c in n.fails}
        assert next(n for n in said if n.position == position).fails
    asked = next(n for n in said if n.position == "M-B" and "ring joint" in n.fails)
    assert asked.words.startswith("Ask ")
    assert asked.words.endswith(" off the load: it decides whether the unit holds at M-B")
    together = next(n for n in said if n.position == "M-B" and n.fails == ("rating life",))
    assert together.words.startswith("Settle “rating life” at M-B first: at the bad end of all that is known")


def test_one_missing_temperature_is_asked_for_once_with_all_that_wait_for_it() -> None:
    data = fan()
    del data["duty"][0]["shaft_temperature"]
    said = [n.words for n in what_to_measure(studied(data)) if n.position == "M-A"]
    waiting = (
        "“temperature”, “seals”, “axial travel”, “clearance” and “modified life” have no answer without it"
    )
    assert said == [f"Ask for shaft temperature at the bearing, from the site: {waiting}"]
