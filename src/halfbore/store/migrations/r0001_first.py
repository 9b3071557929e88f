"""The first version: plant, machines, shaft lines, positions, history, results, documents, catalogues."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make all tables."""
    _things()
    _history()
    _kept()


def _things() -> None:
    _table("plant", _must("uid", sa.String(32)), _must("name", sa.Text()), *_document())
    _table("machine", *_tagged("plant"))
    _table("shaft_line", *_tagged("machine"))
    _table(
        "position",
        *_tagged("shaft_line"),
        *_of("plant", "position"),
        _unique("position", "plant_id", "folded"),
    )


def _history() -> None:
    _table(
        "batch",
        *_of("plant", "batch"),
        _must("at", sa.String(32)),
        *(_must(name, sa.Text()) for name in ("who", "what", "source")),
        _must("changes", sa.Integer()),
        *_of("batch", "batch", "undoes", null=True),
    )
    _table(
        "change",
        *_of("batch", "change"),
        *_address(null=True),
        _must("path", sa.Text()),
        *(sa.Column(name, sa.Text()) for name in ("old", "new")),
        sa.Column("place", sa.Integer()),
    )
    op.create_index(op.f("ix_change_batch_id"), "change", ["batch_id"])
    op.create_index(op.f("ix_change_machine_line_position"), "change", ["machine", "line", "position"])


def _kept() -> None:
    _table(
        "result",
        *_of("plant", "result"),
        *(_must(name, sa.Text()) for name in ("machine", "line")),
        _must("made_at", sa.String(32)),
        _must("inputs_hash", sa.String(64)),
        *(_must(name, sa.Text()) for name in ("package", "editions", "seed")),
        _must("on_day", sa.String(10)),
        _must("summary", sa.Text()),
        *_blob("record"),
    )
    op.create_index(op.f("ix_result_machine_line"), "result", ["machine", "line"])
    _table(
        "document",
        *_of("plant", "document"),
        *_address(null=True),
        *(_must(name, sa.Text()) for name in ("number", "title", "kind", "file_name")),
        *_blob("content"),
        _must("size", sa.Integer()),
        _must("made_at", sa.String(32)),
        _must("who", sa.Text()),
        *_of("result", "document", null=True),
        *_blob("record", null=True),
    )
    _table(
        "catalogue",
        *_of("plant", "catalogue"),
        *(_must(name, sa.Text()) for name in ("supplier", "version")),
        _must("sha256", sa.String(64)),
        _must("mapping", sa.Text()),
        _must("kept_at", sa.String(32)),
        _must("current", sa.Boolean()),
        _unique("catalogue", "plant_id", "sha256"),
    )
    _table(
        "catalogue_file",
        *_of("catalogue", "catalogue_file"),
        _must("name", sa.Text()),
        *_blob("content"),
        _unique("catalogue_file", "catalogue_id", "name"),
    )


def _table(name: str, *columns: Any) -> None:
    op.create_table(
        name,
        sa.Column("id", sa.Integer(), nullable=False),
        *columns,
        _must("seal", sa.String(16)),
        sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{name}")),
    )


def _must(name: str, kind: Any) -> sa.Column[Any]:
    return sa.Column(name, kind, nullable=False)


def _of(table: str, child: str, name: str = "", null: bool = False) -> tuple[Any, ...]:
    column = name or f"{table}_id"
    key = sa.ForeignKeyConstraint([column], [f"{table}.id"], name=op.f(f"fk_{child}_{column}"))
    return sa.Column(column, sa.Integer(), nullable=null), key


def _unique(table: str, *columns: str) -> sa.UniqueConstraint:
    return sa.UniqueConstraint(*columns, name=op.f(f"uq_{table}_{'_'.join(columns)}"))


def _document() -> tuple[Any, ...]:
    return _must("document", sa.Text()), _must("version", sa.Integer())


def _blob(name: str, null: bool = False) -> tuple[Any, ...]:
    content = sa.Column(name, sa.LargeBinary(), nullable=null)
    return content, sa.Column(f"{name}_sha256", sa.String(64), nullable=null)


def _address(null: bool) -> tuple[Any, ...]:
    return tuple(sa.Column(name, sa.Text(), nullable=null) for name in ("machine", "line", "position"))


def _tagged(parent: str) -> tuple[Any, ...]:
    name = {"plant": "machine", "machine": "shaft_line", "shaft_line": "position"}[parent]
    return (
        *_of(parent, name, "parent_id"),
        _must("tag", sa.Text()),
        _must("folded", sa.Text()),
        _must("place", sa.Integer()),
        *_document(),
        _unique(name, "parent_id", "folded"),
    )
