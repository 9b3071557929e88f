"""Speed of the sweep, as ratios in one run: python bench/bench_sweep.py.

One position of each demo machine against 600 and against 60 000 units, all checks, by the package and by the plain loop
of `loop.py`. Both are first held against each other, unit by unit and check by check. The position is worked out once
for both, as it is when a job runs; the units are a new table each time, so that nothing is remembered.
"""

from __future__ import annotations

import dataclasses
import gc
import sys
import time
from collections.abc import Callable
from importlib.resources import as_file, files
from typing import Any

import numpy as np

from halfbore.demo import suppliers
from halfbore.domain.selection import Sweep
from halfbore.domain.unit import UnitTable, joined
from halfbore.intake.jobfile import read_job
from halfbore.selection.choose import choose
from halfbore.selection.need import Need
from halfbore.selection.sweep import sweep
from halfbore.shaftline.respond import respond
from loop import Row, sweep_loop, units_of
from loop_place import NAMES, place_of

POSITIONS = (("fan", 0), ("head_shaft", 0), ("line_shaft", 2))
REPEATS = {600: (40, 20), 60_000: (8, 3)}
"""Units → runs of the sweep and of the loop; the best of them counts."""
SWEEP_LIMIT, RATIO_LIMIT, CHOICE_LIMIT = 10.0, 12.0, 60.0
"""600 units take less than so many ms; the loop at least so many times as long; a choice less than so many ms."""


def main() -> int:
    """Compare, measure and print; 1 where a limit is missed."""
    units = joined([suppliers.load(name).units for name in ("first", "second")])
    ok = True
    print("| position | units | checks | sweep, ms | loop, ms | ratio |\n|---|--:|--:|--:|--:|--:|")
    for job, index in POSITIONS:
        need = position(job, index)
        for n, (fast, slow) in REPEATS.items():
            table = spread_over(units, n)
            rows, place = units_of(table), place_of(need)
            agree(sweep(need, table), sweep_loop(place, rows))
            quick = best(lambda need=need, table=table: sweep(need, dataclasses.replace(table)), fast)  # type: ignore[misc]
            plain = best(lambda place=place, rows=rows: sweep_loop(place, rows), slow)  # type: ignore[misc]
            name = need.position.name
            print(f"| {name} | {n} | {len(NAMES)} | {quick:.1f} | {plain:.0f} | {plain / quick:.0f} |")
            ok = ok and plain / quick >= RATIO_LIMIT and (n > 600 or quick < SWEEP_LIMIT)
        chosen = best(lambda need=need: choose(need, dataclasses.replace(units)), 10)  # type: ignore[misc]
        print(f"| {need.position.name} | {len(units)} | choice with its reasons | {chosen:.0f} | | |")
        ok = ok and chosen < CHOICE_LIMIT
    print(
        f"limits: {SWEEP_LIMIT:g} ms at 600, ratio {RATIO_LIMIT:g}, choice {CHOICE_LIMIT:g} ms: {'met' if ok else 'MISSED'}"
    )
    return 0 if ok else 1


def position(job: str, index: int) -> Need:
    """Return a position of a demo machine."""
    with as_file(files("halfbore.demo") / "jobs" / f"{job}.toml") as path:
        read = read_job(path).job
    return Need(read, index, respond(read).duties[index])


def spread_over(units: UnitTable, n: int) -> UnitTable:
    """Return n units: evenly out of all of them, or all of them over and over."""
    return units.take(
        np.linspace(0, len(units) - 1, n).astype(int) if n < len(units) else np.arange(n) % len(units)
    )


def agree(swept: Sweep, rows: list[Row]) -> None:
    """Refuse to time two that differ."""
    verdicts, good, bad, cost, left, right, group = (np.array(part) for part in zip(*rows, strict=True))
    np.testing.assert_array_equal(verdicts.T, swept.verdict)
    np.testing.assert_allclose(good.T, swept.good, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(bad.T, swept.bad, rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(cost, swept.cost)
    for ours, theirs in ((left, swept.seal_left), (right, swept.seal_right), (group, swept.clearance)):
        np.testing.assert_array_equal(ours, theirs)


def best(work: Callable[[], Any], repeats: int) -> float:
    """Return the shortest of several runs [ms]."""
    times = []
    gc.disable()  # the loop makes many small lists: collecting them is not what is measured
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    gc.enable()
    return 1000.0 * min(times)


if __name__ == "__main__":
    sys.exit(main())
