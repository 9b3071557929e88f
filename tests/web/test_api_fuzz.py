"""The API against its own description: requests made from it, right and wrong, never find a fault of the program.

For whoever has the token, for each role, and for nobody.
"""

from __future__ import annotations

import shutil
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.errors import Unsatisfiable
from schemathesis import Case, GenerationMode
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.user import Role
from halfbore.domain.workspace import Edit
from halfbore.web.app import create_app
from halfbore.web.guard import needed
from tests.web.conftest import HOST, PASSWORD, PEOPLE, TOKEN

EXAMPLES = 10
"""Requests of each operation by its schema, and as many against it."""


OF_EACH_ROLE = 4
"""The same for each role: what is asked is the same, only who may is another."""
FREE = ("/api/login", "/api/logout")
"""What changes nothing of the workspace but a session."""

CHANGES: list[tuple[str, dict[str, Any]]] = [
    ("/api/document", {"tag": "K-1", "path": "seat.note", "value": "looked at"}),
    ("/api/undo", {}),
    ("/api/machines", {"tag": "F9", "values": {"machine.kind": "fan"}}),
    ("/api/remove", {"tag": "F9"}),
    ("/api/users", {"do": "add", "name": "Cy", "role": "see", "password": PASSWORD}),
    ("/api/users", {"do": "password", "name": "Cy", "password": PASSWORD}),
    ("/api/users", {"do": "remove", "name": "Cy"}),
]
"""Requests that each change the workspace where they may."""
UPLOADS = ("/api/import/surveys", "/api/import/catalogues")


def refused_in_our_shape(answer: Any) -> bool:
    told = answer.json()
    return set(told) == {"error", "problems"} and all(
        set(problem) == {"what", "where", "value", "accepted", "next_step"} for problem in told["problems"]
    )


@pytest.mark.slow  # several hundred requests
def test_no_request_finds_a_fault(tmp_path: Path) -> None:
    path = tmp_path / "plant.halfbore"
    with store.create(path, "Plant") as made:
        made.apply([Edit(("K", "", "K-1")[:n], "", {}) for n in (1, 2, 3)], "Bo", "made")
    app = create_app(path, hosts=(HOST,), who="tester", token=TOKEN)
    with TestClient(app, base_url=f"http://{HOST}", raise_server_exceptions=False) as client:
        client.headers["authorization"] = f"Bearer {TOKEN}"
        seen = {status for _, _, status in _fuzzed(client, _operations(app), EXAMPLES)}
    assert {200, 404, 422} <= seen


@pytest.mark.slow  # a few hundred requests for each
@pytest.mark.parametrize("name", ["", *PEOPLE])
def test_no_request_of_a_role_finds_a_fault_or_does_what_it_may_not(
    peopled: Path, tmp_path: Path, name: str
) -> None:
    path = Path(shutil.copy(peopled, tmp_path / "team.halfbore"))
    app = create_app(path, hosts=(HOST,), who="nobody")
    before = _contents(path)
    with TestClient(app, base_url=f"http://{HOST}", raise_server_exceptions=False) as client:
        if name:
            login = client.post("/api/login", json={"name": name, "password": PASSWORD}).json()
            client.headers[login["header"]] = login["csrf"]
        asked = _fuzzed(client, _operations(app), OF_EACH_ROLE)
    may = {(method, path, status not in (401, 403)) for method, path, status in asked if path not in FREE}
    role = PEOPLE.get(name)
    allowed = {(method, path) for method, path, got in may if got}
    if role is None:
        assert allowed == set()
        # An upload that comes without its length is refused before it is asked who sends it.
        rest = {status for _, path, status in asked if path not in {*FREE, *UPLOADS}}
        assert rest == {401}
    else:
        assert allowed == {(m, p) for m, p, _ in may if role.may(needed(m, p))}
        assert all(status == 403 for m, p, status in asked if p not in FREE and not role.may(needed(m, p)))
    if role in (None, Role.SEE):
        assert _contents(path) == before


@pytest.mark.parametrize("name", ["", *PEOPLE])
def test_a_role_changes_what_it_may_and_nothing_else(peopled: Path, tmp_path: Path, name: str) -> None:
    path = Path(shutil.copy(peopled, tmp_path / "team.halfbore"))
    role = PEOPLE.get(name)
    with TestClient(create_app(path, hosts=(HOST,), who="nobody"), base_url=f"http://{HOST}") as client:
        if name:
            login = client.post("/api/login", json={"name": name, "password": PASSWORD}).json()
            client.headers[login["header"]] = login["csrf"]
        for address, body in CHANGES:
            before = _contents(path)
            answer = client.post(address, json=body)
            if role is not None and role.may(needed("POST", address)):
                assert answer.status_code == 200, (address, answer.text)
                assert _contents(path) != before, address
            else:
                assert answer.status_code == (401 if role is None else 403), address
                assert refused_in_our_shape(answer), address
                assert _contents(path) == before, address


def _contents(path: Path) -> tuple[object, ...]:
    """Return all that a request could change of a workspace but sessions."""
    with store.open(path) as workspace:
        catalogues = workspace.catalogues(current_only=False)
        people = workspace.accounts.users()
        passwords = [workspace.accounts.password_of(user.name) for user in people]
        return (
            workspace.contents(),
            workspace.history(limit=None),
            workspace.results(),
            workspace.documents(),
            catalogues,
            people,
            passwords,
        )


def _operations(app: FastAPI) -> list[Any]:
    schema = schemathesis.openapi.from_dict(app.openapi())
    found = [one.ok() for one in schema.get_all_operations()]
    assert len(found) > 30
    return found


def _fuzzed(client: TestClient, operations: list[Any], examples: int) -> set[tuple[str, str, int]]:
    """Send requests of each operation, right and wrong; return its method and path with the statuses of the answers."""
    seen: set[tuple[str, str, int]] = set()
    wrong = 0
    for operation in operations:
        if client.headers.get("x-csrf-token") and operation.path == "/api/logout":
            continue  # the session goes on
        for mode in (GenerationMode.POSITIVE, GenerationMode.NEGATIVE):
            with suppress(Unsatisfiable):  # where any text is right, or nothing is asked, nothing is wrong
                found = _tried(client, operation, mode, examples)
                seen |= {(operation.method.upper(), operation.path, status) for status in found}
                wrong += mode is GenerationMode.NEGATIVE
    assert wrong >= len(operations) // 2
    return seen


def _tried(client: TestClient, operation: Any, mode: GenerationMode, examples: int) -> set[int]:
    """Send requests of an operation, and return the statuses of the answers."""
    seen: set[int] = set()

    @given(case=operation.as_strategy(generation_mode=mode))
    @settings(
        max_examples=examples,
        derandomize=True,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    def one(case: Case) -> None:
        sent = case.as_transport_kwargs(base_url=f"http://{HOST}")
        wanted = {key: sent[key] for key in ("method", "url", "params", "json", "files") if key in sent}
        if sent.get("data") is not None:
            wanted["content"] = sent["data"]
        answer = client.request(**wanted, follow_redirects=False)
        seen.add(answer.status_code)
        assert answer.status_code < 500, (wanted, answer.text)
        if answer.status_code >= 400:
            assert refused_in_our_shape(answer), (wanted, answer.text)

    one()
    return seen
