"""Who may import whom: the table of folders, the order of the floor, no circles, and the length of a module."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "src"

FLOOR = ("limits", "errors", "units", "numbers", "phrases", "sources", "working")
"""Each may import those before it."""

MAY_IMPORT = {
    "standards": "",
    "numerics": "",
    "domain": "",
    "mechanics": "standards numerics",
    "intake": "domain",
    "catalogue": "domain standards",
    "shaftline": "domain standards numerics mechanics",
    "selection": "domain standards numerics mechanics",
    "ordering": "domain",
    "changeover": "domain standards numerics",
    "value": "domain standards numerics",
    "estimate": "domain mechanics intake",
    "advice": "domain",
    "study": "domain advice shaftline selection ordering changeover value",
    "uncertain": "domain selection estimate",
    "narrowing": "domain advice study shaftline selection uncertain",
    "likely": "domain selection shaftline",
    "worked": "domain mechanics changeover value",
    "calc": "standards numerics domain mechanics intake catalogue shaftline selection ordering changeover value",
    "store": "domain",
    "present": "domain",
    "documents": "domain present",
    "demo": "domain standards intake catalogue",
    "workspace": "domain advice intake catalogue estimate study narrowing likely store present documents demo",
    "web": "domain intake catalogue estimate study narrowing worked calc store workspace present documents demo",
    "cli": "domain advice intake catalogue estimate study calc present documents demo narrowing store workspace estimate web",
}
"""Folder → folders that it may import, besides itself and the floor; `web` and `cli` never import the physics."""

LONGEST = 800
LONG = 400


def modules() -> dict[str, Path]:
    """Return every module by its dotted name."""
    found = {}
    for path in sorted(ROOT.rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


MODULES = modules()


def imported(path: Path) -> Iterator[str]:
    """Yield the modules of halfbore that a file imports, wherever in the file it does so."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name.split(".")[0] == "halfbore")
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name}: write the import out from halfbore"
            if (node.module or "").split(".")[0] == "halfbore":
                for alias in node.names:
                    inner = f"{node.module}.{alias.name}"
                    yield inner if inner in MODULES else str(node.module)


IMPORTS = {name: sorted(set(imported(path)) - {name}) for name, path in MODULES.items()}


def folder(name: str) -> str:
    """Return the folder of a module, or the module itself where it stands in none."""
    return name.split(".")[1] if "." in name else ""


def allowed(importer: str, wanted: str) -> bool:
    """Return whether one module may import another."""
    own, other = folder(importer), folder(wanted)
    if own in FLOOR:
        return other in FLOOR[: FLOOR.index(own)]
    return other in (own, "", *FLOOR, *MAY_IMPORT[own].split())


def test_every_folder_stands_in_the_table() -> None:
    assert {folder(name) for name in MODULES} <= {"", "__main__", *FLOOR, *MAY_IMPORT}


@pytest.mark.parametrize("name", [m for m in MODULES if folder(m) in (*FLOOR, *MAY_IMPORT)])
def test_a_module_imports_only_what_its_folder_may(name: str) -> None:
    assert [wanted for wanted in IMPORTS[name] if not allowed(name, wanted)] == []


def test_the_table_tells_apart() -> None:
    assert allowed("halfbore.mechanics.fan", "halfbore.standards.iso76_2006")
    assert not allowed("halfbore.mechanics.fan", "halfbore.domain.machine")
    assert not allowed("halfbore.cli.main", "halfbore.mechanics.fan")
    assert not allowed("halfbore.errors", "halfbore.units")


def test_no_circles() -> None:
    TopologicalSorter(IMPORTS).prepare()  # raises CycleError, which names the modules of a circle


def test_modules_are_short() -> None:
    lines = {name: len(path.read_text(encoding="utf-8").splitlines()) for name, path in MODULES.items()}
    assert {name: n for name, n in lines.items() if n > LONGEST} == {}
    assert sum(n >= LONG for n in lines.values()) <= len(lines) // 20, "most modules are under 400 lines"
