"""Words around numbers: directions, chances, marks, dates, lists, names."""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.domain.check import Finding, Sense, Verdict
from halfbore.numbers import percent, runs
from halfbore.phrases import listed
from halfbore.present.metrics import text_width
from halfbore.present.wording import (
    Mark,
    counted,
    day,
    direction,
    life,
    limit_of,
    mark_of,
    prose,
    sentence,
    short_source,
    tags,
    value_of,
    weakest,
)
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span


@pytest.mark.parametrize(
    ("y", "z", "words"),
    [
        (1.0, 0.0, "up"),
        (-1.0, 0.0, "down"),
        (0.0, 43_000.0, "right"),
        (0.0, -1.0, "left"),
        (5_470.0, 36_540.0, "right, 9° up"),
        (-1_721.0, -796.0, "down, 25° left"),
        (0.0, 0.0, "no direction"),
    ],
)
def test_directions_are_seen_from_the_drive_end(y: float, z: float, words: str) -> None:
    assert direction(y, z) == words


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.0, "no run"),
        (0.004, "fewer than 1 run of 100"),
        (0.12, "12 runs of 100"),
        (0.153, "15 runs of 100"),
        (0.1, "1 run of 10"),
        (0.9, "9 runs of 10"),
        (0.967, "97 runs of 100"),
        (0.999, "more than 99 runs of 100"),
        (1.0, "every run"),
        (float("nan"), "an unknown number of runs"),
    ],
)
def test_a_chance_is_runs_of_ten(chance: float, words: str) -> None:
    assert runs(chance) == words


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.0, "0\u00a0%"),
        (0.0001, "<1\u00a0%"),
        (0.153, "15\u00a0%"),
        (0.994, "99\u00a0%"),
        (0.998, ">99\u00a0%"),
        (1.0, "100\u00a0%"),
    ],
)
def test_a_chance_in_a_table_is_neither_none_nor_all_while_runs_are_left(chance: float, words: str) -> None:
    assert percent(chance) == words


@given(st.integers(0, 1000))
def test_sentence_and_table_tell_the_same_chance(thousandths: int) -> None:
    chance = thousandths / 1000
    said = {"no run": "0 runs of 10", "every run": "10 runs of 10"}.get(runs(chance), runs(chance))
    found = re.search(r"(\d+) runs? of (\d+)$", said)
    assert found is not None
    assert re.sub(r"[^0-9]", "", percent(chance)) == str(int(found[1]) * 100 // int(found[2]))


@pytest.mark.parametrize(
    ("status", "mark"),
    [
        (Status.PUBLISHED, Mark.PUBLISHED),
        (Status.GIVEN, Mark.PUBLISHED),
        (Status.DERIVED, Mark.PUBLISHED),
        (Status.FROM_MEMORY, Mark.MEMORY),
        (Status.COMMON_PRACTICE, Mark.PRACTICE),
        (Status.ESTIMATE, Mark.PRACTICE),
    ],
)
def test_each_standing_has_its_mark(status: Status, mark: Mark) -> None:
    assert mark_of(Source("s", status=status)) is mark


def test_a_result_is_no_better_founded_than_its_weakest_source() -> None:
    published, memory = Source("a"), Source("b", status=Status.FROM_MEMORY)
    assert weakest([published, memory]) is Mark.MEMORY
    assert weakest([published, memory, Source("c", status=Status.ESTIMATE)]) is Mark.PRACTICE


def test_text_is_polished_but_codes_are_not() -> None:
    told = prose("takes -12 mm at 79-31-6L-04, 4 280 EUR")
    assert told == "takes −12\u00a0mm at 79-31-6L-04, 4\u202f280\u00a0EUR"
    assert prose("1\u2009400") == "1\u202f400"
    assert sentence("holds all") == "Holds all."


def test_lists_counts_and_dates() -> None:
    assert (listed([]), listed(["a"]), listed(["a", "b", "c"])) == ("", "a", "a, b and c")
    assert counted(1, "unit") == "1 unit" and counted(2, "unit") == "2 units"
    assert day(date(2026, 3, 2)) == "2 March 2026"


def test_positions_keep_their_letter() -> None:
    assert tags(["F1-A", "F1-B"]) == {"F1-A": "A", "F1-B": "B"}
    assert tags(["head", "tail"]) == {"head": "A", "tail": "B"}
    assert tags(["A-1", "B-1"]) == {"A-1": "A", "B-1": "B"}


def test_a_life_past_a_million_hours_has_no_false_digits() -> None:
    assert life(Span(47e3, 60e3, 83e3)) == "47 to 83\u00a0kh"
    assert life(Span(2e6, 3e6, 4e6)) == "over\u00a01\u202f000\u00a0kh"
    assert life(Span(4.4e5, 1e6, 4e6)) == "440 to over 1\u202f000\u00a0kh"


def finding(kind: Kind, value: Span, limit: Span, check: str = "room") -> Finding:
    """Return a finding that holds."""
    sense = Sense.AT_MOST
    return Finding(check, check, Verdict.HOLDS, kind, value, limit, sense, Span.of(0.5), "", (Source("s"),))


def test_close_lengths_are_told_apart() -> None:
    seat = finding(Kind.LENGTH, Span(159.945, 159.95, 159.955), Span(159.924, 159.96, 160.0), "bore and seat")
    assert value_of(seat) == "159.945 to 159.955\u00a0mm"
    assert limit_of(seat) == "within\u00a0159.924 to 160.000\u00a0mm"
    room = finding(Kind.LENGTH, Span.of(104.14), Span.of(235.0))
    assert (value_of(room), limit_of(room)) == ("104\u00a0mm", "≤\u00a0235\u00a0mm")


@pytest.mark.parametrize(
    ("words", "short"),
    [
        ("ISO 281:2007, 9.3", "ISO 281:2007, 9.3"),
        ("Harris, Rolling Bearing Analysis, radial load distribution", "Harris, Rolling Bearing"),
        ("2 mm to work with under a lifted shaft", "2 mm to work"),
        ("supplier's unit table, seat tolerance", "supplier's unit table"),
        ("survey and supplier's unit table", "survey"),
        ("which check of the new unit stands against which damage mode", "which check"),
    ],
)
def test_a_source_in_one_line_ends_with_a_whole_word(words: str, short: str) -> None:
    assert short_source(words, 86.0, 9.0) == short
    assert text_width(short, 9.0) <= 86.0


def test_a_source_of_one_long_word_is_cut() -> None:
    assert short_source("x" * 60, 86.0, 9.0).endswith("x…")
