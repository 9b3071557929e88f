"""Plain data as TOML reads back as the same data."""

from __future__ import annotations

import tomllib
from datetime import date
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.workspace.toml_text import toml_text

TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
VALUES = st.one_of(
    TEXTS,
    st.booleans(),
    st.integers(-(2**62), 2**62),
    st.floats(allow_nan=False, allow_infinity=False),
    st.dates(),
    st.lists(TEXTS, max_size=3),
)
TABLES = st.recursive(
    st.dictionaries(TEXTS, VALUES, max_size=4),
    lambda inner: st.dictionaries(
        TEXTS, st.one_of(VALUES, inner, st.lists(inner, min_size=1, max_size=3)), max_size=4
    ),
    max_leaves=12,
)


@given(TABLES)
def test_any_plain_data_reads_back(data: dict[str, object]) -> None:
    assert tomllib.loads(toml_text(data)) == data


@pytest.mark.parametrize("name", ["fan", "head_shaft", "line_shaft"])
def test_the_demo_jobs_read_back(name: str) -> None:
    data = tomllib.loads(files("halfbore.demo").joinpath(f"jobs/{name}.toml").read_text(encoding="utf-8"))
    assert tomllib.loads(toml_text(data)) == data


def test_what_is_none_is_left_out_and_dates_stay_dates() -> None:
    assert (
        toml_text({"a": None, "on": date(2026, 3, 2), "x y": "5\x7f"})
        == 'on = 2026-03-02\n"x y" = "5\\u007f"\n'
    )
