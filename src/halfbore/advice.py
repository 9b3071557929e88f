"""What is advised at a position, what a measurement may still turn round, and the answer in one sentence."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from halfbore.domain.check import Finding, Verdict
from halfbore.domain.estimate import Narrowing
from halfbore.domain.order import SHOWN, Answer, AnswerState, Order
from halfbore.domain.selection import Choice
from halfbore.domain.study import Decision, PositionStudy, Study
from halfbore.domain.value import Value
from halfbore.numbers import runs
from halfbore.phrases import listed, phrase

CLEAR = 0.65
"""Chance that it pays, or that it does not, from which the answer is clear: common practice, no source."""

NOT_SETTLED = "the root cause is not settled"
NOT_SHOWN = "it is not shown yet that the unit holds"
"""What keeps an order from being sent although a unit holds."""


_SAID = {
    Decision.CONVERT: "convert {} to a split unit",
    Decision.CONVERT_IF: "convert {} once it is shown that the unit holds",
    Decision.SETTLE_FIRST: "settle the root cause at {} before any bearing is bought",
    Decision.NO_CLEAR_CASE: "at {} money alone makes no clear case",
    Decision.DOES_NOT_PAY: "at {} a split unit does not pay",
    Decision.WAITS: "at {} a question is open before a unit can be chosen",
    Decision.NO_UNIT: "at {} no unit holds as it stands",
    Decision.HOLDS_IF: "at {} a split unit holds once that is shown",
    Decision.HOLDS: "a split unit holds at {}",
}


def advised(choice: Choice, value: Value | None, unpriced: str) -> tuple[Decision, str]:
    """Return what is advised where a unit was looked for, and why.

    choice: of the position; value: what the conversion is worth, None where it was not worked out; unpriced: why not.
    """
    if choice.chosen is None:
        return Decision.WAITS if choice.open else Decision.NO_UNIT, choice.sentence
    if cured(choice.findings) is False:
        return Decision.SETTLE_FIRST, finding(choice.findings, "root cause").reason
    if value is None:
        return Decision.HOLDS, phrase("{} {}", choice.sentence, unpriced) if unpriced else choice.sentence
    if 1.0 - CLEAR < value.chance < CLEAR:
        pays = f"it pays in {runs(value.chance)}"
        return Decision.NO_CLEAR_CASE, f"Money alone makes no clear case at {value.position}: {pays}."
    return Decision.CONVERT if value.saving.p50 > 0 else Decision.DOES_NOT_PAY, value.sentence


def finding(findings: Iterable[Finding], check: str) -> Finding:
    """Return what one check found."""
    return next(f for f in findings if f.check == check)


def cured(findings: Iterable[Finding]) -> bool | None:
    """Return whether the unit cures what ended the last bearing; None where nobody knows."""
    found = finding(findings, "root cause")
    if found.verdict is Verdict.NOT_APPLICABLE:
        return None
    return found.used is not None and found.used.high <= 1.0


def held_back(order: Order | None, why: str) -> Order | None:
    """Return an order that is not to be sent, with the reason; the first reason stands."""
    if order is None or order.held_back:
        return order
    return replace(order, ready=False, held_back=why)


def conditioned(found: Study, narrowings: Iterable[Narrowing]) -> Study:
    """Return a study in which nothing is bought before what may still turn its unit away is measured or answered.

    found: a study; narrowings: what to measure and to settle, what matters most first.
    """
    doubts: dict[str, list[Narrowing]] = {}
    for narrowing in narrowings:
        if narrowing.fails:
            doubts.setdefault(narrowing.position, []).append(narrowing)
    positions = tuple(
        _once_shown(p, doubts[p.position]) if p.position in doubts else p for p in found.positions
    )
    return replace(found, positions=positions, sentence=sentence(positions) if positions else found.sentence)


def _once_shown(found: PositionStudy, doubts: Sequence[Narrowing]) -> PositionStudy:
    held = replace(found, order=_asking(held_back(found.order, NOT_SHOWN), doubts), first=doubts[0].words)
    because = phrase(
        "{}. At the bad end the unit does not hold. If it does: {}", doubts[0].words, found.because
    )
    return replace(held, decision=_ONCE[found.decision], because=because) if found.decision in _ONCE else held


_ONCE = {Decision.CONVERT: Decision.CONVERT_IF, Decision.HOLDS: Decision.HOLDS_IF}
"""What is advised → the same where it is still to be shown that the unit holds."""


def at_a_glance(position: str, choice: Choice | None, doubt: str) -> PositionStudy:
    """Return what may be said of a unit before it is worked out what to measure: never more than afterwards.

    position: its name; choice: of the unit, None where the job keeps the bearing; doubt: the measurement that may
    turn it away as it was last worked out, empty where there was none.
    """
    if choice is None:
        return PositionStudy(position, Decision.KEEP, "as the job says", None, None, None, None, None)
    decision, because = advised(choice, None, "")
    found = PositionStudy(position, decision, because, choice, None, None, None, None)
    first = doubt or _left_open(choice.findings) if choice.chosen else ""
    if not first or decision not in _ONCE:
        return replace(found, first=first)
    return replace(found, decision=_ONCE[decision], first=first, because=phrase("{}. {}", first, because))


def _left_open(findings: Iterable[Finding]) -> str:
    """Return which check a measurement could still turn round; empty where every range keeps well within its limit."""
    wide = [
        f for f in findings if f.in_doubt or (f.verdict is Verdict.TIGHT and not (f.used and f.used.exact))
    ]
    first = min(wide, key=lambda f: not f.in_doubt, default=None)
    return f"What is not known yet leaves “{first.check}” open" if first else ""


def _asking(order: Order | None, doubts: Sequence[Narrowing]) -> Order | None:
    """Return an order with what must be shown before it is sent among its open questions."""
    if order is None:
        return None
    open_ones = (Answer(SHOWN, d.words, AnswerState.OPEN, (d.path,) if d.path else ()) for d in doubts)
    return replace(order, answers=(*order.answers, *open_ones))


def sentence(positions: Iterable[PositionStudy]) -> str:
    """Return the answer for the positions of a machine in one sentence."""
    groups: dict[Decision, list[str]] = {}
    for p in positions:
        groups.setdefault(p.decision, []).append(p.position)
    text = "; ".join(_said(d, groups[d]) for d in Decision if d in groups)
    return f"{text[0].upper()}{text[1:]}."


def _said(decision: Decision, names: Sequence[str]) -> str:
    if decision is Decision.KEEP:
        return f"{listed(names)} {'keeps its' if len(names) == 1 else 'keep their'} bearing"
    return _SAID[decision].format(listed(names))
