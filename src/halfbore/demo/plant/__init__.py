"""The demo plant, Ostrindale Lime: ten machines, eleven shaft lines, a job file each. All of it is invented."""

from __future__ import annotations

from importlib.resources import files

NAME = "Ostrindale Lime (invented)"

LINES: dict[tuple[str, str], str] = {
    ("F1", ""): "jobs/fan.toml",
    ("F2", ""): "plant/f2.toml",
    ("F3", ""): "plant/f3.toml",
    ("C1", ""): "jobs/head_shaft.toml",
    ("E1", "head"): "plant/e1_head.toml",
    ("E1", "boot"): "plant/e1_boot.toml",
    ("L1", ""): "jobs/line_shaft.toml",
    ("H1", ""): "plant/h1.toml",
    ("S1", ""): "plant/s1.toml",
    ("T1", ""): "plant/t1.toml",
    ("K1", ""): "plant/k1.toml",
}
"""Tag of the machine and of the shaft line, empty where the machine has one only → its job file in the demo."""


def job_text(machine: str, line: str = "") -> str:
    """Return the job file of a shaft line of the demo plant as text; tags as in LINES."""
    return files("halfbore.demo").joinpath(LINES[machine, line]).read_text(encoding="utf-8")
