"""Job files: what is read, what is assumed, what is refused and with which words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from halfbore.domain.machine import Contamination, Drum, FanWheel
from halfbore.errors import InputError
from halfbore.intake.explain import explained
from halfbore.intake.jobfile import read_job, read_job_data, read_job_text
from tests.samples_jobs import JOBS, data, simple


@pytest.mark.parametrize("name", ["fan", "head_shaft", "line_shaft"])
def test_a_demo_job_reads_and_its_explanation_reads_back_to_the_same_job(name: str) -> None:
    first = read_job(JOBS / f"{name}.toml")
    again = read_job_text(explained(first))
    assert again.job == first.job
    assert len(again.assumptions) < len(first.assumptions) / 5


def test_values_come_in_internal_units() -> None:
    job = read_job(JOBS / "head_shaft.toml").job
    assert job.shaft.segments[0].diameter == pytest.approx(150.8125)
    drum = next(load for load in job.loads if isinstance(load, Drum))
    assert (drum.tight_strand.low, drum.tight_strand.likely, drum.tight_strand.high) == (36e3, 38e3, 41e3)  # type: ignore[union-attr]
    assert drum.tight_direction == pytest.approx(4.71238898038)
    fan = next(load for load in read_job(JOBS / "fan.toml").job.loads if isinstance(load, FanWheel))
    assert (fan.balance_grade, fan.balance_in_service) == (6.3, 16.0)


def test_what_is_left_out_becomes_an_assumption_with_a_reason() -> None:
    reading = read_job_data(simple())
    found = {a.path: a for a in reading.assumptions}
    assert found["machine.site.contamination"].value == Contamination.SLIGHT_TO_TYPICAL.value
    assert found["required.reliability"].why
    assert reading.job.lubricant is None
    assert not any(a.path.startswith("lubricant") for a in reading.assumptions)


def test_what_is_unusual_is_asked_about_and_used() -> None:
    changed = simple()
    changed["duty"][0]["shaft_temperature"] = "160 °C"
    reading = read_job_data(changed)
    assert reading.job.duty[0].shaft_temperature is not None
    assert [q.path for q in reading.questions] == ["duty[0].shaft_temperature"]


@pytest.mark.parametrize("name", ["fan", "head_shaft", "line_shaft"])
def test_a_demo_job_leaves_nothing_to_ask_about(name: str) -> None:
    assert read_job(JOBS / f"{name}.toml").questions == ()


SLEEVE = "sleeve-mounted? the seat is then smaller than the old bearing's bore"
ODD = [
    # 100 mm shaft; 1 % is 1 mm, half a diameter 50 mm, a seal 20 % off 20 mm.
    (("positions", 0, "seat", "nominal"), "110 mm", "positions[0].seat.nominal", SLEEVE),
    (
        ("positions", 0, "seat", "nominal"),
        "110 mm",
        "positions[0].seat.nominal",
        "110 mm on a shaft of 100 mm",
    ),
    (
        ("positions", 1, "seat", "diameter"),
        "98.9 mm",
        "positions[1].seat.diameter",
        "98.9 mm on a shaft of 100",
    ),
    (
        ("positions", 0, "seal_left"),
        {"diameter": "121 mm"},
        "positions[0].seal_left.diameter",
        "does it run?",
    ),
    (("positions", 0, "x"), "960 mm", "positions[0].x", "weight stands 40 mm from here"),
    (("positions", 0, "x"), "1000 mm", "positions[0].x", "weight stands across this place"),
    (
        ("duty", 0),
        {
            "name": "run",
            "share": 1.0,
            "speed": "300 r/min",
            "shaft_temperature": "40 °C",
            "housing_temperature": "50 °C",
        },
        "duty[0].housing_temperature",
        "heated from outside, or are the two exchanged?",
    ),
]


@pytest.mark.parametrize(("path", "value", "where", "words"), ODD)
def test_a_survey_that_contradicts_itself_is_asked_about(
    path: tuple[Any, ...], value: Any, where: str, words: str
) -> None:
    questions = read_job_data(_put(value, *path)).questions
    assert any(q.path == where and words in q.text for q in questions), questions


FINE = [
    (("positions", 0, "seat", "nominal"), "100.9 mm"),
    (("positions", 1, "seat", "diameter"), "99.1 mm"),
    (("positions", 0, "seal_left"), {"diameter": "119 mm"}),
    (("positions", 0, "x"), "940 mm"),
]


@pytest.mark.parametrize(("path", "value"), FINE)
def test_what_is_within_reason_is_not_asked_about(path: tuple[Any, ...], value: Any) -> None:
    assert read_job_data(_put(value, *path)).questions == ()


def _put(value: Any, *path: Any) -> dict[str, Any]:
    changed = simple()
    at: Any = changed
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    return changed


REFUSED = [
    (_put("100 mm", "shaft", "diametre"), "shaft", "unknown key 'diametre'"),
    (_put("steel", "machine", "knd"), "machine", "nearest known key: kind"),
    (_put("a fan", "machine", "kind"), "machine.kind", "did you mean 'fan'?"),
    (_put(0.9, "duty", 0, "share"), "duty", "the shares do not add up to 1"),
    (_put("0 r/min", "duty", 0, "speed"), "duty[0].speed", "a running condition has no speed"),
    (_put("locating", "positions", 1, "role"), "positions", "two positions locate the shaft"),
    (_put("2500 mm", "loads", 0, "x"), "loads[0].x", "lies beyond the end of the shaft"),
    (_put("400 mm", "positions", 1, "x"), "positions[1].x", "positions stand in order"),
    (_put("A", "positions", 1, "name"), "positions", "a name stands twice"),
    (_put("0 mm", "shaft", "segments", 0, "length"), "shaft.segments[0].length", "out of bounds"),
    (_put(100, "shaft", "segments", 0, "diameter"), "shaft.segments[0].diameter", "no unit"),
    (_put("4 15/16", "shaft", "segments", 0, "diameter"), "shaft.segments[0].diameter", "no unit"),
    (_put("approx 100 mm", "shaft", "segments", 0, "diameter"), "shaft.segments[0].diameter", ""),
    (_put("120 mm to 100 mm", "positions", 0, "seat", "diameter"), "positions[0].seat.diameter", ""),
    (_put(True, "loads", 0, "mass"), "loads[0].mass", "a quantity is wanted"),
    (_put("spring", "loads", 0, "kind"), "loads[0]", "unknown kind"),
    (_put([], "loads", 0, "name"), "loads[0].name", "a text is wanted"),
    (_put("x" * 501, "title"), "title", "text is too long"),
    (_put({}, "required"), None, ""),
    (_put(["A"], "positions"), "positions[0]", "a table of named values is wanted"),
    (_put(2, "format"), "format", "out of bounds"),
]


@pytest.mark.parametrize(("changed", "where", "words"), REFUSED)
def test_bad_input_is_refused_by_its_place(changed: dict[str, Any], where: str | None, words: str) -> None:
    if where is None:
        assert read_job_data(changed).job
        return
    with pytest.raises(InputError) as refused:
        read_job_data(changed)
    said = [(p.where, p.sentence()) for p in refused.value.problems]
    assert any(p.partition(" (")[0] == where and words in text for p, text in said), said


TOLD = [
    (
        _put("800 in", "positions", 0, "x"),
        "positions[0].x (A): place along the shaft is out of bounds; read '800 in (20320 mm)'; "
        "accepted: 0 to 787.402 in",
    ),
    (
        _put({"horizon": "60 years"}, "required"),
        "required.horizon: years over which cost counts is out of bounds; read '60 years (525600 h)'; "
        "accepted: 1 to 50 years",
    ),
    (
        _put({"horizon": "525600 h"}, "required"),
        "required.horizon: years over which cost counts is out of bounds; read '525600 h (60 years)'; "
        "accepted: 1 to 50 years",
    ),
    (
        _put("north", "loads", 0, "direction"),
        "loads[0].direction (weight): it does not begin with a number; read 'north'; "
        "accepted: up, right, down, left, or an angle (rad,",
    ),
    (_put("2500 mm", "loads", 0, "x"), "loads[0].x (weight): lies beyond the end of the shaft"),
    (_put("0 mm", "shaft", "segments", 0, "length"), "read '0 mm'; accepted: "),
]


@pytest.mark.parametrize(("changed", "sentence"), TOLD)
def test_a_refusal_is_told_in_the_words_and_units_that_were_typed(
    changed: dict[str, Any], sentence: str
) -> None:
    with pytest.raises(InputError) as refused:
        read_job_data(changed)
    assert any(sentence in p.sentence() for p in refused.value.problems), str(refused.value)


def test_what_is_unusual_is_told_in_the_unit_that_was_typed() -> None:
    questions = read_job_data(_put("320 °F", "duty", 0, "shaft_temperature")).questions
    assert [q.text for q in questions] == ["320 °F is unusual; \u221240 to 302 °F is common"]
    questions = read_job_data(_put({"horizon": "40 years"}, "required")).questions
    assert [q.text for q in questions] == ["40 years is unusual; 1 to 30 years is common"]


def test_every_problem_of_a_file_is_told_at_once() -> None:
    changed = simple()
    del changed["title"]
    changed["duty"][0]["speed"] = "fast"
    changed["loads"][0]["mass"] = ""
    with pytest.raises(InputError) as refused:
        read_job_data(changed)
    assert {p.where for p in refused.value.problems} == {
        "title",
        "duty[0].speed (run)",
        "loads[0].mass (weight)",
    }


def test_a_position_on_a_step_of_the_shaft_is_refused() -> None:
    changed = simple(
        shaft={
            "segments": [
                {"length": "500 mm", "diameter": "90 mm"},
                {"length": "1500 mm", "diameter": "100 mm"},
            ]
        }
    )
    with pytest.raises(InputError, match="stands on a step"):
        read_job_data(changed)


def test_a_drum_with_one_strand_is_refused() -> None:
    changed = data("head_shaft")
    del changed["loads"][1]["slack_strand"]
    with pytest.raises(InputError, match="one strand is given"):
        read_job_data(changed)


def test_a_missing_file_and_one_that_is_no_toml_say_so(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        read_job(tmp_path / "none.toml")
    (tmp_path / "bad.toml").write_text("title = unquoted")
    with pytest.raises(InputError, match="is not TOML"):
        read_job(tmp_path / "bad.toml")
    (tmp_path / "latin.toml").write_bytes(b'title = "M\xfchle"')
    with pytest.raises(InputError, match="cannot be read"):
        read_job(tmp_path / "latin.toml")
