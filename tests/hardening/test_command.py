"""Spoiled files through the command itself: exit code 2, no traceback, one shape of error."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from halfbore.demo import suppliers
from halfbore.errors import InputError
from halfbore.intake.jobfile import read_job_data
from tests.hardening.mutations import Data, spoiled
from tests.hardening.plain_toml import dumped
from tests.samples_jobs import JOBS, data

HALFBORE = Path(sys.executable).with_name("halfbore")
STAGES = ("loads", "select", "order", "run")


def halfbore(*arguments: str | Path, folder: Path) -> subprocess.CompletedProcess[str]:
    command = [str(HALFBORE), *map(str, arguments)]
    return subprocess.run(
        command, capture_output=True, text=True, timeout=60, cwd=folder, env=os.environ | {"COLUMNS": "200"}
    )


def _refused_job(seed: int) -> Data:
    """Return the first job from this seed on that cannot be read."""
    while True:
        job, _ = spoiled(data("fan"), seed)
        try:
            read_job_data(job)
        except InputError:
            return job
        seed += 1


@pytest.mark.parametrize("stage", STAGES)
def test_a_spoiled_job_ends_with_2_and_a_sentence(stage: str, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(dumped(_refused_job(100 * STAGES.index(stage))), encoding="utf-8")
    done = halfbore(stage, "job.toml", folder=tmp_path)
    assert done.returncode == 2
    assert done.stderr.startswith("halfbore: ")
    assert "Traceback" not in done.stderr + done.stdout
    assert "fault of the program" not in done.stderr
    assert done.stdout == ""


@pytest.mark.parametrize(
    "write",
    [
        lambda _: None,
        lambda path: path.mkdir(),
        lambda path: path.write_bytes(b"\xff\xfe\x00"),
    ],
)
def test_a_file_that_is_no_job_ends_with_2(write: Callable[[Path], object], tmp_path: Path) -> None:
    write(tmp_path / "job.toml")
    done = halfbore("loads", "job.toml", folder=tmp_path)
    assert done.returncode == 2
    assert "job.toml" in done.stderr
    assert "Traceback" not in done.stderr


def test_with_json_the_error_is_one_document_of_one_shape(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(dumped(_refused_job(5)), encoding="utf-8")
    done = halfbore("run", "job.toml", "--json", folder=tmp_path)
    assert done.returncode == 2
    told = json.loads(done.stdout)
    assert told["error"] == "input"
    assert all(
        set(p) == {"what", "where", "value", "accepted", "next_step"} and p["what"] for p in told["problems"]
    )


def test_a_reader_that_goes_away_leaves_no_traceback(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("title = 1")
    command = f"'{HALFBORE}' loads job.toml --json | head -c 10"
    done = subprocess.run(["sh", "-c", command], capture_output=True, text=True, cwd=tmp_path, timeout=60)
    assert "Traceback" not in done.stderr
    assert "Exception ignored" not in done.stderr


def test_a_spoiled_catalogue_is_named_by_sheet_row_and_column(tmp_path: Path) -> None:
    suppliers.write_catalogues(tmp_path)
    table = tmp_path / "quernvold.csv"
    lines = table.read_text(encoding="utf-8").splitlines(keepends=True)
    lines[4] = lines[4].replace(",", ",approx ", 3)
    table.write_text("".join(lines), encoding="utf-8")
    job = (JOBS / "fan.toml").read_text(encoding="utf-8")
    named = job.replace('["demo:first", "demo:second"]', '["quernvold.toml"]')
    assert named != job
    (tmp_path / "job.toml").write_text(named, encoding="utf-8")
    done = halfbore("select", "job.toml", folder=tmp_path)
    assert done.returncode == 2
    assert "quernvold.csv, row 5, column 'Seat mm'" in done.stderr
    assert "Traceback" not in done.stderr


def test_where_nothing_holds_the_answer_is_no_and_required_is_3(tmp_path: Path) -> None:
    job = data("fan")
    job["positions"][0]["seat"]["diameter"] = "159.4 mm"
    (tmp_path / "job.toml").write_text(dumped(job), encoding="utf-8")
    assert halfbore("select", "job.toml", folder=tmp_path).returncode == 0
    required = halfbore("select", "job.toml", "--require", folder=tmp_path)
    assert required.returncode == 3
    assert "F1-A" in required.stderr
