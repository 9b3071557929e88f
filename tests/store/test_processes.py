"""Several processes on one workspace, and processes that are killed in the middle of it."""

from __future__ import annotations

import random
import shutil
import sqlite3
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from halfbore import store
from halfbore.domain.workspace import Edit
from halfbore.store import Workspace, WorkspaceError, engine
from halfbore.store.paths import get
from tests import postgres
from tests.store.conftest import in_a_file
from tests.store.killed import (
    FIELDS,
    PLACES,
    PROCESSES,
    THINGS,
    look_at,
    numbered,
    write_on_and_on,
    write_some,
)

LONGEST = 0.15
"""Time from the first batch to the end of a process [s]: some dozen batches."""


@contextmanager
def writer(path: store.Place) -> Iterator[Connection]:
    """Give what a process says that writes on and on; it is killed at the end, wherever it is."""
    heard, said = PROCESSES.Pipe(duplex=False)
    process = PROCESSES.Process(target=write_on_and_on, args=(path, said))
    process.start()
    said.close()
    try:
        yield heard
    finally:
        process.kill()
        process.join()
        process.close()


def everything(heard: Connection) -> list[int]:
    """Return all that a process said before it ended."""
    numbers = []
    try:
        while True:
            numbers.append(heard.recv())
    except EOFError:
        return numbers
    finally:
        heard.close()


def numbers_in(workspace: Workspace) -> set[int]:
    """Return the numbers that stand in the documents; one only where no batch is half there."""
    documents = [workspace.document(place) for place in PLACES]
    return {get(document, field) or 0 for document in documents for field in FIELDS}


def prepared(template: Path, folder: Path) -> Path:
    path = Path(shutil.copy(template, folder / "killed.halfbore"))
    with store.open(path) as workspace:
        workspace.apply(THINGS, "parent", "made")
    return path


def killed_once(path: store.Place, when: float) -> None:
    """Let a process write, kill it, and look at what it left."""
    with writer(path) as heard:
        first = heard.recv()
        time.sleep(when)
    acknowledged = [first, *everything(heard)]
    if isinstance(path, Path):
        with closing(sqlite3.connect(path)) as raw:
            assert raw.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    else:
        postgres.wait_until_left_alone(path.address)
    with store.open(path) as workspace:
        (last,) = numbers_in(workspace)
        assert last in (acknowledged[-1], acknowledged[-1] + 1), (
            "the last that was said to be kept, or one more"
        )
        batches = [b for b in workspace.batches(None) if b.who == "child"]
        assert [b.what for b in batches] == [f"batch {n}" for n in range(last, 0, -1)]
        assert {b.changes for b in batches} == {len(FIELDS) * len(PLACES)}
        assert len(workspace.history(limit=None)) == last * len(numbered(0)) + len(THINGS)


@pytest.mark.parametrize("times", [20, pytest.param(100, marks=pytest.mark.long)])
@pytest.mark.slow  # each time a process is started, killed, and its workspace read
def test_kill_at_any_moment(template: Path, tmp_path: Path, times: int) -> None:
    moments = random.Random(times)
    for n in range(times):
        folder = tmp_path / str(n)
        folder.mkdir()
        killed_once(prepared(template, folder), moments.uniform(0.0, LONGEST))


@pytest.mark.parametrize("times", [10, pytest.param(100, marks=pytest.mark.long)])
@pytest.mark.slow  # each time a process is started, killed, and its workspace read
def test_kill_at_any_moment_on_a_database(databases: Callable[[], store.Database], times: int) -> None:
    moments = random.Random(times)
    for _ in range(times):
        database = databases()
        with store.create(database, "Killed") as workspace:
            workspace.apply(THINGS, "parent", "made")
        killed_once(database, moments.uniform(0.0, LONGEST))


def test_two_processes_write_and_nothing_is_lost(template: Path, tmp_path: Path) -> None:
    path, times = prepared(template, tmp_path), 40
    heard, said = PROCESSES.Pipe(duplex=False)
    both = [PROCESSES.Process(target=write_some, args=(path, place, times, said)) for place in ("K-1", "K-2")]
    for process in both:
        process.start()
    assert [heard.recv(), heard.recv()] == ["done", "done"]
    for process in both:
        process.join()
        process.close()
    heard.close()
    said.close()
    with store.open(path) as workspace:
        assert [len(workspace.document(place)["history"]) for place in PLACES] == [times, times]
        batches = workspace.batches(None)
        assert [b.id for b in batches] == list(range(2 * times + 1, 0, -1))


@in_a_file
def test_a_second_look_in_one_process_does_not_lose_what_it_writes_later(
    plant: Workspace, path: Path
) -> None:
    with store.open(path) as second:
        second.contents()
    for who in ("first", "second"):
        with PROCESSES.Pool(1) as other:  # opens and closes: the last of its process to leave the file
            other.apply(look_at, (path,))
        plant.apply([Edit((), "customer", who)], who, "set")
        with PROCESSES.Pool(1) as other:
            assert other.apply(look_at, (path,)) == who


def test_two_windows_of_one_program_see_each_other(plant: Workspace, home: store.Place) -> None:
    with store.open(home) as other:
        other.apply(THINGS, "Bo", "add")
        assert plant.find("K-1") == (PLACES[0],)
        plant.undo("Ida")
        assert other.find("K-1") == ()


def test_backups_while_somebody_writes(template: Path, tmp_path: Path) -> None:
    path = prepared(template, tmp_path)
    with store.open(path) as workspace, writer(path) as heard:
        last = heard.recv()
        for n in range(8):
            target = tmp_path / f"backup {n % 2}.halfbore"
            workspace.backup(target)
            with store.open(target) as copy:
                (number,) = numbers_in(copy)
                assert number >= last
                last = number
    heard.close()


def test_a_locked_workspace_is_waited_for_and_then_told(
    plant: Workspace, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plant.close()
    monkeypatch.setattr(engine, "PATIENCE", 0.05)
    with store.open(path) as hasty, closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        before = hasty.contents()
        with pytest.raises(WorkspaceError, match="is locked by another program; wait until it is done"):
            hasty.apply(THINGS, "Ida", "add")
        other.execute("ROLLBACK")
        assert hasty.contents() == before
        assert hasty.apply(THINGS, "Ida", "add") is not None


@in_a_file
def test_a_full_disk_keeps_all_or_nothing(plant: Workspace, path: Path) -> None:
    before = plant.contents(), len(plant.batches())
    with plant._engine.connect() as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar_one()
        connection.exec_driver_sql(f"PRAGMA max_page_count={pages}")
    with pytest.raises(WorkspaceError, match="the disk is full; make room"):
        plant.keep_catalogue("Quernvold", "1", "", {"units.csv": b"x" * 100_000})
    many = [*THINGS, *(Edit(PLACES[0], f"note.f{n}", "x" * 400) for n in range(300))]
    with pytest.raises(WorkspaceError, match="the disk is full"):
        plant.apply(many, "Ida", "much")
    assert (plant.contents(), len(plant.batches())) == before
    plant.close()
    with store.open(path) as again:
        assert again.apply(many, "Ida", "much") is not None
