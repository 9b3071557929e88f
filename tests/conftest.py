"""Shared fixtures: the Hypothesis profile and the comparison that writes docs/validation.md."""

from __future__ import annotations

import json
import os
import zlib
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import settings

from halfbore import store
from tests import postgres

settings.register_profile("halfbore", max_examples=50, deadline=None, derandomize=bool(os.environ.get("CI")))
settings.register_profile("long", max_examples=500, deadline=None)
settings.load_profile("halfbore")

ROWS = Path(__file__).parent / ".validation"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--long", action="store_true", help="also what is too long for every day, 500 examples each"
    )


def pytest_configure(config: pytest.Config) -> None:
    if config.getoption("--long"):
        settings.load_profile("long")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if not config.getoption("--long"):
        for item in items:
            if item.get_closest_marker("long"):
                item.add_marker(pytest.mark.skip(reason="only with --long"))


@pytest.fixture(scope="session")
def databases() -> Iterator[Callable[[], store.Database]]:
    """Return a function that makes an empty database on a PostgreSQL of these tests' own."""
    if postgres.programs() is None:
        assert not os.environ.get("CI"), postgres.MISSING
        pytest.skip(postgres.MISSING)
    import psycopg

    with postgres.server() as address:
        numbers = count(1)

        def made() -> store.Database:
            name = f"plant_{next(numbers)}"
            with psycopg.connect(address.format(name="postgres"), autocommit=True) as connection:
                connection.execute(f"CREATE DATABASE {name}")
            return store.Database(address.format(name=name))

        yield made


@pytest.fixture
def compare(request: pytest.FixtureRequest) -> Callable[..., None]:
    """Compare a computed value with a published one, assert, and record the row for docs/validation.md."""
    rows: list[dict[str, Any]] = []

    def check(
        what: str,
        computed: float,
        published: float,
        *,
        source: str,
        status: str,
        rtol: float = 0.0,
        atol: float = 0.0,
        why: str = "",
    ) -> None:
        rows.append(
            {
                "what": what,
                "computed": float(computed),
                "published": float(published),
                "source": source,
                "status": status,
                "tolerance": f"{rtol:g} relative" if rtol else f"{atol:g} absolute",
                "why": why,
            }
        )
        np.testing.assert_allclose(computed, published, rtol=rtol, atol=atol, err_msg=what)

    request.addfinalizer(lambda: _keep(request.node.nodeid, rows))
    return check


def _keep(test: str, rows: list[dict[str, Any]]) -> None:
    if not rows:
        return
    ROWS.mkdir(exist_ok=True)
    name = "".join(c if c.isalnum() else "_" for c in test)[-120:]
    (ROWS / f"{name}-{zlib.crc32(test.encode()):08x}.json").write_text(
        json.dumps({"test": test, "rows": rows})
    )
