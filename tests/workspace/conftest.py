"""The demo plant, made once for all tests of a process; each test that writes gets a copy."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from halfbore.workspace.demo_plant import DemoPlant, make


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> DemoPlant:
    return make(tmp_path_factory.mktemp("plant"))


@pytest.fixture
def copied(made: DemoPlant, tmp_path: Path) -> Callable[[], Path]:
    """Return a function that puts a copy of the plant's workspace into a folder of the test's own."""

    def copy() -> Path:
        return Path(shutil.copy(made.workspace, tmp_path / made.workspace.name))

    return copy
