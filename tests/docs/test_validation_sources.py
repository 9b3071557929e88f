"""The list of published sources names every source of the program and every validation test, and nothing that is gone."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LIST = (ROOT / "docs" / "validation-sources.md").read_text(encoding="utf-8")
OURS = {"GIVEN", "ESTIMATE", "COMMON_PRACTICE"}
"""Standings of what no document says."""


def _titles() -> set[str]:
    """Return the titles of all sources in the program that somebody published."""
    found = set()
    for path in (ROOT / "src" / "halfbore").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (
                isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Source"
            ):
                continue
            title = node.args[0] if node.args else None
            if isinstance(title, ast.Constant) and not any(f"Status.{o}" in ast.unparse(node) for o in OURS):
                found.add(str(title.value))
    return found - {"field life"}  # its standing is that of the life it tells of


def test_the_program_has_sources() -> None:
    assert len(_titles()) > 30


@pytest.mark.parametrize("title", sorted(_titles()))
def test_every_published_source_of_the_program_is_listed(title: str) -> None:
    assert title.partition(",")[0] in LIST


@pytest.mark.parametrize(
    "path", sorted((ROOT / "tests" / "validation").glob("test_*.py")), ids=lambda p: p.name
)
def test_every_validation_test_is_listed(path: Path) -> None:
    assert f"`{path.name}`" in LIST


def test_every_file_that_the_list_names_is_there() -> None:
    for name in set(re.findall(r"`([\w/]+\.py|tests/\w+)`", LIST)):
        places = [ROOT / name, ROOT / "src" / "halfbore" / name, ROOT / "tests" / "validation" / name]
        assert any(place.exists() for place in places), name
