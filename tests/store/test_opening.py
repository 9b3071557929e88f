"""What a workspace file is, which files are none, and how one of an earlier version is brought up."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext

from halfbore import store
from halfbore.domain.workspace import Edit
from halfbore.store import Workspace, WorkspaceError
from halfbore.store.engine import file_engine
from halfbore.store.migrate import newest
from halfbore.store.opening import open_file
from halfbore.store.tables import METADATA, VERSION
from tests.store import sample
from tests.store.conftest import PLANT, in_a_file

FURTHER = '''
"""A further version for the tests: machines are made anew with one more field, and there is one more table."""
import sqlalchemy as sa
from alembic import op
revision, down_revision = "0004", "0003"

def upgrade():
    op.create_table("crew", sa.Column("id", sa.Integer, primary_key=True), sa.Column("name", sa.Text))
    op.execute("INSERT INTO crew (name) SELECT tag FROM machine")
    with op.batch_alter_table("machine") as machine:
        machine.add_column(sa.Column("note", sa.Text, nullable=False, server_default="none"))
'''
FAILS = FURTHER + '    op.execute("SELECT * FROM nowhere")\n'
BREAKS = FURTHER + '    op.execute("DELETE FROM shaft_line")\n'


def test_make_and_open(tmp_path: Path) -> None:
    path = tmp_path / "Müllers # plant?.halfbore"
    with store.create(path, f"  {PLANT} ") as made:
        assert (made.plant, made.tree(), made.batches()) == (PLANT, (), ())
        assert made.document(()) == {"machine": {"plant": PLANT}}
    with store.open(path) as again:
        assert again.uid == made.uid
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


def test_a_file_that_is_there_is_not_made_anew(path: Path) -> None:
    before = path.read_bytes()
    with pytest.raises(WorkspaceError, match="there is a file of that name already"):
        store.create(path, PLANT)
    assert path.read_bytes() == before


@pytest.mark.parametrize("name", ["nowhere/plant.halfbore", "x" * 300, "a\0b"])
def test_a_place_that_cannot_be_written_is_told(tmp_path: Path, name: str) -> None:
    with pytest.raises(WorkspaceError, match=r"cannot be made: .*; check the name"):
        store.create(tmp_path / name, PLANT)
    with pytest.raises(WorkspaceError, match=r"no such workspace|cannot be read"):
        store.open(tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_left_where_a_workspace_cannot_be_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no(*_: object) -> None:
        raise sqlite3.OperationalError("no")

    monkeypatch.setattr("halfbore.store.migrate.migrate", no)
    with pytest.raises(sqlite3.OperationalError):
        store.create(tmp_path / "plant.halfbore", PLANT)
    assert list(tmp_path.iterdir()) == []


def test_a_workspace_has_a_plant_with_a_name(tmp_path: Path) -> None:
    with pytest.raises(WorkspaceError, match="the name of the plant is missing"):
        store.create(tmp_path / "plant.halfbore", " ")


def _folder(path: Path) -> None:
    path.mkdir()


def _database(path: Path) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE plant (id)")


FOREIGN = [
    (lambda _path: None, "there is no such workspace"),
    (_folder, "is a folder"),
    (lambda path: path.write_bytes(b""), "is empty, no workspace"),
    (lambda path: path.write_text("[machine]\nname = 'F1'\n"), "another kind of file"),
    (lambda path: path.write_bytes(b"PK\x03\x04" * 50), "another kind of file"),
    (
        lambda path: path.write_bytes(b"SQLite format 3\x00"),
        "another kind of file, or its first page is damaged",
    ),
    (_database, "a database of another program"),
    (os.mkfifo, "is no file"),
    (lambda path: path.symlink_to(path), "cannot be read|no such workspace"),
]


@pytest.mark.parametrize(("make", "what"), FOREIGN)
def test_what_is_no_workspace_is_refused(tmp_path: Path, make: object, what: str) -> None:
    path = tmp_path / "plant.halfbore"
    make(path)  # type: ignore[operator]
    with pytest.raises(WorkspaceError, match=f"{what}.*halfbore new"):
        store.open(path)


@contextmanager
def nobody() -> Iterator[None]:
    """Go on as a user who may write nothing, where this one may write everything."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


def test_what_may_only_be_read_is_told(path: Path, tmp_path: Path) -> None:
    for folder in (tmp_path, *tmp_path.parents):
        if folder.stat().st_uid == os.getuid() and folder != Path("/"):
            folder.chmod(folder.stat().st_mode | 0o755)
    path.chmod(0o444)
    tmp_path.chmod(0o555)
    try:
        with nobody():
            with pytest.raises(
                WorkspaceError, match=r"put it into a folder that you may write in|may write in its folder"
            ):
                store.open(path).close()
            with pytest.raises(WorkspaceError, match="cannot be made: Permission denied"):
                store.create(tmp_path / "new.halfbore", PLANT)
    finally:
        tmp_path.chmod(0o755)
        path.chmod(0o644)


def test_the_migrations_make_the_tables_that_the_program_knows(path: Path) -> None:
    engine = file_engine(path)
    with engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    engine.dispose()
    assert newest() == VERSION


def _migrations(folder: Path, text: str) -> list[Path]:
    folder.mkdir()
    (folder / "r0004_further.py").write_text(text)
    return [folder]


@pytest.fixture
def first(plant: Workspace, path: Path) -> Path:
    """Return a workspace of this version with a plant in it."""
    plant.close()
    return path


@in_a_file
def test_an_older_workspace_is_copied_and_brought_up(first: Path, tmp_path: Path) -> None:
    with store.open(first) as old:
        before = old.contents(), old.tree(), old.history(limit=None)
    more = _migrations(tmp_path / "more", FURTHER)
    with open_file(first, more, "0004") as new:
        assert (new.contents(), new.tree(), new.history(limit=None)) == before
        assert new.undo("Ida").changes == len(before[2])
    with closing(sqlite3.connect(first)) as raw:
        assert raw.execute("SELECT version_num FROM alembic_version").fetchall() == [("0004",)]
        assert raw.execute("SELECT name FROM crew").fetchall() == [("E1",), ("F1",)]
    with store.open(tmp_path / "plant.halfbore.before-migration-4") as copy:
        assert (copy.contents(), copy.tree(), copy.history(limit=None)) == before
    with open_file(first, more, "0004") as again:
        assert again.plant == PLANT
    assert len(list(tmp_path.glob("plant.halfbore.before*"))) == 1


@in_a_file
@pytest.mark.parametrize("text", [FAILS, BREAKS])
def test_a_migration_that_fails_leaves_what_was_there(first: Path, tmp_path: Path, text: str) -> None:
    with store.open(first) as old:
        before = old.contents(), old.history(limit=None)
    more = _migrations(tmp_path / "more", text)
    for _ in range(2):
        with pytest.raises(
            WorkspaceError, match=r"no such table: nowhere|something is missing that migration 0004 needs"
        ):
            open_file(first, more, "0004")
    with store.open(first) as again:
        assert (again.contents(), again.history(limit=None)) == before
        assert again.apply([Edit(("G1",), "", {})], "Ida", "add") is not None
    copies = sorted(p.name for p in tmp_path.glob("plant.halfbore.*"))
    assert copies == ["plant.halfbore.before-migration-4", "plant.halfbore.before-migration-4.2"]


def test_a_newer_workspace_is_refused(first: Path, tmp_path: Path) -> None:
    open_file(first, _migrations(tmp_path / "more", FURTHER), "0004").close()
    before = first.read_bytes()
    with pytest.raises(
        WorkspaceError, match=r"newer version of the program: its tables are 4.*update halfbore"
    ):
        store.open(first)
    assert first.read_bytes() == before


def test_a_workspace_of_each_version_opens_with_everything_in_it(tmp_path: Path) -> None:
    files = sorted(sample.FOLDER.glob("workspace_*.halfbore"))
    assert [path.name for path in files] == [f"workspace_{n + 1}.halfbore" for n in range(int(VERSION))]
    for file in files:
        with store.open(Path(shutil.copy(file, tmp_path))) as workspace:
            sample.check(workspace)
            waiting = {one.name: workspace.uploads.files(one.key) for one in workspace.uploads.open()}
        assert waiting == {"new.csv": sample.UPLOAD} | (
            {"plant.csv": sample.UPLOAD} if file.stem[-1] > "2" else {}
        )


def test_backup_is_a_workspace(plant: Workspace, tmp_path: Path) -> None:
    target = tmp_path / "backup.halfbore"
    plant.backup(target)
    with store.open(target) as copy:
        assert (copy.contents(), copy.history(), copy.uid) == (plant.contents(), plant.history(), plant.uid)
        copy.apply([Edit(("G1",), "", {})], "Bo", "add")
    with pytest.raises(WorkspaceError, match="holds later edits than the workspace"):
        plant.backup(target)
    assert [p.name for p in tmp_path.iterdir() if p.name.startswith(".")] == []


@in_a_file
def test_a_backup_replaces_only_an_earlier_one(plant: Workspace, path: Path, tmp_path: Path) -> None:
    target = tmp_path / "backup.halfbore"
    plant.backup(target)
    plant.apply([Edit(("G1",), "", {})], "Bo", "add")
    plant.backup(target)
    with store.open(target) as copy:
        assert copy.find("G1") == (("G1",),)
    other = tmp_path / "other.halfbore"
    store.create(other, PLANT).close()
    (tmp_path / "notes.txt").write_text("notes")
    for there in (other, tmp_path / "notes.txt"):
        before = there.read_bytes()
        with pytest.raises(WorkspaceError, match="is there already, and no backup of this workspace"):
            plant.backup(there)
        assert there.read_bytes() == before
    with pytest.raises(WorkspaceError, match="is the workspace itself"):
        plant.backup(path)
    with pytest.raises(WorkspaceError, match="no file that a backup could replace"):
        plant.backup(tmp_path)
    with pytest.raises(WorkspaceError, match="cannot be opened"):
        plant.backup(tmp_path / "nowhere" / "backup.halfbore")
