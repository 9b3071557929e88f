"""The tables of a workspace. What SQLite alone knows is kept out, so that they serve PostgreSQL as well.

Each row carries a seal over all its other columns: a row that anything but this program changed is found when it is
read. Blobs are too large for that and have a SHA-256 of their own beside them, under the seal.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from hashlib import blake2b, sha256
from typing import Any

from sqlalchemy import (
    Boolean,
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

from halfbore.errors import Problem
from halfbore.store.errors import WorkspaceError, damaged

VERSION = "0003"
"""Newest migration; the version of the tables below."""

Row = Mapping[Any, Any]
"""A row by the names of its columns."""

METADATA = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    }
)


def _table(name: str, *columns: Column[Any] | UniqueConstraint | Index) -> Table:
    """Return a table whose rows have a number and a seal."""
    key = Column("id", Integer, primary_key=True)
    return Table(name, METADATA, key, *columns, Column("seal", String(16), nullable=False))


def _of(table: str, null: bool = False, name: str = "") -> Column[int]:
    """Return the column that says of which row of another table a row is."""
    return Column(name or f"{table}_id", Integer, ForeignKey(f"{table}.id"), nullable=null)


def _must(name: str, kind: Any) -> Column[Any]:
    return Column(name, kind, nullable=False)


def _thing(name: str, parent: str, *more: Column[Any] | UniqueConstraint) -> Table:
    """Return a table of tagged things. folded: the tag without case and extra blanks, by which it is found."""
    return _table(
        name,
        _of(parent, name="parent_id"),
        _must("tag", Text),
        _must("folded", Text),
        _must("place", Integer),
        _must("document", Text),
        _must("version", Integer),
        UniqueConstraint("parent_id", "folded"),
        *more,
    )


plant = _table(
    "plant",
    _must("uid", String(32)),
    _must("name", Text),
    _must("document", Text),
    _must("version", Integer),
)
machine = _thing("machine", "plant")
shaft_line = _thing("shaft_line", "machine")
position = _thing("position", "shaft_line", _of("plant"), UniqueConstraint("plant_id", "folded"))
"""Tags of positions are unique in a plant, not only on their shaft line."""

batch = _table(
    "batch",
    _of("plant"),
    _must("at", String(32)),
    _must("who", Text),
    _must("what", Text),
    _must("source", Text),
    _must("changes", Integer),
    _of("batch", null=True, name="undoes"),
)
change = _table(
    "change",
    _of("batch"),
    Column("machine", Text),
    Column("line", Text),
    Column("position", Text),
    _must("path", Text),
    Column("old", Text),
    Column("new", Text),
    Column("place", Integer),
    Index(None, "batch_id"),
    Index(None, "machine", "line", "position"),
)
result = _table(
    "result",
    _of("plant"),
    _must("machine", Text),
    _must("line", Text),
    _must("made_at", String(32)),
    _must("inputs_hash", String(64)),
    _must("package", Text),
    _must("editions", Text),
    _must("seed", Text),
    _must("on_day", String(10)),
    _must("summary", Text),
    _must("record", LargeBinary),
    _must("record_sha256", String(64)),
    Index(None, "machine", "line"),
)
document = _table(
    "document",
    _of("plant"),
    Column("machine", Text),
    Column("line", Text),
    Column("position", Text),
    _must("number", Text),
    _must("title", Text),
    _must("kind", Text),
    _must("file_name", Text),
    _must("content", LargeBinary),
    _must("content_sha256", String(64)),
    _must("size", Integer),
    _must("made_at", String(32)),
    _must("who", Text),
    _of("result", null=True),
    Column("record", LargeBinary),
    Column("record_sha256", String(64)),
)
catalogue = _table(
    "catalogue",
    _of("plant"),
    _must("supplier", Text),
    _must("version", Text),
    _must("sha256", String(64)),
    _must("mapping", Text),
    _must("kept_at", String(32)),
    _must("current", Boolean),
    UniqueConstraint("plant_id", "sha256"),
)
catalogue_file = _table(
    "catalogue_file",
    _of("catalogue"),
    _must("name", Text),
    _must("content", LargeBinary),
    _must("content_sha256", String(64)),
    UniqueConstraint("catalogue_id", "name"),
)

account = _table(
    "account",
    _of("plant"),
    _must("name", Text),
    _must("folded", Text),
    _must("role", String(16)),
    _must("password", Text),
    _must("made_at", String(32)),
    UniqueConstraint("plant_id", "folded"),
)
session = _table(
    "session",
    _of("account"),
    _must("key_sha256", String(64)),
    _must("began_at", String(32)),
    _must("until", String(32)),
    UniqueConstraint("key_sha256"),
)
"""Of a session only the hash of its secret is kept: who reads the file cannot go on with one."""

upload = _table(
    "upload",
    _of("plant"),
    _of("account", null=True),
    _must("key", String(32)),
    _must("kind", String(16)),
    _must("name", Text),
    _must("came_at", String(32)),
    _must("changed_at", String(32)),
    _must("version", Integer),
    _must("size", Integer),
    _must("state", Text),
    UniqueConstraint("key"),
)
"""What was uploaded and is not all brought in yet; of the user whose it is, where there are users."""
upload_file = _table(
    "upload_file",
    _of("upload"),
    _must("name", Text),
    _must("content", LargeBinary),
    _must("content_sha256", String(64)),
    UniqueConstraint("upload_id", "name"),
)

THINGS = (machine, shaft_line, position)
"""By the number of tags above them in an address."""


def sealed(table: Table, row: Row) -> dict[str, Any]:
    """Return a row with its seal; columns that are not given are empty."""
    return {**row, "seal": _seal(table, row)}


def checked(table: Table, row: Row) -> Row:
    """Return a row as read. Raises WorkspaceError where it does not carry its seal."""
    if row["seal"] != _seal(table, row):
        raise damaged(
            "an entry was changed by something other than this program", f"{table.name} {row['id']}"
        )
    return row


def _seal(table: Table, row: Row) -> str:
    values = [repr(row.get(name)) for name in _UNDER_SEAL[table.name]]
    return blake2b("\x1f".join(values).encode(errors="backslashreplace"), digest_size=8).hexdigest()


_UNDER_SEAL = {
    table.name: [
        c.name for c in table.columns if c.name not in ("id", "seal") and not isinstance(c.type, LargeBinary)
    ]
    for table in METADATA.tables.values()
}


def blob(content: bytes, sha: str, where: str) -> bytes:
    """Return a blob as read. Raises WorkspaceError where it is not what was kept."""
    if not isinstance(content, bytes) or sha256(content).hexdigest() != sha:
        raise damaged("a file was changed since it was kept", where)
    return content


def now() -> str:
    """Return the time as it is kept: UTC, ISO text."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def moment(text: str) -> datetime:
    """Return a time that was kept."""
    return datetime.fromisoformat(text)


def wanted(text: str, what: str) -> str:
    """Return a text that must say something in one line. Raises WorkspaceError."""
    line = " ".join(str(text).split())
    if not line or not line.isprintable():
        raise WorkspaceError(Problem(f"{what} is missing", value=line, accepted="a text in one line"))
    return line
