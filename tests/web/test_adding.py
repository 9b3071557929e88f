"""A machine is added by hand from its kind and its name plate; what is taken out comes back by undo."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from halfbore.domain.machine import MachineKind
from halfbore.web.fields import at_text
from halfbore.web.rooms.adding import KINDS
from tests.web.test_rooms import text_of

FAN = {
    "tag": "F9",
    "machine.kind": "fan",
    "machine.name_plate.power": "75 hp",
    "machine.name_plate.motor_speed": "1480 r/min",
    "machine.name_plate.ratio": "1",
    "machine.name_plate.arrangement": "overhung, belt",
}


def test_every_kind_is_told_in_words(empty: TestClient) -> None:
    assert set(KINDS) == set(MachineKind)
    page = empty.get("/machines/new").text
    assert page.count('type="radio"') == len(MachineKind)


def test_a_machine_of_a_name_plate_has_positions_and_an_answer_of_its_loads(
    empty: TestClient, secret: str
) -> None:
    answer = empty.post("/machines/new", data=FAN | {"csrf": secret})
    assert answer.headers["location"] == "/lines/F9/-"
    page = text_of(empty.get("/lines/F9/-").text)
    assert "F9-A" in page
    assert "75 hp" in page
    assert "values are filled in from the name plate" in page or "catalogue" in page
    assert "F9-B" in text_of(empty.get("/").text)


def test_a_machine_without_a_plate_has_two_positions_and_tags_of_its_own(
    empty: TestClient, secret: str
) -> None:
    empty.post("/machines/new", data={"csrf": secret, "tag": "X1", "machine.kind": "plain shaft"})
    assert [*empty.app.state.desk.workspace.tree()[0].lines[0].positions] == ["X1-A", "X1-B"]  # type: ignore[attr-defined]
    form = {"csrf": secret, "tag": "X2", "machine.kind": "fan", "line": "head", "positions": "N1, N2; N3"}
    assert empty.post("/machines/new", data=form).headers["location"] == "/lines/X2/head"
    assert empty.get("/positions/N3").status_code == 200


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"tag": ""}, "the machine needs a tag"),
        ({"tag": "x1"}, "something has this tag already"),
        ({"tag": "X9", "machine.kind": "boat"}, "the kind of machine is not said"),
        ({"tag": "X9", "machine.name_plate.power": "strong"}, "strong"),
        ({"tag": "X9", "positions": "X1-A"}, "something has this tag already"),
        ({"tag": "X9", "positions": "Q, Q"}, "two positions have one tag"),
        ({"tag": "<b>x</b>", "machine.name_plate.ratio": "<i>"}, "<i>"),
    ],
)
def test_what_cannot_be_used_is_said_and_stays_typed(
    empty: TestClient, secret: str, given: dict[str, str], said: str
) -> None:
    empty.post("/machines/new", data={"csrf": secret, "tag": "X1", "machine.kind": "plain shaft"})
    answer = empty.post("/machines/new", data={"csrf": secret, "machine.kind": "fan"} | given)
    assert answer.status_code == 422
    assert said.casefold() in text_of(answer.text).casefold()
    assert "<i>" not in answer.text
    assert len(empty.app.state.desk.workspace.tree()) == 1  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("at", "to"),
    [
        (("E1", "head", "E1-A"), "/lines/E1/head"),
        (("E1", "boot"), "/lines/E1/head"),
        (("T1",), "/"),
    ],
)
def test_what_is_taken_out_comes_back_by_undo(
    client: TestClient, csrf: str, at: tuple[str, ...], to: str
) -> None:
    before = client.app.state.desk.workspace.contents()  # type: ignore[attr-defined]
    answer = client.post("/remove", data={"csrf": csrf, "at": at_text(at)})
    assert answer.headers["location"] == to
    now = client.app.state.desk.workspace.contents()  # type: ignore[attr-defined]
    assert not [address for address in now if address[: len(at)] == at]
    assert client.get(to).status_code == 200
    assert client.post("/remove", data={"csrf": csrf, "at": at_text(at)}).status_code == 422
    client.post("/undo", data={"csrf": csrf})
    assert client.app.state.desk.workspace.contents() == before  # type: ignore[attr-defined]


def test_the_plant_itself_is_never_taken_out(client: TestClient, csrf: str) -> None:
    assert client.post("/remove", data={"csrf": csrf, "at": ""}).status_code == 422
    assert client.post("/remove", data={"at": "T1"}).status_code == 403


def test_what_a_stop_costs_is_kept_for_the_plant(empty: TestClient, secret: str) -> None:
    given = {"csrf": secret, "currency": "EUR", "after": "3 h", "rate": "1300 to 2600 EUR/h"}
    for wrong in ({"rate": "much"}, {"currency": "money"}, {"after": "soon"}):
        answer = empty.post("/stop-cost", data=given | wrong)
        assert answer.status_code == 422
        assert next(iter(wrong.values())) in answer.text
    assert empty.post("/stop-cost", data=given).headers["location"] == "/"
    kept = empty.app.state.desk.workspace.document(())["value"]  # type: ignore[attr-defined]
    assert kept == {"currency": "EUR", "stopped_production": [{"after": "3 h", "rate": "1300 to 2600 EUR/h"}]}
    assert 'value="1300 to 2600 EUR/h"' in empty.get("/stop-cost").text
