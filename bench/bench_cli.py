"""Speed of the command line, as ratios in one run: python bench/bench_cli.py.

`halfbore --help` against a bare `python -c pass`, and a whole run of the demo fan with its proposal once the caches of
the disk are warm.
"""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

HALFBORE = str(Path(sys.executable).with_name("halfbore"))
REPEATS = 15
HELP_LIMIT = 8.0
"""`--help` takes less than so many times a bare Python."""
RUN_LIMIT = 3.0
"""A whole run with its PDF takes less than so many seconds."""


def best(*command: str, repeats: int = REPEATS) -> float:
    """Return the shortest time of several runs of a command [s]."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Measure and print."""
    bare, asked = best(sys.executable, "-c", "pass"), best(HALFBORE, "--help")
    listed = best(HALFBORE, "calc", "--list", repeats=5)
    print(f"python -c pass         {1000 * bare:7.0f} ms")
    print(f"halfbore --help        {1000 * asked:7.0f} ms, {asked / bare:.1f} times (limit {HELP_LIMIT:g})")
    print(f"halfbore calc --list   {1000 * listed:7.0f} ms, {listed / bare:.1f} times")
    with TemporaryDirectory() as folder:
        subprocess.run([HALFBORE, "demo", folder], check=True, capture_output=True)
        job = f"{folder}/fan.toml"
        pdf = best(HALFBORE, "run", job, "--out", folder, repeats=5)
        no_pdf = best(HALFBORE, "run", job, "--no-pdf", repeats=5)
        loads = best(HALFBORE, "loads", job, repeats=5)
    print(f"halfbore loads fan     {loads:7.2f} s")
    print(f"halfbore run --no-pdf  {no_pdf:7.2f} s")
    print(f"halfbore run with PDF  {pdf:7.2f} s (limit {RUN_LIMIT:g} s)")


if __name__ == "__main__":
    main()
