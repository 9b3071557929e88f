"""A study as documents read it: which positions are told in full, which one leads, how they are called."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from halfbore.documents.blocks import Badge, Cell, Run, breakable
from halfbore.domain.check import Finding, Verdict
from halfbore.domain.position import Position
from halfbore.domain.study import Decision, PositionStudy, Study
from halfbore.domain.unit import UnitTable
from halfbore.numbers import METRIC, Style
from halfbore.present.wording import invented_words, prose, tags

GOES_IN = (Decision.CONVERT, Decision.CONVERT_IF, Decision.HOLDS_IF, Decision.HOLDS)
"""Decisions that put a split unit in."""
TOLD = (*GOES_IN, Decision.NO_CLEAR_CASE)
"""Decisions that are told in full: a unit goes in, or somebody must decide whether it does."""
LONG_NAME = 16
"""Characters of a position's name from which its tag stands for it outside the tables."""


@dataclass(frozen=True)
class Subject:
    """One study with the style in which its numbers are written."""

    study: Study
    style: Style = METRIC

    @cached_property
    def tags(self) -> dict[str, str]:
        """The short tag of each position."""
        return tags([p.name for p in self.study.reading.job.positions])

    @cached_property
    def full(self) -> tuple[PositionStudy, ...]:
        """The positions that get a unit or might; where none does, the best of those for which there is one."""
        going = tuple(p for p in self.study.positions if p.decision in TOLD)
        known = [p for p in self.study.positions if p.choice is not None and p.choice.chosen is not None]
        return going or tuple(sorted(known, key=_saving)[-1:])

    @cached_property
    def short(self) -> tuple[PositionStudy, ...]:
        """The positions that take one row."""
        return tuple(p for p in self.study.positions if p not in self.full)

    @cached_property
    def lead(self) -> PositionStudy | None:
        """The position that page one speaks of: the one that saves most among those told in full."""
        return max(self.full, key=_saving, default=None)

    @cached_property
    def units(self) -> Mapping[str, UnitTable]:
        """The split units that go in, by position."""
        return {
            p.position: p.choice.chosen_unit
            for p in self.study.positions
            if p.decision in GOES_IN and p.choice is not None and p.choice.chosen_unit is not None
        }

    def position(self, name: str) -> Position:
        """Return the surveyed position of a name."""
        return next(p for p in self.study.reading.job.positions if p.name == name)

    @cached_property
    def long_names(self) -> dict[str, str]:
        """Names of positions that are too long for a line, with the tags that stand for them."""
        return {name: tag for name, tag in self.tags.items() if len(name) > LONG_NAME}

    def named(self, name: str) -> Cell:
        """Return a position with its badge; the badge alone stands for a long name."""
        badge = Badge(self.tags[name], name in self.units)
        return (badge,) if name in self.long_names else (badge, Run(prose(name), bold=True))

    def in_full(self, name: str) -> Cell:
        """Return a position with its badge and all of its name."""
        return (Badge(self.tags[name], name in self.units), Run(breakable(prose(name)), whole=True))

    @property
    def invented(self) -> str:
        """What of the study is made up, in a sentence; nothing where all is real."""
        suppliers = any(c.invented for c in self.study.provenance.catalogues)
        return invented_words(self.study.reading.job.invented, suppliers)


def _saving(p: PositionStudy) -> float:
    return p.value.saving.p50 if p.value is not None else float("-inf")


def counted_findings(p: PositionStudy) -> tuple[Finding, ...]:
    """Return the checks of the chosen unit that say something."""
    found = p.choice.findings if p.choice is not None else ()
    return tuple(f for f in found if f.verdict is not Verdict.NOT_APPLICABLE)


def nearest(p: PositionStudy, most: int = 3) -> tuple[Finding, ...]:
    """Return the checks that decide: past their limit first, then those nearest to it."""
    numeric = [f for f in counted_findings(p) if f.used is not None]
    open_ = [f for f in counted_findings(p) if f.verdict in (Verdict.OUTSIDE, Verdict.NO_DATA)]
    ranked = sorted(numeric, key=lambda f: (f.verdict is Verdict.HOLDS, -(f.used.high if f.used else 0.0)))
    return tuple([*open_, *ranked][:most])
