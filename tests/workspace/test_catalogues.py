"""Catalogues are kept whole in the workspace, read from it alone, and a new version says what it changes."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from halfbore import store
from halfbore.demo.suppliers import load
from halfbore.domain.unit import UnitTable
from halfbore.domain.workspace import Edit
from halfbore.errors import InputError
from halfbore.workspace.catalogues import catalogues_of, import_catalogue
from halfbore.workspace.demo_plant import DemoPlant

Copied = Callable[[], Path]


def same(one: UnitTable, other: UnitTable) -> bool:
    columns = [(getattr(one, f.name), getattr(other, f.name)) for f in dataclasses.fields(UnitTable)]
    return all(np.array_equal(a, b, equal_nan=a.dtype.kind == "f") for a, b in columns)


def test_the_catalogues_of_the_workspace_are_those_of_the_suppliers(made: DemoPlant) -> None:
    with store.open(made.workspace) as workspace:
        found = {c.supplier: c for c in catalogues_of(workspace)}
    for name in ("first", "second"):
        wanted = load(name)
        assert same(found[wanted.supplier].units, wanted.units)


def test_the_same_catalogue_again_is_not_kept_again(made: DemoPlant, copied: Copied) -> None:
    with store.open(copied()) as workspace:
        before = workspace.catalogues(current_only=False)
        done = import_catalogue(workspace, made.catalogues[0])
        assert done.changes is None
        assert workspace.catalogues(current_only=False) == before


def test_a_new_version_says_what_changed_and_the_old_one_stays(
    made: DemoPlant, copied: Copied, tmp_path: Path
) -> None:
    mapping = made.catalogues[0]
    table = mapping.with_name("quernvold.csv")
    lines = table.read_text(encoding="utf-8").splitlines(keepends=True)
    (tmp_path / table.name).write_text("".join(lines[:-1]), encoding="utf-8", newline="")
    text = mapping.read_text(encoding="utf-8")
    newer = tmp_path / mapping.name
    version = next(line for line in text.splitlines() if line.startswith("version"))
    newer.write_text(text.replace(version, 'version = "newer"'), encoding="utf-8")
    with store.open(copied()) as workspace:
        done = import_catalogue(workspace, newer)
        assert done.changes is not None
        assert len(done.changes.withdrawn) == 3  # the last row stands for a plain support and both hands
        assert done.changes.new == "newer"
        versions = [c for c in workspace.catalogues(current_only=False) if c.supplier == done.kept.supplier]
        assert [c.current for c in versions] == [True, False]


def test_without_a_catalogue_the_plant_s_demo_ones_serve_or_it_says_so(tmp_path: Path) -> None:
    with store.create(tmp_path / "empty.halfbore", "empty") as workspace:
        with pytest.raises(InputError, match="halfbore import catalogue"):
            catalogues_of(workspace)
        workspace.apply([Edit((), "catalogues", ["demo:second"])], "me", "demo")
        assert [c.supplier for c in catalogues_of(workspace)] == [load("second").supplier]


def test_a_version_with_another_content_wants_a_name_of_its_own(
    made: DemoPlant, copied: Copied, tmp_path: Path
) -> None:
    mapping = made.catalogues[0]
    table = mapping.with_name("quernvold.csv")
    other = tmp_path / "sent again.csv"
    other.write_bytes(b"".join(table.read_bytes().splitlines(keepends=True)[:-1]))
    with store.open(copied()) as workspace:
        before = workspace.catalogues(current_only=False)
        with pytest.raises(InputError, match=r'another content.*version = ".*-2" in .*quernvold.toml'):
            import_catalogue(workspace, mapping, other)
        commented = tmp_path / mapping.name
        commented.write_text("# looked at\n" + mapping.read_text(encoding="utf-8"), encoding="utf-8")
        assert not import_catalogue(workspace, commented, table).new
        assert workspace.catalogues(current_only=False) == before


def test_a_mapping_reads_the_file_that_is_named_and_no_other(
    made: DemoPlant, copied: Copied, tmp_path: Path
) -> None:
    mapping, table = made.catalogues[0], made.catalogues[0].with_name("quernvold.csv")
    strange = tmp_path / "bolts.csv"
    strange.write_text("Code,Length\nM12,80\n", encoding="utf-8")
    with store.open(copied()) as workspace:
        before = workspace.catalogues(current_only=False)
        with pytest.raises(InputError, match="the heading is not there"):
            import_catalogue(workspace, mapping, strange)
        with pytest.raises(InputError, match=r"quernvold\.toml is written for another file.*quernvold\.csv"):
            import_catalogue(workspace, mapping, table.with_name("tolvarden.xlsx"))
        with pytest.raises(InputError, match="no such file"):
            import_catalogue(workspace, mapping, tmp_path / "none.csv")
        assert workspace.catalogues(current_only=False) == before
