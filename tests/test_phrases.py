"""Text that keeps its amounts: its metric text wherever a text is wanted, inches and pounds where a style asks for them."""

from __future__ import annotations

import copy
import dataclasses
import json
import pickle
from typing import Any

import pytest

from halfbore.domain.check import Change
from halfbore.numbers import INCH, METRIC, NO_BREAK, Style, Value
from halfbore.phrases import (
    Amount,
    Phrase,
    as_parts,
    celsius,
    in_style,
    joined,
    kilonewton,
    micron,
    mm,
    of_parts,
    phrase,
    reading,
    size,
)
from halfbore.present.plain import to_json
from halfbore.present.styled import styled
from halfbore.present.wording import sentence
from halfbore.units import Kind, Span

WORN = phrase("shaft {} under nominal, {} of {}", micron(0.052), mm(25.4, bare=True), mm(254.0, 1))


def plainly(text: str) -> str:
    return text.replace(NO_BREAK, " ")


def test_a_phrase_is_its_metric_text() -> None:
    words = "shaft 52 µm under nominal, 25 of 254.0 mm"
    assert words == WORN and hash(WORN) == hash(words) and {words: 1}[WORN] == 1
    assert to_json({"reason": WORN}) == to_json({"reason": words})
    assert in_style(WORN, METRIC) == words and type(in_style(WORN, METRIC)) is str


def test_it_is_written_again_in_inches() -> None:
    assert plainly(in_style(WORN, INCH)) == "shaft 0.0020 in under nominal, 1.00 of 10.000 in"
    assert plainly(in_style("a text with 12 mm and no parts", INCH)) == "a text with 12 mm and no parts"


@pytest.mark.parametrize(
    ("amount", "metric", "inch"),
    [
        (kilonewton((490.0, 4_500.0), 2), "0.49 to 4.5 kN", "110 to 1\u202f000 lbf"),
        (celsius(95.0), "95 °C", "203 °F"),
        (celsius(Span(40.0, 50.0, 95.0)), "40 to 95 °C", "104 to 203 °F"),
        (reading(99.9693), "99.969 mm", "3.9358 in"),
        (size(112.7125), "112.7125 mm", "4.4375 in"),
        (micron((-0.074, 0.0), signed=True), "−74 to 0 µm", "−0.0029 to 0 in"),
        (Amount(3.14, Kind.SURFACE_SPEED, "m/s", 2), "3.1 m/s", "620 ft/min"),
        (mm(float("inf")), "without limit", "without limit"),
        (mm(float("nan")), "not known", "not known"),
    ],
)
def test_amounts_in_both_systems(amount: Amount, metric: str, inch: str) -> None:
    assert Phrase(amount) == metric
    assert plainly(in_style(Phrase(amount), INCH)) == inch


def test_a_decimal_comma_reaches_a_sentence() -> None:
    assert plainly(in_style(phrase("gives {}", mm(2.5, 1)), Style(decimal=","))) == "gives 2,5 mm"


def test_phrases_in_phrases_keep_their_amounts() -> None:
    both = joined("; ", (phrase("left {}", mm(25.4)), "right none", phrase("over {}", WORN)))
    assert both == f"left 25 mm; right none; over {WORN}"
    assert plainly(in_style(both, INCH)).startswith("left 1.00 in; right none; over shaft 0.0020 in")
    assert joined("; ", ()) == ""


def test_a_text_in_a_place_is_no_template() -> None:
    assert phrase("{} and {}", "a {}", mm(1.0)) == "a {} and 1 mm"


def test_the_places_of_a_template_are_counted() -> None:
    with pytest.raises(ValueError, match="1 places for 2 parts"):
        phrase("{}", "a", "b")


def test_copies_keep_their_amounts() -> None:
    change = Change("shaft", 50.8, 25.4, WORN, Kind.LENGTH)
    copies = (
        copy.deepcopy(WORN),
        pickle.loads(pickle.dumps(WORN)),
        dataclasses.replace(change, now=1.0).words,
        dataclasses.asdict(change)["words"],
    )
    for made in copies:
        assert made == WORN and in_style(made, INCH) == in_style(WORN, INCH)


def test_a_requirement_is_written_in_both_systems() -> None:
    change = Change("room", 50.8, 25.4, "headroom", Kind.LENGTH)
    assert (
        change.would_be == "headroom 25.4 mm" and plainly(in_style(change.would_be, INCH)) == "headroom 1 in"
    )
    assert plainly(in_style(change.was, INCH)) == "2 in"


def test_a_sentence_is_written_in_a_style() -> None:
    assert plainly(sentence(WORN, INCH)) == "Shaft 0.0020 in under nominal, 1.00 of 10.000 in."
    assert plainly(sentence(WORN)) == "Shaft 52 µm under nominal, 25 of 254.0 mm."


def test_all_sentences_of_a_record_are_written_at_once() -> None:
    change = Change("shaft", 50.8, 25.4, "headroom", Kind.LENGTH)
    told: dict[str, Any] = {
        "plain": (change, "12 mm"),
        "said": [WORN, dataclasses.replace(change, words=WORN)],
    }
    found = styled(told, INCH)
    assert found["said"][0] == found["said"][1].words == in_style(WORN, INCH)
    assert found["plain"] is told["plain"] and styled(told, METRIC) is told


@pytest.mark.parametrize("value", [12.5, Span(9.5, 12.5, 14.0), (99.98, 100.0), None, float("inf")])
def test_a_phrase_is_kept_as_plain_data_and_comes_back(value: Value) -> None:
    made = phrase("a seat of {} at {}", mm(value, 2), celsius(80.0))
    again = of_parts(json.loads(json.dumps(as_parts(made), allow_nan=False)))
    assert again == made
    assert in_style(again, INCH) == in_style(made, INCH) or value == float("inf")
    assert "176" in in_style(again, INCH)
