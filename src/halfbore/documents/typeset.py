"""Typst in a child process: a fresh root that holds the template and the data, and a time limit."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import date
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from halfbore.errors import HalfboreError, Problem
from halfbore.present.metrics import FONTS, legible

SECONDS = 30.0
"""Time that setting one document may take [s]."""
STANDARDS = "a-2a,ua-1"
"""Archival and accessible PDF: tagged, with words for every picture."""
_CHILD = """
import sys, datetime, typst
root, fonts, stamp, standards, details, most = sys.argv[1:7]
for detail in range(int(details)):
    with open(root + "/detail.json", "w") as file:
        file.write(str(detail))
    compiler = typst.Compiler(root + "/document.typ", root=root, font_paths=[fonts], ignore_system_fonts=True)
    if int(compiler.query("<pages>", field="value", one=True)) <= int(most):
        break
compiler.compile(
    output=root + "/document.pdf", format="pdf", pdf_standards=standards.split(","),
    timestamp=datetime.datetime.fromisoformat(stamp),
)
"""


def typeset(data: dict[str, Any], when: date, pages: int, template: str = "proposal") -> bytes:
    """Return the PDF of a document's data; the same data and date give the same bytes.

    data: what the template shows, with the pages behind the first in several details under "rest", fullest first;
    when: the date that the document bears; pages: at most, which the first detail that keeps to it decides;
    template: the name of the one that knows how it looks.
    Raises HalfboreError when the template refuses the data or the time is over.
    """
    with TemporaryDirectory(prefix="halfbore-") as folder:
        root = Path(folder)
        look = files("halfbore.documents").joinpath(f"{template}.typ").read_bytes()
        (root / "document.typ").write_bytes(look)
        (root / "data.json").write_text(json.dumps(_legible(data), ensure_ascii=False), encoding="utf-8")
        _compile(root, f"{when.isoformat()}T00:00:00+00:00", len(data["rest"]), pages)
        return (root / "document.pdf").read_bytes()


def _legible(data: Any) -> Any:
    """Return data whose texts the font can show; an archival document must not hold a letter without a shape."""
    if isinstance(data, str):
        return legible(data)
    if isinstance(data, list):
        return [_legible(item) for item in data]
    return {key: _legible(item) for key, item in data.items()} if isinstance(data, dict) else data


def _compile(root: Path, stamp: str, details: int, pages: int) -> None:
    given = [str(root), str(FONTS), stamp, STANDARDS, str(details), str(pages)]
    command = [sys.executable, "-I", "-c", _CHILD, *given]
    try:
        done = subprocess.run(command, capture_output=True, text=True, timeout=SECONDS, check=False)
    except subprocess.TimeoutExpired:
        raise HalfboreError(
            Problem(f"the document was not set within {SECONDS:.0f} s", next_step="try again")
        ) from None
    if done.returncode:
        last = done.stderr.strip().splitlines()[-1:] or ["no reason given"]
        raise HalfboreError(Problem(f"the document could not be set: {last[0]}"))
