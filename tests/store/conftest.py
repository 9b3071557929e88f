"""A workspace that is made once and copied for each test: making one runs the migrations."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from halfbore import store
from halfbore.domain.workspace import Edit
from halfbore.store import Workspace

PLANT = "Ostrindale Lime (invented)"
POSITION = ("E1", "head", "E1-A")
EDITS = [
    Edit((), "lubricant.name", "plant grease"),
    Edit(("E1",), "", {"machine": {"kind": "elevator head"}}),
    Edit(("E1", "head"), "", {"title": "Head shaft"}),
    Edit(("E1", "boot"), "", {}),
    Edit(POSITION, "", {"x": "450 mm", "seat": {"diameter": "5.936 in to 5.937 in"}}),
    Edit(("E1", "head", "E1-B"), "", {"x": "1450 mm"}),
    Edit(("F1",), "", {}),
    Edit(("F1", ""), "", {"loads": [{"name": "fan wheel", "mass": "2600 kg"}, {"name": "coupling"}]}),
    Edit(("F1", "", "F1-A"), "", {}),
]
"""A bucket elevator of two shaft lines and a fan of one."""


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a workspace file of a plant that has nothing yet."""
    path = tmp_path_factory.mktemp("template") / "plant.halfbore"
    store.create(path, PLANT).close()
    return path


@pytest.fixture
def path(template: Path, tmp_path: Path) -> Path:
    """Return a workspace file of a test's own."""
    return Path(shutil.copy(template, tmp_path / "plant.halfbore"))


in_a_file = pytest.mark.parametrize("home", ["SQLite"], indirect=True)
"""For what only a file can be: copied, damaged, full, gone."""


@pytest.fixture(params=["SQLite", "PostgreSQL"])
def home(request: pytest.FixtureRequest) -> store.Place:
    """Return where a workspace of a plant that has nothing yet is kept: in a file, and in a database."""
    if request.param == "SQLite":
        found: Path = request.getfixturevalue("path")
        return found
    database: store.Database = request.getfixturevalue("databases")()
    store.create(database, PLANT).close()
    return database


@pytest.fixture
def empty(home: store.Place) -> Iterator[Workspace]:
    """Return an open workspace of a plant that has nothing yet, on both databases."""
    with store.open(home) as workspace:
        yield workspace


@pytest.fixture
def plant(empty: Workspace) -> Workspace:
    """Return an open workspace of a plant with two machines."""
    assert empty.apply(EDITS, "Ida", "survey", "plant.csv") is not None
    return empty
