"""A large survey is read in bounded time and memory; bench/bench_survey.py measures it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from bench import bench_survey

from halfbore.intake.survey.read import read_survey

PART = 5
"""The test reads one part in so many of what the bench does."""


def test_a_large_survey_is_read_within_time_and_memory(tmp_path: Path) -> None:
    """Time of the processors, five times what is asked for: the test may share them with others."""
    path = tmp_path / "s.xlsx"
    mapping = bench_survey.write(path, bench_survey.ROWS // PART)
    before = bench_survey.processor_time()
    reading = read_survey(path, mapping)
    assert bench_survey.processor_time() - before < 5 * bench_survey.TIME_LIMIT / PART
    assert reading.rejects == ()
    assert len(reading.told) == 3 * reading.rows == 3 * bench_survey.ROWS // PART


def test_the_child_stays_small(tmp_path: Path) -> None:
    path = tmp_path / "s.xlsx"
    bench_survey.write(path, bench_survey.ROWS // PART)
    code = (
        "import re, resource, sys\nfrom pathlib import Path\nfrom halfbore.intake.book import read_book\n"
        "read_book(Path(sys.argv[1]))\n"
        # ru_maxrss of a process starts from its parent's, and the parent here is the whole test run
        "own = re.search(r'VmHWM:\\s+(\\d+)', Path('/proc/self/status').read_text())[1]\n"
        "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss, own)"
    )
    run = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True)
    assert 1024 * sum(map(int, run.stdout.split())) < bench_survey.MEMORY_LIMIT
