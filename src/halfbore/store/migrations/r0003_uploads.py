"""The third version: uploads that are not all brought in yet, with their files."""

from __future__ import annotations

import sqlalchemy as sa

from halfbore.store.migrations.r0001_first import _blob, _must, _of, _table, _unique

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Add the tables of uploads and of their files; nothing that is there changes."""
    _table(
        "upload",
        *_of("plant", "upload"),
        *_of("account", "upload", null=True),
        _must("key", sa.String(32)),
        _must("kind", sa.String(16)),
        _must("name", sa.Text()),
        *(_must(name, sa.String(32)) for name in ("came_at", "changed_at")),
        _must("version", sa.Integer()),
        _must("size", sa.Integer()),
        _must("state", sa.Text()),
        _unique("upload", "key"),
    )
    _table(
        "upload_file",
        *_of("upload", "upload_file"),
        _must("name", sa.Text()),
        *_blob("content"),
        _unique("upload_file", "upload_id", "name"),
    )
