"""Make and open workspace files: whose a file is, of which version, whether it is sound."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from itertools import count
from pathlib import Path
from uuid import uuid4

from sqlalchemy import Engine, insert, inspect, text

from halfbore.errors import Problem
from halfbore.store import backup, tables
from halfbore.store.engine import APPLICATION, database_engine, file_engine, read_only, reading, told, writing
from halfbore.store.errors import RESTORE, WorkspaceError, damaged
from halfbore.store.place import Database, Place
from halfbore.store.plain import written
from halfbore.store.tables import METADATA, sealed, wanted
from halfbore.store.workspace import Workspace

MAKE = "name a workspace, or make one with halfbore new"


def create(path: Place, plant: str) -> Workspace:
    """Make a workspace, as `store.create`."""
    from halfbore.store.migrate import migrate

    name = wanted(plant, "the name of the plant")
    if isinstance(path, Database):
        return _create_in(path, name)
    with _claimed(path), backup.beside(path) as part:
        engine = file_engine(part, create=True)
        try:
            migrate(engine, str(path))
            _first_rows(engine, str(path), name)
        finally:
            engine.dispose()
    return open_file(path)


def _create_in(database: Database, plant: str) -> Workspace:
    """Make the tables of a database, and the plant in them. Raises WorkspaceError where there is one already."""
    from halfbore.store.migrate import migrate

    engine, where = database_engine(database), str(database)
    try:
        _refuse_taken(engine, where)
        migrate(engine, where)
        _first_rows(engine, where, plant)
    finally:
        engine.dispose()
    return open_database(database)


def move(path: Path, database: Database) -> Workspace:
    """Write a workspace file into a database that holds none, as `store.move`."""
    from halfbore.store.migrate import migrate

    open_file(path).close()  # refuses what is no workspace, and brings an older one up to date
    source, engine, where = file_engine(path), database_engine(database), str(database)
    try:
        _refuse_taken(engine, where)
        migrate(engine, where)
        with reading(source, str(path)) as old, writing(engine, where) as new:
            backup.rows_over(old, new)
    finally:
        source.dispose()
        engine.dispose()
    return open_database(database)


def _refuse_taken(engine: Engine, where: str) -> None:
    with reading(engine, where) as connection:
        if inspect(connection).has_table(tables.plant.name):
            step = "open it, or name another database"
            raise WorkspaceError(Problem("holds a workspace already", where, next_step=step))


def open_database(database: Database) -> Workspace:
    """Open the workspace in a database; one of an earlier version is brought up to date. Raises WorkspaceError."""
    from halfbore.store.migrate import migrate

    engine, where = database_engine(database), str(database)
    try:
        version = _version(engine, where)
        _refuse_newer(version, where, tables.VERSION)
        if version < int(tables.VERSION):
            migrate(engine, where)
        _refuse_incomplete(engine, where)
        return Workspace(engine, database)
    except BaseException:
        engine.dispose()
        raise


def _refuse_newer(version: int, where: str, newest: str) -> None:
    if version > int(newest):
        what = (
            f"was made by a newer version of the program: its tables are {version}, known are up to {newest}"
        )
        raise WorkspaceError(Problem(what, where, next_step="update halfbore"))


@contextmanager
def _claimed(path: Path) -> Iterator[None]:
    """Hold a name with an empty file until what belongs there is made; give it back where it cannot be made.

    Raises WorkspaceError where a file is there, or none can be.
    """
    where = str(path)
    try:
        path.open("xb").close()
    except FileExistsError:
        step = "open it, or choose another name"
        raise WorkspaceError(Problem("there is a file of that name already", where, next_step=step)) from None
    except (OSError, ValueError) as error:
        step = "check the name, and that you may write in its folder"
        raise WorkspaceError(Problem(f"cannot be made: {_reason(error)}", where, next_step=step)) from None
    try:
        yield
    except BaseException:
        path.unlink()
        raise


def _reason(error: OSError | ValueError) -> str:
    return getattr(error, "strerror", None) or str(error)


def _first_rows(engine: Engine, where: str, plant: str) -> None:
    document = {"machine": {"plant": plant}}
    row = {"uid": uuid4().hex, "name": plant, "document": written(document), "version": 0}
    with writing(engine, where) as connection:
        connection.execute(insert(tables.plant), sealed(tables.plant, row))
        if engine.dialect.name == "sqlite":
            connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION}")


def open_file(path: Path, more: Sequence[Path] = (), newest: str = tables.VERSION) -> Workspace:
    """Open a workspace file, as `store.open`. more, newest: further migrations, and the version they lead to."""
    _refuse_foreign(path)
    engine = file_engine(path)
    try:
        version = _version(engine, str(path))
        _refuse_damaged(engine, str(path))
        _refuse_newer(version, str(path), newest)
        if version < int(newest):
            _bring_up(engine, path, more, newest)
        _refuse_incomplete(engine, str(path))
        return Workspace(engine, path)
    except BaseException:
        engine.dispose()
        raise


def _refuse_foreign(path: Path) -> None:
    """Raise WorkspaceError for a file that is none, or not one of ours."""
    where = str(path)
    try:
        size = path.stat().st_size
    except FileNotFoundError:
        raise WorkspaceError(Problem("there is no such workspace", where, next_step=MAKE)) from None
    except (OSError, ValueError) as error:
        raise WorkspaceError(Problem(f"cannot be read: {_reason(error)}", where, next_step=MAKE)) from None
    if path.is_dir():
        raise WorkspaceError(Problem("is a folder", where, next_step=MAKE))
    if not path.is_file():  # a pipe would be waited for, for ever
        raise WorkspaceError(Problem("is no file", where, next_step=MAKE))
    if not size:
        raise WorkspaceError(Problem("is empty, no workspace", where, next_step=MAKE))
    owner = _owner(path)
    if owner is None:
        what = "is no workspace: another kind of file, or its first page is damaged"
        raise WorkspaceError(Problem(what, where, next_step=f"{RESTORE}, or {MAKE}"))
    if owner != APPLICATION:
        raise WorkspaceError(Problem("is no workspace: a database of another program", where, next_step=MAKE))


def _owner(path: Path) -> int | None:
    """Return whose a database is, None for a file that is none. Raises WorkspaceError where it cannot be read.

    Only SQLite may open the file: closing it by any other way gives up the locks of this whole process, and another
    process would then take away the journal that this one still writes to.
    """
    try:
        with told(str(path)), closing(read_only(path)) as there:
            owner: int = there.execute("PRAGMA application_id").fetchone()[0]
    except WorkspaceError as error:
        if getattr(error.__cause__, "sqlite_errorname", "") == "SQLITE_NOTADB":
            return None
        raise
    return owner


def _version(engine: Engine, where: str) -> int:
    """Return the version of the tables. Raises WorkspaceError where the file does not say it."""
    with reading(engine, where) as connection:
        rows = connection.execute(text("SELECT version_num FROM alembic_version")).scalars().all()
    if (
        len(rows) != 1
        or not isinstance(rows[0], str)
        or not re.fullmatch(r"\d{4}", rows[0])
        or rows[0] == "0000"
    ):
        raise damaged("it does not say of which version it is", where)
    return int(rows[0])


def _refuse_damaged(engine: Engine, where: str) -> None:
    """Raise WorkspaceError where pages, indexes or keys of the file do not belong together."""
    with reading(engine, where) as connection:
        found = connection.exec_driver_sql("PRAGMA integrity_check(1)").scalar_one()
        if found != "ok":
            raise damaged(str(found), where)
        lost = connection.exec_driver_sql("PRAGMA foreign_key_check").first()
        if lost is not None:
            raise damaged(f"an entry of {lost[0]} belongs to nothing", where)


def _refuse_incomplete(engine: Engine, where: str) -> None:
    with reading(engine, where) as connection:
        there = inspect(connection)
        for name, table in METADATA.tables.items():
            columns = {c["name"] for c in there.get_columns(name)} if there.has_table(name) else set()
            if missing := [c.name for c in table.columns if c.name not in columns]:
                raise damaged(f"table {name} has no {', '.join(missing)}", where)


def _bring_up(engine: Engine, path: Path, more: Sequence[Path], newest: str) -> None:
    """Copy an older workspace beside, then migrate it."""
    from halfbore.store.migrate import migrate

    names = (f"{path.name}.before-migration-{int(newest)}{'' if n == 1 else f'.{n}'}" for n in count(1))
    copy = next(there for there in map(path.with_name, names) if not there.exists())
    backup.copy(engine, copy)
    migrate(engine, str(path), more)
