"""The changeover room and the value room: the answer first, cautions before the work, assumptions kept in place."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.workspace import Edit
from tests.web.test_order_and_documents import kept_form
from tests.web.test_rooms import text_of

CHANGEOVER, VALUE = "/positions/E1-B/changeover", "/positions/E1-B/value"


def main_of(client: TestClient, address: str) -> str:
    """Return what a page says below its head."""
    page = client.get(address)
    assert page.status_code == 200
    return text_of(page.text[page.text.index("<main") :])


def test_the_changeover_says_the_difference_first_and_the_cautions_before_the_work(
    client: TestClient,
) -> None:
    said = main_of(client, CHANGEOVER)
    assert said.index("A split unit at E1-B takes between") < said.index("Before anyone starts")
    assert said.index("Stored energy: lock out, prove dead") < said.index("Both changeovers on one time axis")
    assert "One-piece bearing, in an unplanned stop" in said
    assert "Split unit, first conversion, in an unplanned stop" in said
    assert "product on" in said
    assert "lockout procedure" in said


def test_every_task_of_both_plans_stands_in_the_table_once(client: TestClient) -> None:
    page = client.get(CHANGEOVER).text
    table = page[page.index('id="tasks"') : page.index("Three clocks")]
    rows = [text_of(row) for row in re.findall(r"<tr><td>.*?</tr>", table, re.DOTALL)]
    pair = client.get("/api/changeover", params={"tag": "E1-B"}).json()["plans"]
    names = {t["task"]["name"] for plan in ("one_piece", "split_first") for t in pair[plan]["tasks"]}
    assert len(rows) == len(names) > 30
    assert any("Cut the old bearing off , estimate – 1.2 to 5.3 2 hot work" in row for row in rows)


def test_a_value_of_the_site_is_kept_and_the_plans_follow(client: TestClient, csrf: str) -> None:
    form = kept_form(client, csrf, CHANGEOVER, "changeover.next_stop", "E1")
    answer = client.post(CHANGEOVER, data={**form, "value": "planned"})
    assert (answer.status_code, answer.headers["location"]) == (303, CHANGEOVER)
    assert "Split unit, first conversion, in a planned stop" in main_of(client, CHANGEOVER)


def test_the_sites_own_hours_of_a_task_count_and_are_taken_away(
    client: TestClient, csrf: str, copied: Path
) -> None:
    new = {"new.task": "Lower the shaft", "new.duration": "2 h to 3 h to 4 h", "new.plan": ""}
    answer = client.post(CHANGEOVER, data={"csrf": csrf, "do": "add", **new})
    assert answer.status_code == 303
    said = main_of(client, CHANGEOVER)
    assert "Lower the shaft , the site's own hours 2.0 to 4.0 2.0 to 4.0" in said.replace("shaft,", "shaft ,")
    with store.open(copied) as workspace:
        assert workspace.document(("E1",))["changeover"]["tasks"][0]["duration"] == "2 h to 3 h to 4 h"
    away = {"csrf": csrf, "do": "remove", "at": "E1", "path": "changeover.tasks[0]"}
    assert client.post(CHANGEOVER, data=away).status_code == 303
    assert "Lower the shaft, estimate" in main_of(client, CHANGEOVER).replace(" ,", ",")


@pytest.mark.parametrize(
    ("new", "told"),
    [
        ({"new.task": "Lower the shaft", "new.duration": "long"}, "long"),
        ({}, "nothing is given"),
    ],
)
def test_hours_that_cannot_be_used_are_told(
    client: TestClient, csrf: str, new: dict[str, str], told: str
) -> None:
    answer = client.post(CHANGEOVER, data={"csrf": csrf, "do": "add", **new})
    assert answer.status_code == 422
    assert told in text_of(answer.text)


def test_the_value_says_whether_it_pays_and_when_not(client: TestClient) -> None:
    said = main_of(client, VALUE)
    no = re.search(r"When the answer is no\.|The answer would be no", said)
    assert no is not None
    assert said.index("Converting E1-B") < no.start() < said.index("What it saves")
    assert "of 1000 runs, seed 20260101" in said
    assert "What moves it" in said
    assert "Replacements after the next change, split unit" in said
    assert "2022-03-22 abrasive wear" in said
    page = client.get(VALUE).text
    assert page.count("of the runs</title>") > 60  # every bar of each width says what it stands for


def test_an_assumption_is_kept_as_typed_and_moves_the_answer(
    client: TestClient, csrf: str, copied: Path
) -> None:
    before = main_of(client, VALUE)
    path = "value.stopped_production[0].rate"
    form = kept_form(client, csrf, VALUE, path, "E1")
    wrong = client.post(VALUE, data={**form, "value": "5 kg"})
    assert wrong.status_code == 422
    assert 'value="5 kg"' in wrong.text
    assert client.post(VALUE, data={**form, "value": "9000 EUR/h"}).status_code == 303
    after = main_of(client, VALUE)
    assert after.partition("What it saves")[0] != before.partition("What it saves")[0]
    with store.open(copied) as workspace:
        assert workspace.document(("E1",))["value"]["stopped_production"][0]["rate"] == "9000 EUR/h"


def test_a_figure_of_the_plant_is_changed_for_this_machine_alone(
    client: TestClient, csrf: str, copied: Path
) -> None:
    assert "7 % from the plant" in main_of(client, VALUE)
    form = kept_form(client, csrf, VALUE, "value.discount_rate", "E1")
    assert client.post(VALUE, data={**form, "value": "4 %"}).status_code == 303
    with store.open(copied) as workspace:
        assert workspace.document(("E1",))["value"]["discount_rate"] == "4 %"
        assert workspace.document(())["value"]["discount_rate"] == "7 %"


@pytest.mark.parametrize("room", ["changeover", "value"])
def test_a_position_without_a_unit_says_what_it_needs_first(client: TestClient, csrf: str, room: str) -> None:
    address = f"/positions/E1-A/{room}"
    assert "No unit holds at E1-A" in main_of(client, address)
    assert client.post(address, data={"csrf": csrf, "do": "burn"}).status_code == 422
    assert client.get(f"/positions/nobody/{room}").status_code == 404


@pytest.mark.parametrize("room", ["order", "changeover", "value"])
def test_a_shaft_line_that_cannot_be_solved_says_what_it_lacks(
    client: TestClient, copied: Path, room: str
) -> None:
    with store.open(copied) as other:
        other.apply([Edit(("E1", "head", "E1-B"), "x", None)], "other", "clear")
    said = main_of(client, f"/positions/E1-B/{room}")
    assert "What the shaft line lacks" in said
    assert "E1-B has no answer yet." in said


@pytest.mark.parametrize("room", ["order", "changeover", "value"])
def test_a_position_without_money_has_plans_and_an_order(client: TestClient, copied: Path, room: str) -> None:
    with store.open(copied) as other:
        other.apply([Edit(at, "value", None) for at in ((), ("E1",), ("E1", "head"))], "other", "clear")
    said = main_of(client, f"/positions/E1-B/{room}")
    first = {
        "order": "Order for E1-B: ready",
        "changeover": "The next change at E1-B takes",
        "value": "No money is put on E1-B.",
    }
    assert first[room] in said


@pytest.mark.parametrize("evil", ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "{{ 7*7 }}"])
def test_a_text_of_a_survey_is_text_here_too(client: TestClient, copied: Path, evil: str) -> None:
    with store.open(copied) as other:
        edits = [Edit(("E1",), "order.paint", evil), Edit(("E1", "head", "E1-B"), "history[0].note", evil)]
        other.apply(edits, evil, evil)
    for room in ("order", "changeover", "value"):
        page = client.get(f"/positions/E1-B/{room}?task={evil}").text
        assert "<script>alert" not in page
        assert "<img src=x" not in page
