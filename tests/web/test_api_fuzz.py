"""The API against its own description: requests made from it, right and wrong, never find a fault of the program."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.errors import Unsatisfiable
from schemathesis import Case, GenerationMode
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.workspace import Edit
from halfbore.web.app import create_app
from tests.web.conftest import HOST, TOKEN

EXAMPLES = 10
"""Requests of each operation by its schema, and as many against it."""


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
    seen: set[int] = set()
    with TestClient(app, base_url=f"http://{HOST}", raise_server_exceptions=False) as client:
        client.headers["authorization"] = f"Bearer {TOKEN}"
        schema = schemathesis.openapi.from_dict(client.get("/api/openapi.json").json())
        wrong = 0
        operations = [found.ok() for found in schema.get_all_operations()]
        assert len(operations) > 30
        for operation in operations:
            seen |= _tried(client, operation, GenerationMode.POSITIVE)
            with suppress(
                Unsatisfiable
            ):  # where any text is right, or nothing is asked, nothing can be wrong
                seen |= _tried(client, operation, GenerationMode.NEGATIVE)
                wrong += 1
        assert wrong >= len(operations) // 2
    assert {200, 404, 422} <= seen


def _tried(client: TestClient, operation: Any, mode: GenerationMode) -> set[int]:
    """Send requests of an operation, and return the statuses of the answers."""
    seen: set[int] = set()

    @given(case=operation.as_strategy(generation_mode=mode))
    @settings(
        max_examples=EXAMPLES,
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
