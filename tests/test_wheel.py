"""The built wheel in a bare environment: a missing dependency or a file left out of the package shows here."""

from __future__ import annotations

import json
import subprocess
import sys
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
IMPORT_ALL = """
import importlib, pkgutil, sys, halfbore
for info in pkgutil.walk_packages(halfbore.__path__, "halfbore."):
    if not info.name.endswith("__main__"):
        importlib.import_module(info.name)
assert "site-packages" in halfbore.__file__, halfbore.__file__
print(all(getattr(halfbore, name) for name in halfbore.__all__))
"""
COPY_JOB = """
from importlib.resources import files
from pathlib import Path
Path("fan.toml").write_bytes(files("halfbore.demo").joinpath("jobs", "fan.toml").read_bytes())
"""
RUN_DEMO = """
from pathlib import Path
import halfbore, importlib.resources
job = importlib.resources.files("halfbore.demo") / "jobs" / "fan.toml"
reading = halfbore.read_job(Path(str(job)))
catalogues = [halfbore.load_catalogue(name, Path()) for name in reading.job.catalogues]
print(sum(len(c.units) for c in catalogues))
"""


def run(*command: str | Path, cwd: Path) -> str:
    done = subprocess.run(list(map(str, command)), cwd=cwd, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return an environment that holds the wheel and what it declares to need, and nothing else."""
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, ROOT, cwd=folder)
    (wheel,) = folder.glob("*.whl")
    home = folder / "venv"
    uv = Path(sys.executable).with_name("uv")
    venv.create(home, with_pip=not uv.exists())
    python = home / "bin" / "python"
    pins = ("--constraint", ROOT / "requirements.txt")
    if uv.exists():
        install = [uv, "pip", "install", "--quiet", "--python", python, *pins, wheel]
        cached = subprocess.run([*map(str, install), "--offline"], capture_output=True)
        if cached.returncode:
            run(*install, cwd=folder)
    else:
        plain = folder / "pins.txt"  # pip wants a hash of the wheel as well where the pins have hashes
        names = [line.split(" \\")[0] for line in pins[1].read_text().splitlines() if line[:1].isalpha()]
        plain.write_text("\n".join(names))
        run(python, "-m", "pip", "install", "--quiet", "--constraint", plain, wheel, cwd=folder)
    return home / "bin"


def test_the_version_and_a_calculation(bare: Path, tmp_path: Path) -> None:
    assert run(bare / "halfbore", "--version", cwd=tmp_path).startswith("halfbore ")
    given = ("C_r=200 kN", "P_r=20 kN")
    answer = json.loads(run(bare / "halfbore", "calc", "rating-life", *given, "--json", cwd=tmp_path))
    assert answer["result"]["L_10"]["value"] == pytest.approx(10 ** (10 / 3))


def test_every_module_loads(bare: Path, tmp_path: Path) -> None:
    assert run(bare / "python", "-I", "-c", IMPORT_ALL, cwd=tmp_path) == "True\n"


def test_a_proposal_is_written(bare: Path, tmp_path: Path) -> None:
    """Template, fonts and the demo's job files are in the package."""
    run(bare / "python", "-I", "-c", COPY_JOB, cwd=tmp_path)
    run(bare / "halfbore", "write", "proposal", "fan.toml", "--xlsx", cwd=tmp_path)
    assert (tmp_path / "fan-proposal.pdf").read_bytes().startswith(b"%PDF-")
    assert (tmp_path / "fan-proposal.xlsx").stat().st_size > 1000


def test_the_data_of_the_demo_is_in_the_package(bare: Path, tmp_path: Path) -> None:
    assert int(run(bare / "python", "-I", "-c", RUN_DEMO, cwd=tmp_path)) > 600
