"""A machine as job file: out of a workspace and into one it stays the same machine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from halfbore import store
from halfbore.demo import plant
from halfbore.demo.suppliers import load, load_catalogue
from halfbore.domain.study import Study
from halfbore.domain.workspace import Edit
from halfbore.errors import InputError
from halfbore.estimate.reading import read_completed
from halfbore.intake.jobfile import plain_job, read_job, read_job_text
from halfbore.store import Workspace
from halfbore.study import Stage, study
from halfbore.workspace.catalogues import catalogues_of, write_catalogues
from halfbore.workspace.demo_plant import DemoPlant
from halfbore.workspace.lines import lines_of
from halfbore.workspace.machine_file import import_job, job_text
from halfbore.workspace.running import reading_of, run_lines
from halfbore.workspace.toml_text import toml_text
from tests.estimate.machines import MACHINES

Copied = Callable[[], Path]
ON = date(2026, 11, 24)
DEMO = sorted(plant.LINES.values())


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    return store.create(tmp_path / "lime.halfbore", "Ostrindale Lime (invented)")


@pytest.mark.parametrize("name", DEMO)
def test_a_job_file_comes_out_as_the_same_machine(name: str, workspace: Workspace, tmp_path: Path) -> None:
    with as_file(files("halfbore.demo").joinpath(name)) as path, workspace:
        done = import_job(workspace, path, "me")
        line = done.line
        assert done.batch is not None
        text = job_text(workspace, line)
        assert read_job_text(text).job == read_job(path).job
        again = tmp_path / "again.toml"
        again.write_text(text, encoding="utf-8")
        assert import_job(workspace, again, "me").batch is None


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
            line = import_job(other, path, "me").line
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
        line = import_job(workspace, path, "me").line
        kept = workspace.document(line)
        assert {"loads", "duty", "positions"} & set(kept) == set(MACHINES[name].given) & {"loads", "duty"}
        here, there = reading_of(workspace, line), read_completed(plate)
        assert replace(here.job, machine=there.job.machine) == there.job, "the plant has a name beside"
        assert import_job(workspace, path, "me").batch is None


@pytest.mark.slow  # one shaft line is worked out on the workspace's catalogues and on those beside its job file
def test_a_job_file_chooses_from_the_catalogues_of_its_workspace(
    made: DemoPlant, copied: Copied, tmp_path: Path
) -> None:
    out, line = tmp_path / "out", ("F3", "")
    with store.open(copied()) as workspace:
        kept = workspace.catalogues()
        write_catalogues(workspace, out)
        assert write_catalogues(workspace, out), "again changes nothing"
        (out / "F3.toml").write_text(job_text(workspace, line), encoding="utf-8")
        (here,) = run_lines(workspace, [line], ON, Stage.SELECT)
    reading = read_completed(plain_job(out / "F3.toml"))
    assert len(reading.job.catalogues) == len(kept) == 2
    assert not [a for a in reading.assumptions if a.path == "catalogues"]
    catalogues = [load_catalogue(name, out) for name in reading.job.catalogues]
    there = study(reading, catalogues, Stage.SELECT, ON)
    assert here.study is not None
    assert codes(here.study) == codes(there)
    with store.create(tmp_path / "other.halfbore", "other") as other:
        done = import_job(other, out / "F3.toml", "me")
        assert [(k.supplier, k.sha256) for k in done.catalogues] == [(k.supplier, k.sha256) for k in kept]
        assert import_job(other, out / "F3.toml", "me").left == ()
        assert job_text(other, line).count("catalogues/") == 2
    (out / reading.job.catalogues[0]).write_text("mended", encoding="utf-8")
    with (
        store.open(made.workspace) as workspace,
        pytest.raises(InputError, match="is not what the workspace holds"),
    ):
        write_catalogues(workspace, out)


def codes(found: Study) -> list[str | None]:
    """Return the chosen unit of each position."""
    return [p.choice.chosen.code if p.choice and p.choice.chosen else None for p in found.positions]


def test_demo_catalogues_that_a_job_names_stay_those_of_its_plant(workspace: Workspace) -> None:
    with workspace, as_file(files("halfbore.demo").joinpath("jobs/fan.toml")) as path:
        line = import_job(workspace, path, "me").line
        assert [c.supplier for c in catalogues_of(workspace)] == [
            load(n).supplier for n in ("first", "second")
        ]
        workspace.apply([Edit((), "catalogues", ["demo:first"])], "me", "set")
        assert import_job(workspace, path, "me").left == ("demo:second",)
        assert read_job_text(job_text(workspace, line)).job.catalogues == ("demo:first",)


def test_an_export_of_the_demo_plant_changes_nothing_when_it_comes_in_again(
    copied: Copied, tmp_path: Path
) -> None:
    with store.open(copied()) as workspace:
        write_catalogues(workspace, tmp_path)
        lines = lines_of(workspace)
        for line in lines:
            path = tmp_path / "line.toml"
            path.write_text(job_text(workspace, line), encoding="utf-8")
            done = import_job(workspace, path, "me")
            assert (done.line, done.batch, done.left) == (line, None, ())
        assert len(lines) == 11
