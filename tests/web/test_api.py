"""The same operations as JSON: one error shape, versions that keep two writers apart, a description that is whole."""

from __future__ import annotations

import time
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.workspace import Edit

KEYS = {"what", "where", "value", "accepted", "next_step"}
HEAD = ("E1", "head")
DEADLINE = 120.0
"""Time that a run of one shaft line may take here [s]."""


def wrong(answer: Any, status: int, kind: str = "") -> list[dict[str, str]]:
    """Check the one shape of errors, and return its problems."""
    assert answer.status_code == status, answer.text
    told = answer.json()
    assert set(told) == {"error", "problems"}
    assert told["problems"]
    assert all(set(problem) == KEYS for problem in told["problems"])
    assert kind in ("", told["error"])
    problems: list[dict[str, str]] = told["problems"]
    return problems


@pytest.fixture
def api(client: TestClient, csrf: str) -> TestClient:
    """Return a client whose posts carry the secret of our forms."""
    client.headers["x-csrf-token"] = csrf
    return client


def test_the_description_is_whole(api: TestClient) -> None:
    described = api.get("/api/openapi.json").json()
    assert set(described["paths"]) == {
        *("/api/positions", "/api/machines", "/api/document", "/api/history", "/api/undo"),
        *("/api/run", "/api/result", "/api/answer", "/api/order", "/api/changeover", "/api/value"),
        *("/api/documents", "/api/documents/progress", "/api/documents/{number}"),
        *("/api/import/surveys", "/api/import/catalogues", "/api/import/catalogues/{key}", "/api/remove"),
        *(f"/api/import/surveys/{{key}}{what}" for what in ("", "/mapping", "/preview", "/rows")),
        *("/api/catalogues", "/api/catalogues/{number}"),
        *("/api/login", "/api/logout", "/api/users"),
    }
    for methods in described["paths"].values():
        for method in methods.values():
            assert method["description"]
            shape = method["responses"]["422"]["content"]["application/json"]["schema"]["$ref"]
            assert shape.endswith("/Failure")


def test_positions_are_listed_and_filtered(api: TestClient) -> None:
    every = api.get("/api/positions").json()
    assert every["total"] == 24
    assert len(every["positions"]) == 24
    part = api.get("/api/positions", params={"q": "E1", "first": 1, "most": 2}).json()
    assert part["total"] == 4
    assert [row["position"] for row in part["positions"]] == ["E1-B", "E1-C"]
    assert [m["machine"] for m in api.get("/api/machines").json()["machines"]][:3] == ["F1", "F2", "F3"]


def test_a_value_is_read_set_told_and_taken_back(api: TestClient) -> None:
    where = {"tag": "E1-A", "path": "seat.note"}
    before = api.get("/api/document", params=where).json()
    new = {**where, "value": "ground", "version": before["version"]}
    kept = api.post("/api/document", json=new)
    assert kept.status_code == 200
    assert kept.json()["version"] > before["version"]
    assert api.get("/api/document", params=where).json()["value"] == "ground"
    change = api.get("/api/history", params={"tag": "E1-A", "most": 1}).json()["changes"][0]
    assert (change["who"], change["path"], change["new"]) == ("tester", "seat.note", "ground")
    assert api.post("/api/undo", json={}).status_code == 200
    assert api.get("/api/document", params=where).json()["value"] == before["value"]


def test_what_looks_odd_is_kept_and_asked_about(api: TestClient) -> None:
    new = {"tag": "E1-A", "path": "room.headroom", "value": "40 mm"}
    assert api.post("/api/document", json=new).json()["questions"]


def test_a_stale_edit_is_refused(api: TestClient, copied: Path) -> None:
    seen = api.get("/api/document", params={"tag": "E1-A"}).json()["version"]
    with store.open(copied) as other:
        other.apply([Edit((*HEAD, "E1-A"), "seat.note", "theirs")], "A. Other", "set")
    new = {"tag": "E1-A", "path": "seat.note", "value": "mine", "version": seen}
    (problem,) = wrong(api.post("/api/document", json=new), 409, "stale edit")
    assert "A. Other" in problem["what"]
    assert api.get("/api/document", params={"tag": "E1-A", "path": "seat.note"}).json()["value"] == "theirs"


@pytest.mark.parametrize(
    ("method", "address", "given", "status"),
    [
        ("GET", "/api/nothing", {}, 404),
        ("GET", "/api/document", {"tag": "nobody"}, 404),
        ("GET", "/api/document", {"path": "a..b"}, 422),
        ("GET", "/api/positions", {"most": 0}, 422),
        ("GET", "/api/positions", {"most": "x"}, 422),
        ("GET", "/api/answer", {"tag": "E1"}, 422),
        ("GET", "/api/answer", {}, 422),
        ("GET", "/api/result", {"tag": "nobody"}, 404),
        ("POST", "/api/document", {}, 422),
        ("POST", "/api/document", {"tag": "E1-A", "path": "seat.nothing", "value": "1"}, 422),
        ("POST", "/api/document", {"tag": "E1-A", "path": "x", "value": "far"}, 422),
        ("POST", "/api/document", {"tag": "E1-A", "path": "x", "value": {"a": 1}}, 422),
        (
            "POST",
            "/api/document",
            {"tag": "E1-A", "path": "x", "value": "\ud800".encode("utf-16", "surrogatepass").hex() * 2},
            422,
        ),
        ("POST", "/api/undo", {"batch": 999999}, 409),
        ("POST", "/api/undo", {"batch": "x"}, 422),
        ("POST", "/api/run", {"tag": "nobody"}, 404),
        ("GET", "/api/order", {"tag": "nobody"}, 404),
        ("GET", "/api/order", {}, 422),
        ("GET", "/api/changeover", {"tag": "nobody"}, 404),
        ("GET", "/api/value", {"tag": "E1"}, 404),
        ("GET", "/api/documents/x", {}, 404),
        ("GET", "/api/documents/99", {}, 404),
        ("GET", "/api/documents/²", {}, 404),
        ("POST", "/api/documents", {"paper": "novel", "tag": "E1"}, 422),
        ("POST", "/api/documents", {"paper": "order sheet", "tag": "E1"}, 422),
        ("POST", "/api/documents", {"paper": "proposal", "tag": "nobody"}, 422),
        ("POST", "/api/documents", {"paper": "proposal"}, 422),
    ],
)
def test_errors_have_one_shape(
    api: TestClient, method: str, address: str, given: dict[str, Any], status: int
) -> None:
    answer = api.get(address, params=given) if method == "GET" else api.post(address, json=given)
    wrong(answer, status)


def test_a_refused_request_has_the_same_shape(stranger: TestClient) -> None:
    wrong(stranger.get("/api/positions"), 403, "refused")


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"null", b"\xff\xfe", b'{"path": ' + b"[" * 5000])
def test_a_body_that_is_no_json_is_told(api: TestClient, body: bytes) -> None:
    headers = {"content-type": "application/json"}
    wrong(api.post("/api/document", content=body, headers=headers), 422)


def test_a_fault_of_the_program_tells_nothing_of_its_inside(
    api: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("secret inside")

    monkeypatch.setattr("halfbore.workspace.overview.Overview.machines", broken)
    answer = api.get("/api/positions")
    wrong(answer, 500, "fault")
    page = api.get("/")
    assert page.status_code == 500
    assert "That is a fault of the program." in page.text
    assert "secret" not in answer.text + page.text
    assert "default-src 'self'" in page.headers["content-security-policy"]


def test_the_answer_of_today_and_the_kept_result(api: TestClient) -> None:
    answer = api.get("/api/answer", params={"tag": "E1 head"}).json()
    assert [p["position"] for p in answer["positions"]] == ["E1-A", "E1-B"]
    assert {check["verdict"] for check in answer["positions"][1]["checks"]} <= {
        "holds",
        "tight",
        "does not apply",
    }
    first = answer["reactions"][0]
    assert first["position"] == "E1-A"
    assert first["y"] == pytest.approx(81_400, rel=2e-3)
    (result,) = api.get("/api/result", params={"tag": "E1-A"}).json()["results"]
    assert result["result"]["stale"] == []
    assert api.get("/api/result", params={"tag": "F1"}).json()["results"][0]["result"] is None


def test_the_order_of_a_position(api: TestClient) -> None:
    found = api.get("/api/order", params={"tag": "E1-B"}).json()["order"]
    assert found["code"] == "111-10-1N-001/K"
    assert "".join(part["text"] for part in found["code_parts"]) == found["code"]
    assert {"question": "Paint", "told_by": ["order.paint"]}.items() <= found["answers"][14].items()
    assert api.get("/api/order", params={"tag": "E1-A"}).json()["order"] is None


def test_both_plans_and_the_value_of_a_position(api: TestClient) -> None:
    plans = api.get("/api/changeover", params={"tag": "E1-B"}).json()["plans"]
    value = api.get("/api/value", params={"tag": "E1-B"}).json()["value"]
    assert plans["one_piece"]["way"] == "one-piece bearing"
    assert len(plans["split_first"]["tasks"]) > 20
    assert value["draws"] == 1000 == sum(value["counts"])
    assert value["saving"]["p10"] < value["saving"]["p50"] < value["saving"]["p90"]
    assert api.get("/api/value", params={"tag": "E1-A"}).json()["value"] is None


def test_a_document_is_issued_kept_and_given_out(api: TestClient) -> None:
    api.post("/api/documents", json={"paper": "job file", "tag": "E1-B"})
    until = time.monotonic() + DEADLINE
    while (issue := api.get("/api/documents/progress").json()["issue"])["going"]:
        assert time.monotonic() < until
        time.sleep(0.05)
    assert (issue["done"], issue["problems"]) == (1, [])
    (kept,) = api.get("/api/documents").json()["documents"]
    assert kept["file_name"] == "E1-head-job.toml"
    given = api.get(f"/api/documents/{kept['id']}")
    assert sha256(given.content).hexdigest() == kept["sha256"]
    assert given.headers["content-disposition"] == 'attachment; filename="E1-head-job.toml"'


@pytest.mark.slow  # a run of a shaft line
def test_a_run_is_started_watched_and_kept(api: TestClient) -> None:
    started = api.post("/api/run", json={"tag": "S1"}).json()["run"]
    assert started["total"] == 1
    until = time.monotonic() + DEADLINE
    while api.get("/api/run").json()["run"]["going"]:
        assert time.monotonic() < until
        time.sleep(0.1)
    assert api.get("/api/run").json()["run"]["problems"] == []
    assert api.get("/api/result", params={"tag": "S1"}).json()["results"][0]["result"]["stale"] == []


@pytest.mark.slow  # two runs of a shaft line
def test_a_run_is_cancelled_and_what_is_done_stays(api: TestClient) -> None:
    api.post("/api/run", json={})
    api.post("/run/cancel")
    until = time.monotonic() + DEADLINE
    while (run := api.get("/api/run").json()["run"])["going"]:
        assert time.monotonic() < until
        time.sleep(0.1)
    assert run["cancelled"]
    assert run["done"] < run["total"]
    states = [line["state"] for m in api.get("/api/machines").json()["machines"] for line in m["lines"]]
    assert states.count("current") == 2 + run["done"]
