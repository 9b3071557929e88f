"""The pages of the demo plant: one plant a process, made and run in part once; each test has a copy of it."""

from __future__ import annotations

import os
import shutil
import socket
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from threading import Thread

import pytest
import uvicorn
from playwright.sync_api import Browser, sync_playwright
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.user import Role
from halfbore.domain.workspace import Edit
from halfbore.web.app import create_app
from halfbore.workspace.demo_plant import make
from halfbore.workspace.running import run_lines
from halfbore.workspace.users import add_user

HOST = "127.0.0.1:8484"
TOKEN = "token-of-a-test"
PASSWORD = "a password of tests"
PEOPLE = {"Ann": Role.APPROVE, "Ed": Role.EDIT, "Sue": Role.SEE}
CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"
RUN = (("T1", ""), ("E1", "head"))
"""Shaft lines that are run before."""


@pytest.fixture(scope="session")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the workspace of the demo plant with fewer draws."""
    path = make(tmp_path_factory.mktemp("plant")).workspace
    with store.open(path) as workspace:
        workspace.apply([Edit((), "value.draws", "1000")], "test", "fewer draws")
        for ran in run_lines(workspace, RUN, date(2026, 3, 2)):
            assert ran.study is not None
    return path


@pytest.fixture(scope="session")
def peopled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a workspace with a position and a user of each role."""
    path = tmp_path_factory.mktemp("team") / "team.halfbore"
    with store.create(path, "Team plant") as made:
        made.apply([Edit(("K", "", "K-1")[:n], "", {}) for n in (1, 2, 3)], "Bo", "made")
        for name, role in PEOPLE.items():
            add_user(made, name, role, PASSWORD)
    return path


@pytest.fixture
def copied(plant: Path, tmp_path: Path) -> Path:
    """Return a copy of the workspace."""
    return Path(shutil.copy(plant, tmp_path / plant.name))


@pytest.fixture
def app_at() -> Iterator[Callable[[store.Place], TestClient]]:
    """Return a function that gives a client without a session of the application of a workspace."""
    clients: list[TestClient] = []

    def made(path: store.Place) -> TestClient:
        app = create_app(path, hosts=(HOST, "localhost:8484"), who="tester", token=TOKEN)
        client = TestClient(app, base_url=f"http://{HOST}", follow_redirects=False)
        client.__enter__()
        clients.append(client)
        return client

    yield made
    for client in clients:
        client.__exit__(None, None, None)


@pytest.fixture
def stranger(app_at: Callable[[Path], TestClient], copied: Path) -> TestClient:
    """Return a client that has no session."""
    return app_at(copied)


@pytest.fixture
def client(stranger: TestClient) -> TestClient:
    """Return a client that has opened the application by its token."""
    assert stranger.get(f"/?token={TOKEN}").status_code == 303
    return stranger


@pytest.fixture
def csrf(client: TestClient) -> str:
    """Return what a form of this session carries."""
    secret: str = client.app.state.guard.csrf  # type: ignore[attr-defined]
    return secret


@pytest.fixture
def empty(app_at: Callable[[Path], TestClient], tmp_path: Path) -> TestClient:
    """Return a client of an empty workspace."""
    store.create(tmp_path / "new.halfbore", "New plant").close()
    client = app_at(tmp_path / "new.halfbore")
    client.get(f"/?token={TOKEN}")
    return client


@pytest.fixture
def secret(empty: TestClient) -> str:
    """Return what a form of the session carries."""
    found: str = empty.app.state.guard.csrf  # type: ignore[attr-defined]
    return found


@dataclass(frozen=True)
class Served:
    """A server that runs, the address that opens it, and the workspace behind it."""

    address: str
    opening: str
    workspace: Path


@contextmanager
def served_at(workspace: Path) -> Iterator[Served]:
    """Serve a workspace on a free port of this machine, as `halfbore serve` does."""
    listener = socket.socket()
    listener.bind(("127.0.0.1", 0))
    host = f"127.0.0.1:{listener.getsockname()[1]}"
    app = create_app(workspace, hosts=(host,), who="tester")
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning"))
    thread = Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    yield Served(f"http://{host}", app.state.guard.opening(), workspace)
    server.should_exit = True
    thread.join(20)


@pytest.fixture
def served(copied: Path) -> Iterator[Served]:
    """Serve a copy of the workspace."""
    with served_at(copied) as found:
        yield found


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Return Chromium; without it the tests are skipped, but where CI runs them they must run."""
    if not Path(CHROMIUM).exists():
        assert not os.environ.get("CI"), "chromium is not there: scripts/setup.sh --tests installs it"
        pytest.skip("chromium is not there: apt-get install chromium")
    with sync_playwright() as playwright:
        arguments = ["--no-sandbox", "--disable-background-networking"]
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=arguments)
        yield opened
        opened.close()
