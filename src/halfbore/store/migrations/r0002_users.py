"""The second version: users with a role and a password, and their sessions."""

from __future__ import annotations

import sqlalchemy as sa

from halfbore.store.migrations.r0001_first import _must, _of, _table, _unique

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """Add the tables of users and of sessions; nothing that is there changes."""
    _table(
        "account",
        *_of("plant", "account"),
        *(_must(name, sa.Text()) for name in ("name", "folded")),
        _must("role", sa.String(16)),
        _must("password", sa.Text()),
        _must("made_at", sa.String(32)),
        _unique("account", "plant_id", "folded"),
    )
    _table(
        "session",
        *_of("account", "session"),
        _must("key_sha256", sa.String(64)),
        *(_must(name, sa.String(32)) for name in ("began_at", "until")),
        _unique("session", "key_sha256"),
    )
