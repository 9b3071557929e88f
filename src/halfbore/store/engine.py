"""The one place where a database is connected, and where its troubles are told in the project's shape."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import quote

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.exc import DBAPIError, SQLAlchemyError
from sqlalchemy.pool import QueuePool

from halfbore.errors import Problem
from halfbore.store.errors import RESTORE, WorkspaceError, damaged, quoted
from halfbore.store.place import Database

APPLICATION = int.from_bytes(b"hbws")
"""What SQLite keeps in the head of a file to say whose it is."""
PATIENCE = 5.0
"""Time that a locked workspace is waited for [s]."""
_ON_CONNECT = (
    "PRAGMA foreign_keys=ON",
    "PRAGMA journal_mode=WAL",
    "PRAGMA synchronous=FULL",
    "PRAGMA trusted_schema=OFF",
    "PRAGMA cell_size_check=ON",
)


def file_engine(path: Path, create: bool = False) -> Engine:
    """Return the engine of a workspace file; only with create it makes one that is not there."""
    mode = "rwc" if create else "rw"
    uri = f"file:{quote(str(path.absolute()))}?mode={mode}"

    def connect() -> sqlite3.Connection:
        # No transaction is begun behind our back: also a change of the tables is one, and can be taken back.
        return sqlite3.connect(uri, uri=True, timeout=PATIENCE, isolation_level=None, check_same_thread=False)

    engine = create_engine("sqlite://", creator=connect, poolclass=QueuePool)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def database_engine(database: Database) -> Engine:
    """Return the engine of a database."""
    patience = f"-c lock_timeout={1000 * PATIENCE:.0f}"
    how = {"options": patience, "connect_timeout": int(PATIENCE)}
    return create_engine(database.driver_address, connect_args=how, pool_pre_ping=True)


def read_only(path: Path) -> sqlite3.Connection:
    """Return a connection that changes nothing, not even how the file keeps its journal."""
    return sqlite3.connect(f"file:{quote(str(path.absolute()))}?mode=ro", uri=True, timeout=PATIENCE)


def _prepare(connection: Any, _record: object) -> None:
    for pragma in _ON_CONNECT:
        connection.execute(pragma)


def _begin(connection: Connection) -> None:
    """Begin a transaction; one that writes takes its lock at once, and cannot fail on the way for the lack of it."""
    writes = connection.get_execution_options().get("writes")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


@contextmanager
def reading(engine: Engine, where: str) -> Iterator[Connection]:
    """Give a connection that sees one state of the workspace. Raises WorkspaceError."""
    with told(where), engine.connect() as fresh:
        # SQLite sees one state in any case, and knows no such word.
        how = {} if engine.dialect.name == "sqlite" else {"isolation_level": "REPEATABLE READ"}
        connection = fresh.execution_options(**how)
        with connection.begin():
            yield connection


@contextmanager
def writing(engine: Engine, where: str) -> Iterator[Connection]:
    """Give a connection all of whose writes are kept together, or none. Raises WorkspaceError."""
    with told(where), engine.connect() as fresh:
        connection = fresh.execution_options(writes=True)
        with connection.begin():
            yield connection


@contextmanager
def told(where: str) -> Iterator[None]:
    """Turn what a database says went wrong into what a person can do about it. Raises WorkspaceError."""
    try:
        yield
    except UnicodeDecodeError:  # of a message that quotes the damage
        raise damaged("names of its tables cannot be read", where) from None
    except (SQLAlchemyError, sqlite3.Error) as error:
        cause = error.orig if isinstance(error, DBAPIError) and error.orig is not None else error
        raise _in_words(cause, where) from error


_WORDS = {
    "SQLITE_BUSY": ("is locked by another program", "wait until it is done, or end it, and try again"),
    "SQLITE_LOCKED": ("is locked by another program", "wait until it is done, or end it, and try again"),
    "SQLITE_READONLY": ("cannot be written", "put it into a folder that you may write in"),
    "SQLITE_PERM": ("may not be opened", "put it into a folder that you may write in"),
    "SQLITE_CANTOPEN": ("cannot be opened", "check the name, and that you may write in its folder"),
    "SQLITE_FULL": ("cannot be written: the disk is full", "make room; all that was kept before stands"),
    "SQLITE_IOERR": (
        "cannot be read or written: the disk failed, or is full",
        "check the disk and try again",
    ),
    "SQLITE_NOTADB": ("is no workspace, or its first page is damaged", RESTORE),
    "SQLITE_CORRUPT": ("is damaged", RESTORE),
    "55P03": ("is locked by another program", "wait until it is done, and try again"),
    "40": ("was changed by another program at the same moment", "try again"),
    "42501": ("may not be used by this user of the database", "ask who looks after the database"),
    "42P01": ("is none yet: the database has no tables of this program", "halfbore new makes them"),
    "53": ("cannot be written: the database has no room left", "make room; all that was kept before stands"),
    "OperationalError": (
        "cannot be reached: the database does not answer, or does not let this user in",
        "check its address, user and password, and that it runs",
    ),
}
"""What is said, by the beginning of what SQLite or PostgreSQL calls a trouble."""


def _in_words(error: BaseException, where: str) -> WorkspaceError:
    name = getattr(error, "sqlite_errorname", "") or getattr(error, "sqlstate", "") or type(error).__name__
    found = next((words for start, words in _WORDS.items() if name.startswith(start)), None)
    if found is None and "decode" in str(error):
        return damaged("a text in it cannot be read", where)
    what, step = found or (f"cannot be used: {quoted(str(error))}", RESTORE)
    return WorkspaceError(Problem(f"the workspace {what}", where, next_step=step))
