"""Speed of catalogue intake: python bench/bench_catalogue.py.

The second demo catalogue in one table, and taken apart into five sheets with three times its row sizes, 5832 units:
bearings, housings, supports, what locates, and combinations, joined by their keys again.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.hardening.plain_toml import dumped
from tests.intake.test_catalogue_tables import apart, workbook

from halfbore.demo import suppliers
from halfbore.intake.catalogue import read_catalogue
from halfbore.intake.proposal.propose import propose_catalogue

LIMIT = 3.0
"""Reading 5000 units from several tables takes less than so many seconds."""
BY_ROW_SIZE = ("units", "bearings", "inside")


def enlarged() -> tuple[dict[str, Any], dict[str, list[list[str]]]]:
    """Return mapping and tables with every row size three times."""
    data, tables = apart("second")
    data["scheme"] = {
        "form": "listed",
        "fixed": dict.fromkeys(("seal_left", "seal_right"), "packing") | {"clearance": "1"},
    }
    for name in BY_ROW_SIZE:
        heading, *rows = tables[name]
        tables[name] = [heading, *(_later(heading, row, step) for step in range(3) for row in rows)]
    return data, tables


def _later(heading: list[str], row: list[str], step: int) -> list[str]:
    """Return a row with a row size further up, and a code of its own."""
    changed = list(row)
    changed[heading.index("Unidad Fila")] = str(int(row[heading.index("Unidad Fila")]) + 3 * step)
    if "Unidad Clave" in heading:
        changed[heading.index("Unidad Clave")] += "x" * step
    return changed


def best(work: Callable[[], Any], repeats: int = 5) -> float:
    """Return the shortest time of several runs [s]."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Measure and print."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        suppliers.write_catalogues(folder)
        one = best(lambda: read_catalogue(folder / "tolvarden.toml"))
        csv = best(lambda: read_catalogue(folder / "quernvold.toml"))
        data, tables = enlarged()
        workbook(folder / "tolvarden.xlsx", tables)
        (folder / "five.toml").write_text(dumped(data), encoding="utf-8")
        units = len(read_catalogue(folder / "five.toml").catalogue.units)
        several = best(lambda: read_catalogue(folder / "five.toml"))
        proposed = best(lambda: propose_catalogue(folder / "tolvarden.xlsx"))
    print(f"3320 units, CSV, options in a column   {csv:6.2f} s")
    print(f"1944 units, XLSX, one table            {one:6.2f} s")
    print(f"{units} units, XLSX, five tables joined  {several:6.2f} s (limit {LIMIT:g} s)")
    print(f"a mapping proposed for 1944 units {proposed:6.2f} s")


if __name__ == "__main__":
    main()
