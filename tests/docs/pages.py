"""A page worked by hand: its sums with their printed results, and its jobs run through the program."""

from __future__ import annotations

import math
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from halfbore.domain.job import Job
from halfbore.domain.shaftline import Reaction, ShaftResponse
from halfbore.intake.jobfile import read_job_data
from halfbore.shaftline.lift import lift_at
from halfbore.shaftline.respond import respond

PAGES = Path(__file__).parents[2] / "docs" / "methods"
G = 9.80665
FUNCTIONS = {
    "sqrt": math.sqrt,
    "exp": math.exp,
    "log10": math.log10,
    "atan": math.atan,
    "hypot": math.hypot,
    "cosh": math.cosh,
    "sinh": math.sinh,
    "cos": math.cos,
    "sin": math.sin,
}


@dataclass(frozen=True)
class Step:
    """One line of a page: its sum and its result as printed."""

    sum: str
    printed: str

    @property
    def value(self) -> float:
        return float(self.printed.replace("−", "-"))

    @property
    def last_digit(self) -> float:
        """One unit in the last digit that is printed, and a little for the float that it becomes."""
        _, _, decimals = self.printed.partition(".")
        return 1.001 * 10.0 ** -len(decimals)

    def worked(self) -> float:
        """Return what the sum gives."""
        text = self.sum
        for sign, python in (("·", "*"), ("^", "**"), ("−", "-"), ("π", str(math.pi))):
            text = text.replace(sign, python)
        assert re.fullmatch(rf"(?:[\d\s.+*/(),-]|{'|'.join(FUNCTIONS)})+", text), text
        return float(eval(text, {"__builtins__": {}}, FUNCTIONS))


@cache
def page(name: str) -> str:
    return (PAGES / f"{name}.md").read_text(encoding="utf-8")


@cache
def steps(name: str) -> dict[str, Step]:
    rows = [
        [cell.strip() for cell in line.strip("|").split("|")]
        for line in page(name).splitlines()
        if line[:1] == "|"
    ]
    body = [row for row in rows if row[0] not in ("Step", "---")]
    found = {row[0]: Step(row[2], row[3].split()[0]) for row in body}
    assert len(found) == len(body), "a step stands twice"
    return found


def same(name: str, step: str, computed: float) -> None:
    """Hold what the program gives to what a page prints."""
    line = steps(name)[step]
    assert computed == pytest.approx(line.value, abs=line.last_digit)


class Machine:
    """A job of a page, run through the program."""

    def __init__(self, name: str, nth: int = 0) -> None:
        blocks = re.findall(r"```toml\n(.*?)```", page(name), re.DOTALL)
        self.data = tomllib.loads(blocks[nth])
        self.job: Job = read_job_data(self.data).job
        self.found: ShaftResponse = respond(self.job)

    def reaction(self, position: str, condition: int = 0) -> Reaction:
        wanted = (position, self.job.duty[condition].name)
        return next(r for r in self.found.reactions if (r.position, r.condition) == wanted)

    def size(self, position: str, condition: int = 0) -> float:
        """Return the likely size of a reaction [N]."""
        r = self.reaction(position, condition)
        return math.hypot(r.y, r.z)

    def load(self, name: str) -> tuple[float, float]:
        """Return the likely size of a load in the first condition and its couple in the upright plane [N, N·m]."""
        load = next(x for x in self.found.loads if x.name == name)
        size = np.hypot(load.force_y[0, 1], load.force_z[0, 1])
        return float(size), float(load.couple[0, 1, 0]) / 1000

    def end(self, name: str, end: int) -> float:
        """Return the size of a load at its low, likely or high end in the first condition [N]."""
        load = next(x for x in self.found.loads if x.name == name)
        return float(np.hypot(load.force_y[0, end], load.force_z[0, end]))

    def moment(self, x: float) -> float:
        """Return the size of the bending moment in both planes at a place in the first condition [N·m]."""
        curve = self.found.curves[0]
        return float(np.interp(x, curve.x, curve.moment)) / 1000

    def lifted(self, position: str, lift: float) -> tuple[float, float, dict[str, float]]:
        """Return force and height of the jack and what changes at the neighbours."""
        found = lift_at(self.job, self.found.loads, position, lift)
        return found.force, found.at_jack, {n.position: n.change for n in found.neighbours}
