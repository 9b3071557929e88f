"""Job files spoiled at random, seeded: refused by place, or worked out in finite numbers; nothing else."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import fields
from datetime import date
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from halfbore.domain.shaftline import ShaftResponse
from halfbore.errors import InputError
from halfbore.intake.explain import explained
from halfbore.intake.jobfile import read_job, read_job_data, read_job_text
from halfbore.study import Stage, study
from tests.hardening.mutations import Data, spoiled, spoiled_text
from tests.hardening.thin import catalogues
from tests.samples_jobs import JOBS, data

ON = date(2026, 3, 2)
NAMES = ("fan", "head_shaft", "line_shaft")
BASE = {name: data(name) for name in NAMES}
SEEDS = range(210)
MAY_BE_UNKNOWN = ("growth", "temperature")
"""What the survey may leave open; everything else that the shaft line gives is a number."""


def _job(seed: int) -> tuple[Data, str]:
    return spoiled(BASE[NAMES[seed % len(NAMES)]], seed)


def _not_finite(response: ShaftResponse) -> Iterator[str]:
    parts: tuple[Any, ...] = (
        *response.reactions,
        *response.duties,
        *response.curves,
        *response.balances,
    )
    for part in parts:
        for field in fields(part):
            value = getattr(part, field.name)
            if isinstance(value, (float, np.ndarray)) and not np.isfinite(value).all():
                yield f"{type(part).__name__}.{field.name}"


@pytest.mark.parametrize("seed", SEEDS)
def test_a_spoiled_job_is_refused_by_place_or_worked_out_in_finite_numbers(seed: int) -> None:
    job, how = _job(seed)
    try:
        found = study(read_job_data(job), catalogues(), Stage.SELECT, ON)
    except InputError as refused:
        assert refused.exit_code == 2
        assert all(p.what and len(p.sentence()) < 4000 for p in refused.problems), how
        return
    odd = [name for name in _not_finite(found.response) if not any(m in name for m in MAY_BE_UNKNOWN)]
    assert not odd, how
    # What is left over is rounding, against the largest force of the machine.
    largest = max(np.hypot(r.y, r.z) for r in found.response.reactions) + 1.0
    assert all(b.force < 1e-6 * largest for b in found.response.balances), how
    assert found.sentence


@pytest.mark.parametrize("seed", range(0, len(SEEDS), 7))
def test_what_is_read_can_be_printed_and_read_again(seed: int) -> None:
    try:
        reading = read_job_data(_job(seed)[0])
    except InputError:
        return
    assert read_job_text(explained(reading)).job == reading.job


def test_the_spoiled_jobs_are_a_fair_mixture() -> None:
    refused = 0
    for seed in SEEDS:
        try:
            read_job_data(_job(seed)[0])
        except InputError:
            refused += 1
    assert len(SEEDS) / 3 < refused < len(SEEDS) * 0.85


@pytest.mark.parametrize("seed", range(60))
def test_a_spoiled_text_is_refused_or_read(seed: int) -> None:
    text = (JOBS / f"{NAMES[seed % len(NAMES)]}.toml").read_text(encoding="utf-8")
    try:
        read_job_text(spoiled_text(text, random.Random(seed)))
    except InputError as refused:
        assert all(p.what for p in refused.problems)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\x00",
        "title = 'a'\x00",
        f"title = {'9' * 5000}",
        f"title = 0x{'f' * 5000}",
        f"format = 0x{'f' * 5000}",
        f"title = {'[' * 3000}{']' * 3000}",
        f"positions = {'[' * 90}{']' * 90}",
        f"[a{'.a' * 3000}]\nb = 1",
        "a = 1\na = 2",
        "title = 2026-02-30",
        f"title = '''{'a' * 900_000}'''",
        f"duty = [{'{share = 0.1},' * 600}]",
    ],
)
def test_a_text_that_was_made_to_hurt_is_refused(text: str) -> None:
    with pytest.raises(InputError) as refused:
        read_job_text(text)
    assert len(str(refused.value)) < 20_000


@pytest.mark.parametrize(
    "content", [b"\xff\xfe\x00", b"title = \xfc", b"title = '" + b"x" * 1_100_000 + b"'"]
)
def test_a_file_that_is_no_text_or_too_large_is_refused_by_its_name(content: bytes, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_bytes(content)
    with pytest.raises(InputError, match=r"job\.toml"):
        read_job(tmp_path / "job.toml")


@pytest.mark.parametrize("mark", ["\x1b[2J", "\x07", "\u202e", "\x7f"])
def test_a_name_that_would_steer_a_terminal_is_refused(mark: str) -> None:
    job = data("fan")
    job["positions"][0]["name"] = f"F1-A{mark}"
    with pytest.raises(InputError, match="control character") as refused:
        read_job_data(job)
    assert mark not in str(refused.value)


def test_a_name_in_any_language_is_taken() -> None:
    job = data("fan")
    job["title"] = "Ventilátor pece č. 1 – 炉の送風機 – مروحة"
    assert read_job_data(job).job.title == job["title"]
