"""Write docs/validation.md from the comparisons of one whole test run; fail when the file was another one before.

Run by ./test.sh after all tests have passed. Rows are rounded so that two versions of a library give one file.
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from itertools import groupby
from pathlib import Path
from typing import Any

ROWS = Path(__file__).parent / ".validation"
TABLE = Path(__file__).parents[1] / "docs" / "validation.md"

COMPUTED = "computed"
READ, CONFIRMED, MEMORY = "read", "from memory, confirmed", "from memory"
SMALLEST = 1e-6
"""Below this part of the published value a difference is shown as 0."""

HEAD = """\
# Checked against the outside

The first line counts the values that the tests compare with a published one. *Read* values were read in the source
that is named; *confirmed* ones are remembered and agree with an independent check; values *from memory* are
remembered only, so that a slip of memory would not show. A difference is a part of the published value, or the
plain difference where that is zero; the tolerance is the one that the test holds, with the reason for it.
This file is written by `./test.sh`; nobody edits it.
"""
REGRESSION = """\
## Values that we computed ourselves

These hold the program to what it gave before, or to an independent computation of our own. They are no validation.
"""


def rows() -> list[dict[str, Any]]:
    """Return every comparison of the run, in an order that does not depend on it."""
    found = [json.loads(path.read_text(encoding="utf-8")) for path in ROWS.glob("*.json")]
    every = [{**row, "test": one["test"], "nr": i} for one in found for i, row in enumerate(one["rows"])]
    return sorted(every, key=lambda r: (r["source"], r["test"], r["nr"]))


def text_of(found: list[dict[str, Any]]) -> str:
    """Return the whole file."""
    count = Counter(row["status"] for row in found)
    first = (
        f"{count[READ]} read, {count[CONFIRMED]} confirmed, {count[MEMORY]} from memory; beside them "
        f"{count[COMPUTED]} computed by ourselves."
    )
    outside = [row for row in found if row["status"] != COMPUTED]
    own = [row for row in found if row["status"] == COMPUTED]
    return "\n".join([first, "", HEAD, *_tables(outside), REGRESSION, *_tables(own)])


def _tables(found: list[dict[str, Any]]) -> list[str]:
    lines = []
    for source, group in groupby(found, key=lambda row: row["source"]):
        lines += [
            f"### {source}",
            "",
            "| what | computed | published | difference | standing | tolerance | reason |",
            "|---|---|---|---|---|---|---|",
            *map(_row, group),
            "",
        ]
    return lines


def _row(row: dict[str, Any]) -> str:
    computed, published = row["computed"], row["published"]
    cells = (
        row["what"],
        f"{computed:.6g}",
        f"{published:.6g}",
        difference(computed, published),
        row["status"],
        row["tolerance"],
        row["why"],
    )
    return "| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |"


def difference(computed: float, published: float) -> str:
    """Return the difference as a part of the published value, or plain where that is zero."""
    gap = computed - published
    part = gap / abs(published) if published else gap
    return f"{part:+.0e}" if abs(part) >= SMALLEST else "0"


def main() -> int:
    """Write the file when it differs and say so."""
    found = rows()
    if not found:
        print(f"no comparisons in {ROWS}: run the whole test suite first")
        return 1
    text = text_of(found)
    if TABLE.exists() and TABLE.read_text(encoding="utf-8") == text:
        return 0
    TABLE.write_text(text, encoding="utf-8")
    print(f"{TABLE.name} did not match the tests; it is written again: look at it and commit it")
    return 1


if __name__ == "__main__":
    sys.exit(main())
