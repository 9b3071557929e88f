"""Loads, reactions and checks of a machine as text."""

from __future__ import annotations

from collections.abc import Sequence

from halfbore.cli import show
from halfbore.cli.style import shown, written
from halfbore.domain.check import Finding, Sense, Verdict
from halfbore.domain.selection import Choice
from halfbore.domain.shaftline import AppliedLoad, ShaftResponse
from halfbore.domain.study import PositionStudy, Study
from halfbore.present.wording import axial_reaction, counted, life, reaction_direction, sentence
from halfbore.units import Kind, Span

MANY_TIMES = 3.0
"""From this part of a limit on, it is said how many times it is used."""
NEAREST = 4
"""Checks that hold and are named, those nearest to their limit first."""


def loads(found: Study) -> None:
    """Show what acts on the shaft, its reactions with direction, and what the balance leaves open."""
    response = found.response
    show.heading("What acts on the shaft, in the first condition")
    rows = [(x.name, written(x.x, Kind.LENGTH), _acting(x), str(x.source.status)) for x in response.loads]
    show.table(("load", "at x", "force", "standing"), rows, right=(1,))
    reactions(response)
    for path in response.paths:
        holders = " and ".join(path.holders) or "nothing"
        show.line(f"Towards {path.towards} the shaft is held by {holders}.")
    speed = written(response.first_critical_speed, Kind.SPEED)
    stress = written(response.max_stress, Kind.STRESS)
    show.line(
        f"First critical speed in bending {speed}; largest bending stress {stress}, without notch factor."
    )
    for balance in response.balances:
        left = f"{written(balance.force, Kind.FORCE)} and {written(balance.moment, Kind.TORQUE)}"
        show.line(f"Forces and moments of {balance.body} balance within {left}.")
    for note in response.notes:
        show.line(sentence(note))


def _acting(load: AppliedLoad) -> str:
    y, z, axial = load.force_y[0], load.force_z[0], load.axial[0]
    size = (y**2 + z**2) ** 0.5
    parts = []
    if size.any():
        parts.append(f"{written((size.min(), size.max()), Kind.FORCE)} {load.turned or load.direction}")
    if axial.any():
        parts.append(f"axial {written((axial.min(), axial.max()), Kind.FORCE)}")
    return "; ".join(parts) or "none"


def reactions(response: ShaftResponse) -> None:
    """Show the force of each support on the shaft, condition by condition."""
    show.heading("Force of each bearing on the shaft")
    rows = [
        (
            r.position,
            r.condition,
            written((r.low, r.high), Kind.FORCE),
            reaction_direction(r),
            axial_reaction(r, shown()),
        )
        for r in response.reactions
    ]
    show.table(("position", "condition", "radial", "direction", "axial"), rows, right=(2, 4))


def used(span: Span | None) -> str:
    """Return how much of a limit is used; far past it, how many times."""
    if span is None:
        return ""
    if span.high < MANY_TIMES:
        return f"{written(span, Kind.FRACTION)} of the limit"
    return f"{written(span, Kind.NUMBER)} times the limit"


def checks(position: PositionStudy) -> None:
    """Show every check of the chosen unit with its verdict, reason and sources."""
    choice = position.choice
    if choice is None:
        show.line(f"{position.position} {position.decision}: {position.because}.")
        return
    if choice.chosen is None:
        show.heading(f"{position.position}: {position.decision}")
        show.line(choice.sentence)
        without_unit(choice, brief=False)
        return
    show.heading(f"{position.position}: {choice.chosen.name}")
    for finding in choice.findings:
        _check(finding)


def without_unit(choice: Choice, brief: bool = True) -> None:
    """Show what is open where no unit is chosen, and how the nearest unit stands; brief: its checks as a table."""
    if choice.questions:
        show.line("Open questions, and how many units wait for each:")
        show.pairs((str(units), sentence(question)) for question, units in choice.questions)
    if choice.nearest is not None:
        show.line(f"The nearest unit is {choice.nearest.code}, {choice.nearest.name}:")
    if brief:
        check_table(choice.nearest_findings)
        return
    for finding in choice.nearest_findings:
        _check(finding)


def reason(finding: Finding) -> str:
    """Return why a check stands as it does; a life as the proposal writes it."""
    if finding.value is None or finding.kind is not Kind.DURATION or finding.sense is not Sense.AT_LEAST:
        return finding.reason
    wanted = f", {written(finding.limit, finding.kind)} wanted" if finding.limit else ""
    return f"lasts {life(finding.value, shown())}{wanted}"


def verdict(finding: Finding) -> str:
    """Return what a check says, and how much of its limit is used."""
    part = used(finding.used)
    return f"{finding.title}: {finding.verdict.word}" + (f", {part}" if part else "")


def _check(finding: Finding) -> None:
    show.line(verdict(finding))
    rows = [("", sentence(reason(finding)))]
    if finding.datum:
        rows.append(("", f"Missing: {finding.datum}."))
    rows += [("", f"{name}: {text}") for name, text in finding.details]
    rows += [("", f"Source: {source}") for source in finding.sources]
    show.pairs(rows)


def check_table(findings: Sequence[Finding]) -> None:
    """Show the checks in brief: what is not simply held with its reason, the rest by what is left."""
    held = [f for f in findings if f.verdict is Verdict.HOLDS]
    other = [f for f in findings if f.verdict not in (Verdict.HOLDS, Verdict.NOT_APPLICABLE)]
    if other:
        rows = [(f.check, f.verdict.word, used(f.used), reason(f)) for f in other]
        show.table(("check", "verdict", "used", "because"), rows)
    nearest = sorted(held, key=lambda f: -f.used.high if f.used else 0.0)[:NEAREST]
    parts = ", ".join(f"{f.check} {used(f.used)}" for f in nearest)
    if held:
        show.line(f"{counted(len(held), 'check holds', 'checks hold')}; most used: {parts}.")
