"""The demo and the proposal on disk: made once, opened the second time, the same file for the same day."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from halfbore.cli import demo
from halfbore.cli.main import main
from halfbore.demo.suppliers import SUPPLIERS

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def plant(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo") / "plant"
    demo.open_or_make(folder)
    return folder


@pytest.mark.slow  # three machines are worked out and set as documents, once for all tests here
def test_the_demo_holds_survey_workspace_catalogues_and_three_proposals(plant: Path) -> None:
    for name in ("fan", "head_shaft", "line_shaft"):
        assert (plant / f"{name}.toml").is_file()
    for name in ("ostrindale.halfbore", "ostrindale-survey.xlsx", "ostrindale-survey.mended.xlsx"):
        assert (plant / name).is_file()
    assert len(list((plant / "catalogues").glob("*.toml"))) == len(SUPPLIERS)
    proposals = sorted(plant.glob("*-proposal.pdf"))
    assert len(proposals) == 3
    for path in proposals:
        assert path.read_bytes().startswith(b"%PDF-")
        assert path.with_suffix(".xlsx").read_bytes().startswith(b"PK")


@pytest.mark.slow  # the plant is worked out again for the ranking
def test_the_second_time_it_is_opened_and_nothing_is_overwritten(
    plant: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job, proposal = plant / "fan.toml", next(plant.glob("*-proposal.pdf"))
    job.write_text(job.read_text(encoding="utf-8").replace("Kiln exhaust", "My own"), encoding="utf-8")
    proposal.write_bytes(b"mine")
    before = {p: p.stat().st_mtime_ns for p in plant.rglob("*") if ".halfbore" not in p.name}
    assert main(["demo", str(plant)]) == 0
    assert {p: p.stat().st_mtime_ns for p in plant.rglob("*") if ".halfbore" not in p.name} == before
    said = capsys.readouterr().out
    assert "opened; what was there is left as it was" in said
    assert "24 positions by worth" in said
    shown = re.findall(r"^\w\d-\w  .*$", README, re.MULTILINE)
    assert len(shown) == 7
    assert [row for row in shown if row not in said.splitlines()] == [], "README.md shows another ranking"
    assert f"  {proposal}" in said.splitlines()
    assert "What to try next" in said
    assert "invented" in said


def test_the_catalogues_of_the_demo_can_be_named_by_path(plant: Path, tmp_path: Path) -> None:
    job = tmp_path / "own.toml"
    mappings = ", ".join(f'"{path}"' for path in sorted((plant / "catalogues").glob("*.toml")))
    text = (plant / "head_shaft.toml").read_text(encoding="utf-8")
    lines = [
        f"catalogues = [{mappings}]" if line.startswith("catalogues") else line for line in text.splitlines()
    ]
    job.write_text("\n".join(lines), encoding="utf-8")
    assert main(["order", str(job)]) == 0


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("")
    assert main(["demo", str(tmp_path / "file")]) == 2
    assert "cannot be used" in capsys.readouterr().err


def test_the_same_job_and_date_give_the_same_files(
    plant: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = str(plant / "head_shaft.toml")
    for folder in ("a", "b"):
        arguments = [
            "write",
            "proposal",
            job,
            "--out",
            str(tmp_path / folder),
            "--date",
            "2026-03-09",
            "--xlsx",
        ]
        assert main(arguments) == 0
    assert "Written: " in capsys.readouterr().out
    for name in ("head_shaft-proposal.pdf", "head_shaft-proposal.xlsx"):
        one, other = ((tmp_path / folder / name).read_bytes() for folder in ("a", "b"))
        assert one == other


@pytest.mark.parametrize("day", ["9 March", "2026-02-30", "03/04/2025"])
def test_a_date_that_is_none_is_told(day: str, plant: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["write", "proposal", str(plant / "fan.toml"), "--date", day]) == 2
    assert "is no date" in capsys.readouterr().err


def test_a_place_that_cannot_be_written_is_told(
    plant: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("")
    assert main(["write", "proposal", str(plant / "head_shaft.toml"), "--out", str(tmp_path / "file")]) == 2
    assert "a folder is wanted" in capsys.readouterr().err
    assert main(["write", "proposal", str(plant / "head_shaft.toml"), "--out", str(tmp_path / "file/x")]) == 2
    assert "cannot be" in capsys.readouterr().err
