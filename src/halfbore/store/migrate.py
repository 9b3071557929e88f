"""Bring the tables of a database up to this version, one migration in one transaction."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from alembic.operations import Operations
from alembic.runtime.migration import MigrationContext
from alembic.script import Script, ScriptDirectory
from sqlalchemy import Connection, Engine

from halfbore.store.engine import told
from halfbore.store.errors import damaged

HERE = Path(__file__).parent / "migrations"


def migrate(engine: Engine, where: str, more: Sequence[Path] = ()) -> None:
    """Run the migrations that a database lacks; each is kept whole or not at all.

    where: the database, for messages; more: further folders of migrations. Raises WorkspaceError.
    """
    scripts = ScriptDirectory(str(HERE), version_locations=[str(HERE), *map(str, more)])
    with told(where), engine.connect() as fresh:
        connection = fresh.execution_options(writes=True)
        # A migration may make a table anew under its old name, which keys that point to it would not allow.
        _keys(connection, "OFF")
        while _one(connection, scripts, where):
            pass
        _keys(connection, "ON")


def newest(more: Sequence[Path] = ()) -> str | None:
    """Return the version to which migrations lead."""
    return ScriptDirectory(str(HERE), version_locations=[str(HERE), *map(str, more)]).get_current_head()


def _one(connection: Connection, scripts: ScriptDirectory, where: str) -> bool:
    """Run the next migration; False where there is none. Others wait meanwhile, and then find it done."""
    with connection.begin():
        context = MigrationContext.configure(connection)
        script = _next(scripts, context.get_current_revision())
        if script is None:
            return False
        with Operations.context(context):
            script.module.upgrade()
        context.stamp(scripts, script.revision)
        if (
            connection.dialect.name == "sqlite"
            and connection.exec_driver_sql("PRAGMA foreign_key_check").first()
        ):
            raise damaged(f"something is missing that migration {script.revision} needs", where)
    return True


def _next(scripts: ScriptDirectory, current: str | None) -> Script | None:
    return next((script for script in scripts.walk_revisions() if script.down_revision == current), None)


def _keys(connection: Connection, state: str) -> None:
    """Switch the check of foreign keys, which SQLite does outside of a transaction only."""
    if connection.dialect.name == "sqlite":
        driver = connection.connection.driver_connection
        assert driver is not None
        driver.execute(f"PRAGMA foreign_keys={state}")
