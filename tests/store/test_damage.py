"""Damaged workspaces: each is refused in the project's shape, or reads exactly as it was; nothing in between."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from halfbore import store
from halfbore.domain.workspace import Edit
from halfbore.errors import InputError
from halfbore.store import Workspace, WorkspaceError
from tests.store import sample

Damage = Callable[[Path], None]


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """Return a workspace with something in each table."""
    path = tmp_path_factory.mktemp("sound") / "plant.halfbore"
    with store.create(path, sample.PLANT) as workspace:
        sample.fill(workspace)
    return path.read_bytes()


def everything(workspace: Workspace) -> list[Any]:
    """Read all that a workspace holds."""
    results = workspace.results()
    return [
        workspace.plant,
        workspace.tree(),
        workspace.contents(),
        [workspace.version(address) for address in workspace.contents()],
        workspace.find("e1 head"),
        [workspace.job_data(line) for line in (("E1", "head"), ("F1", ""))],
        workspace.batches(None),
        workspace.history(limit=None),
        results,
        [workspace.result_record(result.id) for result in results.values()],
        [(d, workspace.document_bytes(d.id), workspace.document_record(d.id)) for d in workspace.documents()],
        [(c, workspace.catalogue_files(c.id)) for c in workspace.catalogues(current_only=False)],
    ]


def sql(*statements: str) -> Damage:
    """Return damage that is done by a hand that knows SQL."""

    def damage(path: Path) -> None:
        with closing(sqlite3.connect(path)) as raw:
            for statement in statements:
                raw.execute(statement)
            raw.commit()

    return damage


def cut(share: float) -> Damage:
    """Return damage that leaves the first part of a file."""

    def damage(path: Path) -> None:
        path.write_bytes(path.read_bytes()[: int(share * path.stat().st_size)])

    return damage


def flipped(seed: int, first: int, last: int | None, count: int) -> Damage:
    """Return damage to some bytes between two places."""

    def damage(path: Path) -> None:
        content, chance = bytearray(path.read_bytes()), random.Random(seed)
        for _ in range(count):
            content[chance.randrange(first, last or len(content))] ^= 1 << chance.randrange(8)
        path.write_bytes(content)

    return damage


def emptied(seed: int) -> Damage:
    """Return damage that leaves a page of nothing."""

    def damage(path: Path) -> None:
        content = bytearray(path.read_bytes())
        page = 4096 * random.Random(seed).randrange(1, len(content) // 4096)
        content[page : page + 4096] = bytes(4096)
        path.write_bytes(content)

    return damage


REFUSED: dict[str, Damage] = {
    **{f"cut at {share}": cut(share) for share in (0.0, 0.0002, 0.001, 0.05, 0.3, 0.5, 0.77, 0.95)},
    **{f"page {seed} emptied": emptied(seed) for seed in range(4)},
    **{
        f"{table} dropped": sql("PRAGMA foreign_keys=OFF", f"DROP TABLE {table}")
        for table in ("plant", "machine", "shaft_line", "position", "batch", "change", "result", "document")
    },
    "catalogue dropped": sql("DROP TABLE catalogue"),
    "files dropped": sql("DROP TABLE catalogue_file"),
    "version dropped": sql("DROP TABLE alembic_version"),
    "version empty": sql("DELETE FROM alembic_version"),
    "version of nothing": sql("UPDATE alembic_version SET version_num = '0000'"),
    "version no number": sql("UPDATE alembic_version SET version_num = 'first'"),
    "version twice": sql("INSERT INTO alembic_version VALUES ('0001')"),
    "version newer": sql("UPDATE alembic_version SET version_num = '0042'"),
    "nonsense in a document": sql("UPDATE position SET document = '{\"x\": ' WHERE id = 1"),
    "another document": sql("UPDATE position SET document = '{}'"),
    "a number for a document": sql("UPDATE machine SET document = 7"),
    "a blob for a document": sql("UPDATE machine SET document = x'00ff'"),
    "half a character": sql("UPDATE machine SET document = CAST(x'c3' AS TEXT)"),
    "another tag": sql("UPDATE machine SET tag = 'X1', folded = 'x1' WHERE id = 1"),
    "another place": sql("UPDATE machine SET place = 7 WHERE id = 1"),
    "another version of a thing": sql("UPDATE machine SET version = 7 WHERE id = 1"),
    "a line of another machine": sql("UPDATE shaft_line SET parent_id = 2 WHERE id = 1"),
    "a line of no machine": sql(
        "PRAGMA foreign_keys=OFF", "UPDATE shaft_line SET parent_id = 9 WHERE id = 1"
    ),
    "no plant": sql("PRAGMA foreign_keys=OFF", "DELETE FROM plant"),
    "two plants": sql("INSERT INTO plant SELECT 2, uid, name, document, version, seal FROM plant"),
    "another name of the plant": sql("UPDATE plant SET name = 'Other'"),
    "another old value": sql("UPDATE change SET old = '\"1 kg\"' WHERE old IS NOT NULL"),
    "another author": sql("UPDATE batch SET who = 'Bo'"),
    "a time that is none": sql("UPDATE batch SET at = 'yesterday'"),
    "another record": sql("UPDATE result SET record = x'00'"),
    "another summary": sql("UPDATE result SET summary = '{}'"),
    "another content": sql("UPDATE document SET content = x'00'"),
    "another content with its hash": sql("UPDATE document SET content = x'', content_sha256 = 'e3b0'"),
    "no catalogue current": sql("UPDATE catalogue SET current = 0"),
    "another file of a catalogue": sql("UPDATE catalogue_file SET content = x'41'"),
    "a column fewer": sql("ALTER TABLE change DROP COLUMN place"),
    "owned by another program": sql("PRAGMA application_id = 1"),
}

EITHER: dict[str, Damage] = {
    **{f"head flipped {seed}": flipped(seed, 0, 100, 1) for seed in range(20)},
    **{f"first page flipped {seed}": flipped(seed, 100, 4096, 1) for seed in range(20)},
    **{f"flipped {seed}": flipped(seed, 4096, None, 1) for seed in range(60)},
    **{f"flipped often {seed}": flipped(seed, 4096, None, 30) for seed in range(20)},
    "cut at 0.99999": cut(0.99999),  # of a last page that holds nothing yet, nothing is lost with its end
}


@pytest.mark.parametrize("damage", REFUSED.values(), ids=REFUSED)
def test_what_matters_is_refused(sound: bytes, tmp_path: Path, damage: Damage) -> None:
    path = tmp_path / "plant.halfbore"
    path.write_bytes(sound)
    damage(path)
    with pytest.raises(WorkspaceError) as caught, store.open(path) as workspace:
        everything(workspace)
    for problem in caught.value.problems:
        assert problem.what
        assert problem.where
        assert problem.next_step


@pytest.mark.parametrize("damage", EITHER.values(), ids=EITHER)
def test_a_little_damage_is_refused_or_does_not_matter(sound: bytes, tmp_path: Path, damage: Damage) -> None:
    path = tmp_path / "plant.halfbore"
    path.write_bytes(sound)
    with store.open(path) as workspace:
        before = everything(workspace)
    damage(path)
    try:
        with store.open(path) as workspace:
            assert everything(workspace) == before
            assert workspace.apply([Edit(("G1",), "", {"x": 1})], "Ida", "add") is not None
            assert workspace.undo("Ida").changes == 1
    except InputError as error:
        assert all(problem.what and problem.next_step for problem in error.problems)
