"""How the tables of a catalogue join is chosen in the page, by forms that work without a script, or told as text."""

from __future__ import annotations

import re
import tomllib
from html import unescape

import pytest
from starlette.testclient import TestClient

from tests.web.intake import BEARINGS, FEET, JOINED, form_at
from tests.web.test_catalogues import sent
from tests.web.test_rooms import text_of


@pytest.fixture
def at(empty: TestClient, secret: str) -> str:
    """Return the address of a catalogue of two tables that do not join yet."""
    return sent(empty, secret, ("bearings.csv", BEARINGS), ("feet.csv", FEET), ("m.toml", JOINED))


def table(client: TestClient, at: str) -> dict[str, object]:
    found: dict[str, object] = tomllib.loads(client.get(f"{at}/mapping.toml").text)["tables"]["feet"]
    return found


def choices(html: str, name: str) -> list[str]:
    select = re.search(rf'<select name="{re.escape(name)}".*?</select>', html, re.DOTALL)
    assert select is not None
    return [unescape(one) for one in re.findall(r'<option value="([^"]*)"', select[0])]


def test_a_join_is_chosen_among_the_columns(empty: TestClient, at: str) -> None:
    html = empty.get(at).text
    assert "needs keys that join it to a table above" in text_of(html).lower()
    assert choices(html, "j0.own0") == ["", "Kind", "Bearing", "Angle deg"]
    assert choices(html, "j0.other0") == ["", "bearings.No", "bearings.Bore mm", "bearings.C kN"]
    form = form_at(html, "joins")
    assert (form["j0"], form["j0.matches"], form["j0.missing"]) == ("feet", "one", "")
    new = {"j0.own0": "Bearing", "j0.other0": "bearings.No", "j0.matches": "each", "j0.missing": "leave out"}
    assert empty.post(at, data=form | new).status_code == 303
    keys = {"Bearing": "bearings.No"}
    assert table(empty, at) == {"file": "feet.csv", "keys": keys, "matches": "each", "missing": "leave out"}
    html = empty.get(at).text
    assert "needs keys" not in text_of(html).lower()
    form = form_at(html, "joins")
    assert {name: form[name] for name in new} == new
    assert (form["j0.own1"], form["j0.other1"]) == ("", ""), "one more may be added"
    assert empty.post(at, data=form | {"j0.matches": "one", "j0.missing": ""}).status_code == 303
    assert table(empty, at) == {"file": "feet.csv", "keys": keys}


def test_keeping_joins_as_they_stand_changes_nothing(empty: TestClient, at: str) -> None:
    text = JOINED.decode().replace(
        'file = "feet.csv"',
        'file = "feet.csv"\nkeys = { "Old name" = "bearings.Gone", Kind = "?" }\nmissing = "blank"',
    )
    form = form_at(empty.get(at).text, "text")
    assert empty.post(at, data=form | {"text": text}).status_code == 303, "joins may be told as text too"
    before = tomllib.loads(empty.get(f"{at}/mapping.toml").text)
    form = form_at(empty.get(at).text, "joins")
    assert (form["j0.own0"], form["j0.other0"], form["j0.other1"]) == ("Old name", "bearings.Gone", "?")
    assert empty.post(at, data=form).status_code == 303
    assert tomllib.loads(empty.get(f"{at}/mapping.toml").text) == before
    assert before["tables"]["feet"]["keys"] == {"Old name": "bearings.Gone", "Kind": "?"}


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"j0.own0": "Bearing"}, "half a key"),
        ({"j0.other0": "bearings.No"}, "half a key"),
        (
            {"j0.own0": "Kind", "j0.other0": "bearings.No", "j0.own1": "Kind", "j0.other1": "bearings.No"},
            "the column is named twice",
        ),
        ({"j0.matches": "some"}, "is none of the choices"),
        ({"j0.missing": "<b>"}, "is none of the choices"),
        ({"j0": "bearings"}, "is no table that joins another"),
        ({"j0": "nothing"}, "is no table that joins another"),
    ],
)
def test_a_join_that_cannot_be_is_refused(
    empty: TestClient, at: str, wrong: dict[str, str], told: str
) -> None:
    before = empty.get(f"{at}/mapping.toml").text
    answer = empty.post(at, data=form_at(empty.get(at).text, "joins") | wrong)
    assert answer.status_code == 422
    assert told in text_of(answer.text).lower()
    assert "<b>" not in re.sub(r"<b>(?=[^<]*</b>)", "", answer.text)
    assert empty.get(f"{at}/mapping.toml").text == before


def test_a_catalogue_of_one_table_joins_nothing(empty: TestClient, secret: str) -> None:
    at = sent(empty, secret, ("bearings.csv", BEARINGS))
    assert "How the tables join" not in empty.get(at).text


def test_a_proposal_of_two_tables_shows_its_joins(empty: TestClient, secret: str) -> None:
    at = sent(empty, secret, ("bearings.csv", BEARINGS), ("feet.csv", FEET))
    assert "How the tables join" in empty.get(at).text
    data = tomllib.loads(empty.get(f"{at}/mapping.toml").text)
    assert empty.post(at, data=form_at(empty.get(at).text, "joins")).status_code == 303
    assert tomllib.loads(empty.get(f"{at}/mapping.toml").text) == data
