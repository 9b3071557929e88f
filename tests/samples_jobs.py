"""Small jobs for tests: a fan, and what a test wants to change in it."""

from __future__ import annotations

import copy
import tomllib
from pathlib import Path
from typing import Any

JOBS = Path(__file__).parent.parent / "src" / "halfbore" / "demo" / "jobs"


def data(name: str) -> dict[str, Any]:
    """Return a demo job as plain data that a test may change."""
    return copy.deepcopy(tomllib.loads((JOBS / f"{name}.toml").read_text()))


def simple(**changes: Any) -> dict[str, Any]:
    """Return a plain shaft of 100 mm on two bearings with one weight in the middle."""
    base: dict[str, Any] = {
        "format": 1,
        "title": "a test",
        "machine": {"name": "M", "kind": "plain shaft"},
        "shaft": {"segments": [{"length": "2000 mm", "diameter": "100 mm"}]},
        "loads": [{"kind": "point load", "name": "weight", "x": "1000 mm", "mass": "1000 kg"}],
        "positions": [
            {"name": "A", "x": "500 mm", "role": "locating", "seat": {"diameter": "99.98 mm to 99.99 mm"}},
            {
                "name": "B",
                "x": "1500 mm",
                "role": "non-locating",
                "seat": {"diameter": "99.98 mm to 99.99 mm"},
            },
        ],
        "duty": [{"name": "run", "share": 1.0, "speed": "300 r/min"}],
    }
    return base | changes
