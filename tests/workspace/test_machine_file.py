"""A machine as job file: out of a workspace and into one it stays the same machine."""

from __future__ import annotations

from dataclasses import replace
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from halfbore import store
from halfbore.demo import plant
from halfbore.domain.workspace import Edit
from halfbore.errors import InputError
from halfbore.estimate.reading import read_completed
from halfbore.intake.jobfile import read_job, read_job_text
from halfbore.store import Workspace
from halfbore.workspace.lines import lines_of
from halfbore.workspace.machine_file import import_job, job_text
from halfbore.workspace.running import reading_of
from halfbore.workspace.toml_text import toml_text
from tests.estimate.machines import MACHINES

DEMO = sorted(plant.LINES.values())


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    return store.create(tmp_path / "lime.halfbore", "Ostrindale Lime (invented)")


@pytest.mark.parametrize("name", DEMO)
def test_a_job_file_comes_out_as_the_same_machine(name: str, workspace: Workspace, tmp_path: Path) -> None:
    with as_file(files("halfbore.demo").joinpath(name)) as path, workspace:
        line, batch = import_job(workspace, path, "me")
        assert batch is not None
        text = job_text(workspace, line)
        assert read_job_text(text).job == read_job(path).job
        again = tmp_path / "again.toml"
        again.write_text(text, encoding="utf-8")
        assert import_job(workspace, again, "me") == (line, None)


def test_two_shaft_lines_of_one_machine_share_it(workspace: Workspace) -> None:
    with workspace:
        for name in ("e1_head", "e1_boot"):
            with as_file(files("halfbore.demo").joinpath(f"plant/{name}.toml")) as path:
                import_job(workspace, path, "me")
        assert lines_of(workspace) == (("E1", "head"), ("E1", "boot"))


def test_what_the_plant_says_already_is_not_repeated(workspace: Workspace) -> None:
    with workspace, as_file(files("halfbore.demo").joinpath("plant/t1.toml")) as path:
        import_job(workspace, path, "me")
        money = workspace.document(("T1", ""))["value"]
        other = store.create(workspace.path.with_name("other.halfbore"), "other")
        with other:
            other.apply([Edit((), "value", money)], "me", "money")
            line, _ = import_job(other, path, "me")
            assert "value" not in other.document(line)
            assert read_job_text(job_text(other, line)).job == read_job(path).job


def test_a_position_of_another_machine_is_refused(workspace: Workspace, tmp_path: Path) -> None:
    with workspace, as_file(files("halfbore.demo").joinpath("plant/t1.toml")) as path:
        import_job(workspace, path, "me")
        moved = tmp_path / "moved.toml"
        moved.write_text(
            path.read_text(encoding="utf-8").replace('name = "T1"', 'name = "T9"'), encoding="utf-8"
        )
        before = workspace.contents()
        with pytest.raises(InputError, match="T1-A stands in T1 already"):
            import_job(workspace, moved, "me")
        assert workspace.contents() == before


@pytest.mark.parametrize("name", MACHINES)
def test_of_a_name_plate_alone_positions_are_named_and_the_rest_stays_as_typed(
    name: str, workspace: Workspace, tmp_path: Path
) -> None:
    plate, path = MACHINES[name].data(name), tmp_path / "plate.toml"
    path.write_text(toml_text(plate), encoding="utf-8")
    with workspace:
        line, _ = import_job(workspace, path, "me")
        kept = workspace.document(line)
        assert {"loads", "duty", "positions"} & set(kept) == set(MACHINES[name].given) & {"loads", "duty"}
        here, there = reading_of(workspace, line), read_completed(plate)
        assert replace(here.job, machine=there.job.machine) == there.job, "the plant has a name beside"
        assert import_job(workspace, path, "me") == (line, None)
