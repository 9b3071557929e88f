"""Copies of a workspace, taken while it is in use, checked, and put in their place in one step."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, func, insert, select

from halfbore.errors import Problem
from halfbore.store.engine import APPLICATION, file_engine, read_only, reading, told, writing
from halfbore.store.errors import WorkspaceError, damaged
from halfbore.store.place import Place
from halfbore.store.tables import METADATA

ELSEWHERE = "choose another name"
AT_ONCE = 100
"""Rows that are copied at once."""


def write(engine: Engine, source: Place, uid: str, target: Path) -> None:
    """Copy a workspace to a file. Raises WorkspaceError where another file is there, or the copy is not sound.

    engine, source, uid: the workspace; target: a new file, or an earlier backup of the same workspace.
    """
    if target.exists():
        _refuse_others(engine, source, uid, target)
    if isinstance(source, Path):
        copy(engine, target)
    else:
        _copy_rows(engine, str(source), target)


def copy(engine: Engine, target: Path) -> None:
    """Copy a database to a file, whatever stands there. Raises WorkspaceError."""
    with beside(target) as part, told(str(target)):
        with engine.connect() as connection, closing(sqlite3.connect(part)) as there:
            driver = connection.connection.driver_connection
            assert driver is not None
            driver.backup(there)
            there.execute("PRAGMA journal_mode=DELETE")  # one file, with nothing beside it that belongs to it
        with closing(sqlite3.connect(part)) as there:
            found = there.execute("PRAGMA integrity_check(1)").fetchone()[0]
        if found != "ok":
            raise damaged(f"its copy is not sound: {found}", str(target))


def _copy_rows(engine: Engine, where: str, target: Path) -> None:
    """Write every row of a database, as it is at one moment, into a new workspace file, seals and all."""
    from halfbore.store.migrate import migrate

    with beside(target) as part:
        there = file_engine(part, create=True)
        try:
            migrate(there, str(target))
            with reading(engine, where) as old, writing(there, str(target)) as new:
                new.exec_driver_sql(f"PRAGMA application_id={APPLICATION}")
                rows_over(old, new)
        finally:
            there.dispose()
        with closing(sqlite3.connect(part)) as made:
            made.execute("PRAGMA journal_mode=DELETE")


def rows_over(old: Connection, new: Connection) -> None:
    """Write every row of one workspace into the empty tables of another, under its own number."""
    for table in METADATA.sorted_tables:
        found = old.execute(select(table).order_by(table.c.id)).mappings()
        for rows in found.partitions(AT_ONCE):
            new.execute(insert(table), [dict(row) for row in rows])
        if new.dialect.name == "postgresql":
            last = select(func.max(table.c.id)).scalar_subquery()
            counter = func.pg_get_serial_sequence(table.name, "id")
            new.execute(select(func.setval(counter, func.coalesce(last, 1), last.is_not(None))))


@contextmanager
def beside(target: Path) -> Iterator[Path]:
    """Give a file beside another one, and put it in its place when all went well. Raises WorkspaceError."""
    part = target.with_name(f".{target.name[:60]}.{os.getpid()}.part")
    try:
        part.unlink(missing_ok=True)
        yield part
        with part.open("rb+") as file:
            os.fsync(file.fileno())
        part.replace(target)
    except OSError as error:
        step = "check the folder, and that you may write in it"
        raise WorkspaceError(
            Problem(f"cannot be written: {error.strerror}", str(target), next_step=step)
        ) from None
    finally:
        _remove(part)


def _remove(part: Path) -> None:
    for end in ("", "-wal", "-shm", "-journal"):
        leftover = part.with_name(part.name + end)
        if leftover.exists():
            leftover.unlink()


def _refuse_others(engine: Engine, source: Place, uid: str, target: Path) -> None:
    where = str(target)
    if isinstance(source, Path) and target.samefile(source):
        raise WorkspaceError(Problem("is the workspace itself", where, next_step=ELSEWHERE))
    if not target.is_file():
        raise WorkspaceError(Problem("is no file that a backup could replace", where, next_step=ELSEWHERE))
    theirs = _plant_and_batch(target)
    if theirs is None or theirs[0] != uid:
        raise WorkspaceError(
            Problem("is there already, and no backup of this workspace", where, next_step=ELSEWHERE)
        )
    with told(str(source)), engine.connect() as connection:
        ours = connection.exec_driver_sql(_BATCHES).scalar_one()
    if theirs[1] > ours:
        what = "holds later edits than the workspace"
        raise WorkspaceError(Problem(what, where, next_step=f"open it instead, or {ELSEWHERE}"))


_BATCHES = "SELECT coalesce(max(id), 0) FROM batch"


def _plant_and_batch(path: Path) -> tuple[str, int] | None:
    """Return whose backup a file is and its last batch, None where it is none."""
    try:
        with closing(read_only(path)) as there:
            uid = there.execute("SELECT uid FROM plant").fetchone()
            return None if uid is None else (uid[0], there.execute(_BATCHES).fetchone()[0])
    except sqlite3.Error:
        return None
