"""Paths into a document, and what differs between two."""

from __future__ import annotations

from copy import deepcopy
from datetime import date, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.store import paths
from halfbore.store.differences import differences
from halfbore.store.plain import kept, merged, written

DOCUMENT: dict[str, Any] = {
    "seat": {"diameter": "5.936 in"},
    "loads": [{"name": "gear unit", "mass": "70 kg"}, {"name": "pulley d. 500"}, {"mass": "3 kg"}],
    "history": [{"on": "2021-10-08", "why": "overload"}],
    "shaft": {"segments": [{"length": "300 mm"}, {"length": "600 mm"}]},
    "value": {"stopped_production": ["1 h", "2 h"]},
    "twins": [{"name": "a", "x": 1}, {"name": "a", "x": 2}],
}


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("seat.diameter", "5.936 in"),
        ("loads[gear unit].mass", "70 kg"),
        ("loads[pulley d. 500].name", "pulley d. 500"),
        ("loads[2].mass", "3 kg"),
        ("history[2021-10-08].why", "overload"),
        ("history[0].why", "overload"),
        ("shaft.segments[1].length", "600 mm"),
        ("value.stopped_production[1]", "2 h"),
        ("twins[1].x", 2),
    ],
)
def test_each_form_of_path_reads_and_writes(path: str, value: object) -> None:
    before = deepcopy(DOCUMENT)
    assert paths.get(DOCUMENT, path) == value
    changed = paths.set(DOCUMENT, path, "new")
    assert before == DOCUMENT, "the document that is given stays as it is"
    assert changed != before
    if not path.endswith(".name"):
        assert paths.get(changed, path) == "new"
        assert paths.set(changed, path, value) == before


@pytest.mark.parametrize(
    "path", ["seat.form", "loads[9].mass", "loads[fan]", "nothing.at.all", "seat.diameter.x", "value[0]"]
)
def test_nothing_is_read_where_nothing_is(path: str) -> None:
    assert paths.get(DOCUMENT, path) is None
    assert paths.set(DOCUMENT, path, None) == DOCUMENT


def test_tables_come_and_go_as_needed() -> None:
    assert paths.set({}, "a.b.c", 1) == {"a": {"b": {"c": 1}}}
    assert paths.set({"a": {"b": {"c": 1}}, "d": 2}, "a.b.c", None) == {"d": 2}


def test_new_entries_are_added_at_the_end() -> None:
    once = paths.set({}, "loads[+]", {"name": "fan"})
    assert paths.set(once, "loads[+].name", "drum") == {"loads": [{"name": "fan"}, {"name": "drum"}]}
    assert paths.set(once, "loads[+]", None) == once


def test_entries_can_be_taken_out() -> None:
    fewer = paths.set(DOCUMENT, "loads[gear unit]", None)
    assert paths.labels(fewer["loads"]) == ["pulley d. 500", "1"]
    assert paths.set({"loads": [{"name": "fan"}]}, "loads[fan].name", None) == {"loads": [{}]}


@pytest.mark.parametrize(
    "path",
    [
        "",
        ".",
        "a.",
        ".a",
        "a..b",
        "a[",
        "a[]",
        "a[ ]",
        "a]",
        "[0]",
        "a[b",
        "a.[0]",
        "a[0]b",
        "a b",
        ".".join("a" * 40),
    ],
)
def test_what_is_no_path_is_refused(path: str) -> None:
    with pytest.raises(InputError, match="is no path"):
        paths.set({}, path, 1)


@pytest.mark.parametrize(
    ("path", "what"),
    [
        ("twins[a].x", "several entries have that name.*the place of one: 0, 1"),
        ("loads[fan].mass", "no such entry.*gear unit, pulley d. 500, 2, \\+ for a new one"),
        ("loads[3].mass", "no such entry"),
        ("loads[0000001].mass", "no such entry"),
        ("seat.diameter.low", "a value stands where"),
        ("seat[0]", "no such list"),
        ("rows[0].x", "no such list"),
    ],
)
def test_a_path_that_leads_nowhere_is_refused(path: str, what: str) -> None:
    with pytest.raises(InputError, match=what):
        paths.set(DOCUMENT, path, "new")


def test_overlap() -> None:
    assert paths.overlap("seat", "seat.diameter")
    assert paths.overlap("loads[fan].mass", "loads")
    assert paths.overlap("", "seat")
    assert not paths.overlap("seat.diameter", "seat.form_error")
    assert not paths.overlap("loads[fan]", "loads[drum].mass")


def test_dates_become_text_and_empty_tables_nothing() -> None:
    given = {
        "on": date(2021, 10, 8),
        "at": datetime(2021, 10, 8, 7, 30),
        "seat": {"form": {}},
        "rows": ({}, 1),
    }
    assert kept(given) == {"on": "2021-10-08", "at": "2021-10-08T07:30:00", "rows": [{}, 1]}


@pytest.mark.parametrize(
    ("value", "where"),
    [
        ({"a": {"b": float("nan")}}, "a.b"),
        ({"a": [1, float("inf")]}, "a\\[1\\]"),
        ({"a": None}, "a"),
        ({"a": 10**30}, "a"),
        ({"a": "\ud800"}, "a"),
        ({"a": b"bytes"}, "a"),
        ({"a": {1, 2}}, "a"),
        ({"two words": 1}, "two words"),
        ({"a": {3: 1}}, "a"),
    ],
)
def test_what_is_no_plain_data_is_refused_with_its_place(value: object, where: str) -> None:
    with pytest.raises(InputError, match=where):
        kept(value)


def test_too_deep_is_refused() -> None:
    value: Any = 1
    for _ in range(5000):
        value = [value]
    with pytest.raises(InputError, match="nested too deep"):
        kept({"a": value})


def test_tables_are_merged_and_lists_replaced() -> None:
    assert merged({"a": {"b": 1, "c": [1]}, "d": 1}, {"a": {"c": [2]}, "e": 2}) == {
        "a": {"b": 1, "c": [2]},
        "d": 1,
        "e": 2,
    }


def test_differences_name_the_entry() -> None:
    new = paths.set(DOCUMENT, "loads[gear unit].mass", "75 kg")
    assert list(differences(DOCUMENT, new)) == [("loads[gear unit].mass", "70 kg", "75 kg")]


def test_a_list_that_lost_an_entry_changed_as_a_whole() -> None:
    new = paths.set(DOCUMENT, "shaft.segments[0]", None)
    assert [path for path, _, _ in differences(DOCUMENT, new)] == ["shaft.segments"]


def test_one_is_not_true() -> None:
    assert list(differences({"a": 1}, {"a": True})) == [("a", 1, True)]
    assert list(differences({"a": [1]}, {"a": [1.0]})) == [("a", [1], [1.0])]


KEYS = st.sampled_from(["a", "b", "name", "on", "mass"])
SCALARS = st.one_of(
    st.sampled_from(["fan", "drum", "2021-10-08", "2", "+", " x ", "a]b", "", "²"]),
    st.booleans(),
    st.integers(0, 2),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=3),
    max_leaves=8,
)
DOCUMENTS = st.dictionaries(KEYS, VALUES, max_size=4).map(kept)


@given(DOCUMENTS, DOCUMENTS)
def test_old_values_put_at_their_paths_lead_back(old: dict[str, Any], new: dict[str, Any]) -> None:
    back, forth = new, old
    for path, before, after in differences(old, new):
        back, forth = paths.set(back, path, before), paths.set(forth, path, after)
    assert written(back) == written(old)
    assert written(forth) == written(new)


@given(DOCUMENTS)
def test_a_document_is_kept_as_it_is(document: dict[str, Any]) -> None:
    assert kept(document) == document
    assert not list(differences(document, deepcopy(document)))
