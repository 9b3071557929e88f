"""One value, or a document that is not yet whole, checked by the fields of its record."""

from __future__ import annotations

from typing import Any

import pytest

from halfbore.domain.survey import Thing
from halfbore.errors import InputError
from halfbore.intake.check import PARTS, check_document, check_value, leaves
from halfbore.intake.jobfile import read_job_data
from tests import samples_jobs


@pytest.mark.parametrize(
    ("thing", "path", "text", "kept"),
    [
        (Thing.POSITION, "seat.diameter", " 5.936 in to 5.937 in ", "5.936 in to 5.937 in"),
        (Thing.POSITION, "role", "Locating", "locating"),
        (Thing.POSITION, "room.hoist", "yes", True),
        (Thing.POSITION, "trapped_between", "gear unit; drum", ["gear unit", "drum"]),
        (Thing.POSITION, "in_service_since", "2023-05-03", "2023-05-03"),
        (Thing.POSITION, "history[2021-10-08].why", "moisture corrosion", "moisture corrosion"),
        (Thing.SHAFT_LINE, "loads[gear unit].mass", "780 kg", "780 kg"),
        (Thing.SHAFT_LINE, "loads[gear unit].arm_direction", "up", "up"),
        (Thing.SHAFT_LINE, "shaft.segments[0].length", "700 mm", "700 mm"),
        (Thing.SHAFT_LINE, "duty[loaded].share", "85 %", "85 %"),
        (Thing.MACHINE, "machine.locates[0].holds", "both ways", "both ways"),
        (Thing.MACHINE, "lubricant.iso_vg", "VG 460", "VG 460"),
        (Thing.PLANT, "value.labour", "62 to 68 to 75 EUR/h", "62 to 68 to 75 EUR/h"),
        (Thing.PLANT, "value.stopped_production[1].rate", "1600 EUR/h", "1600 EUR/h"),
        (Thing.PART, "kind", "shaft-mounted drive", "shaft-mounted drive"),
        (Thing.PART, "width", "", None),
    ],
)
def test_a_value_is_kept_as_typed(thing: Thing, path: str, text: str, kept: Any) -> None:
    if kept is None:
        with pytest.raises(InputError, match="no value is given"):
            check_value(thing, path, text, "shaft-mounted drive")
        return
    assert check_value(thing, path, text, "shaft-mounted drive") == kept


@pytest.mark.parametrize(
    ("thing", "path", "text", "told"),
    [
        (
            Thing.POSITION,
            "seat.diamter",
            "1 mm",
            "there is no field 'diamter'; accepted: nearest known: diameter",
        ),
        (Thing.POSITION, "seat", "1 mm", "seat holds several values; accepted: one of: diameter, form_error"),
        (Thing.POSITION, "seat.diameter.low", "1 mm", "diameter is a value and holds nothing"),
        (Thing.POSITION, "seat[1].diameter", "1 mm", "seat is no list"),
        (Thing.POSITION, "history", "x", "history is a list; accepted: history[name or number].field"),
        (Thing.POSITION, "trapped_between[0]", "x", "trapped_between is a list of values"),
        (Thing.SHAFT_LINE, "loads", "x", "loads is a list"),
        (
            Thing.SHAFT_LINE,
            "loads[wheel].mass",
            "1 kg",
            "the kind of the part is needed; accepted: fan wheel",
        ),
        (Thing.POSITION, "seat..diameter", "x", "is no path"),
        (Thing.POSITION, "", "x", "is no path"),
        (Thing.POSITION, "x", "3 kg", "x: 'kg' is a unit of mass, not of length; read '3 kg'"),
        (Thing.POSITION, "x", "3", "x: the number has no unit"),
        (Thing.POSITION, "x", "-1 mm", "place along the shaft is out of bounds"),
        (Thing.POSITION, "room.hoist", "perhaps", "is neither yes nor no; read 'perhaps'"),
        (Thing.POSITION, "in_service_since", "3.5.2023", "is no date; read '3.5.2023'"),
        (Thing.POSITION, "seat.note", "a\x1b[2J", "the text holds a control character"),
        (Thing.PLANT, "value.labour", "65 /h", "one currency is needed"),
    ],
)
def test_what_cannot_be_kept_is_told(thing: Thing, path: str, text: str, told: str) -> None:
    with pytest.raises(InputError) as raised:
        check_value(thing, path, text)
    assert told in str(raised.value)


def test_a_document_may_lack_anything_but_hold_nothing_wrong() -> None:
    assert check_document(Thing.POSITION, {}) == ((), ())
    assert check_document(Thing.MACHINE, {"machine": {"kind": "fan"}, "value": {"labour": "60 EUR/h"}}) == (
        (),
        (),
    )
    problems, questions = check_document(
        Thing.POSITION,
        {
            "seat": {"diameter": "1 mm", "nominal": "700 mm"},
            "x": "3 kg",
            "colour": "red",
            "history": [{"why": "rust"}],
        },
    )
    assert [p.where for p in problems] == ["the file", "x", "seat.diameter", "history[0].why"]
    assert [(q.path, q.text) for q in questions] == [
        ("seat.nominal", "700 mm is unusual; 30 to 620 mm is common")
    ]


def test_a_part_is_checked_by_its_kind() -> None:
    assert check_document(Thing.PART, {"kind": "drum", "face": "1000 mm"}) == ((), ())
    assert (
        check_document(Thing.PART, {"kind": "coupling", "face": "1000 mm"})[0][0].what == "unknown key 'face'"
    )
    assert check_document(Thing.PART, {"face": "1000 mm"})[0][0].what == "kind is missing"
    assert check_document(Thing.PART, {"kind": "wheelbarrow"})[0][0].accepted == ", ".join(PARTS)


def test_a_whole_job_stays_strict() -> None:
    job = samples_jobs.data("fan")
    assert check_document(Thing.MACHINE, job)[0] == ()
    del job["shaft"]
    assert check_document(Thing.MACHINE, job)[0] == ()
    with pytest.raises(InputError, match="shaft: is missing"):
        read_job_data(job)


def test_leaves_are_plain_values_only() -> None:
    from halfbore.domain.position import Position

    paths = leaves(Position)
    assert "seat.diameter" in paths and "trapped_between" in paths
    assert not {"seat", "history", "room"} & set(paths)
