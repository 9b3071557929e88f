"""The same rooms where the workspace is kept in a database that a team shares."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.workspace import Edit
from halfbore.store import Database
from tests.web.conftest import TOKEN

ROOMS = (
    *("/", "/lines/E1/head", "/positions/E1-B", "/positions/E1-B/order", "/positions/E1-B/changeover"),
    *("/positions/E1-B/value", "/documents", "/catalogues", "/history", "/import"),
)
LINE = ("E1", "head")
MASS = {"at": "E1/head", "path": "loads[head drum].mass", "do": "keep", "value": "2500 kg"}


@pytest.fixture
def shared(databases: Callable[[], Database], copied: Path) -> Database:
    """Return a database that holds the plant."""
    database = databases()
    store.move(copied, database).close()
    return database


@pytest.fixture
def team(app_at: Callable[[store.Place], TestClient], shared: Database) -> TestClient:
    """Return a client of the application on the database."""
    client = app_at(shared)
    assert client.get(f"/?token={TOKEN}").status_code == 303
    return client


@pytest.mark.slow  # studies of a shaft line
def test_every_room_opens(team: TestClient) -> None:
    assert {room: team.get(room).status_code for room in ROOMS} == dict.fromkeys(ROOMS, 200)


@pytest.mark.slow  # a study of a shaft line
def test_a_value_is_kept_seen_by_others_and_taken_back(team: TestClient, shared: Database) -> None:
    csrf = team.app.state.guard.csrf  # type: ignore[attr-defined]
    team.get("/lines/E1/head")
    assert team.post("/lines/E1/head", data={**MASS, "csrf": csrf}).status_code == 303
    assert "48.7" in team.get("/lines/E1/head").text
    with store.open(shared) as other:
        assert "2500 kg" in str(other.document(LINE))
        version = other.version(LINE)
        other.apply([Edit(LINE, "loads[head drum].mass", "2600 kg")], "Bo", "edit")
    late = {**MASS, "csrf": csrf, "value": "2700 kg", "version": str(version), "was": "2500 kg"}
    refused = team.post("/lines/E1/head", data=late)
    assert refused.status_code == 409
    assert "Bo kept" in refused.text
    assert team.post("/undo", data={"csrf": csrf}).status_code == 303


@pytest.mark.slow  # a run in a process of its own
def test_a_run_beside_the_page_keeps_its_result(team: TestClient, shared: Database) -> None:
    csrf = team.app.state.guard.csrf  # type: ignore[attr-defined]
    assert team.post("/run", data={"csrf": csrf, "tag": "C1"}).status_code == 303
    with store.open(shared) as other:
        for _ in range(600):
            if other.result(("C1", "")) is not None:
                break
            time.sleep(0.1)
        assert other.result(("C1", "")) is not None
