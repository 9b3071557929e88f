"""What is said where no unit is chosen: which questions keep units of the bore open, and what turned others away."""

from __future__ import annotations

import re
from collections import Counter

import numpy as np

from halfbore.domain.selection import Sweep
from halfbore.phrases import phrase, size
from halfbore.selection.check import Mask
from halfbore.selection.checks import root_cause
from halfbore.selection.checks.bore_and_seat import SAME_SIZE
from halfbore.selection.missing import parts_of
from halfbore.selection.need import Need
from halfbore.selection.standing import ASKS, firsts, is_open, of_the_bore, told

MOST = 3
"""Checks and questions that a sentence names."""
_FROM = re.compile(r"(?P<what>.*), from the (?P<who>supplier|site)(?P<rest>.*)")


def questions(need: Need, found: Sweep) -> tuple[tuple[str, int], ...]:
    """Return what to ask for, with the number of open units that it keeps from the choice, most units first."""
    asked = Counter[str]()
    for row in np.flatnonzero(is_open(found)).tolist():
        asked.update(_asked(need, found, row))
    return tuple(sorted(asked.items(), key=lambda item: (-item[1], item[0])))


def _asked(need: Need, found: Sweep, row: int) -> set[str]:
    """Return what one unit is open for; the root cause asks for nothing that its cures do not ask for."""
    unit = found.units.row(row)
    checks = np.flatnonzero(np.isin(found.verdict[:, row], ASKS)).tolist()
    own = [i for i in checks if found.checks[i] != root_cause.CHECK.name] or checks
    findings = (told(need, found, row, unit, i) for i in own)
    texts = [part for f in findings for part in parts_of(f.datum or f.reason)]
    return {_request(text, str(unit.supplier[0])) for text in texts}


def _request(datum: str, supplier: str) -> str:
    """Return a datum that is missing as what to do about it."""
    match = _FROM.fullmatch(datum)
    if match is None:
        return datum
    what = match["what"]
    bare = what.startswith(("what ", "a ", "the "))
    verb = f"ask {supplier} for" if match["who"] == "supplier" else "settle" if bare else "survey"
    return f"{verb} {what if bare else f'the {what}'}{match['rest']}"


def sentence(need: Need, found: Sweep, asked: tuple[tuple[str, int], ...]) -> str:
    """Return why no unit is chosen, of the units of this bore: what would settle those that are open comes first."""
    start = f"No unit holds at {need.position.name}"
    right = of_the_bore(need, found)
    count = int(right.sum())
    if not count:
        return f"{start}: the catalogues hold none."
    bore = float(found.units.bore[right][0])
    if abs(bore - need.nominal) > SAME_SIZE:
        none = f"{start}: none of {len(found.units)}"
        return phrase("{} has a bore of {}, the nearest has {}.", none, size(need.nominal), size(bore))
    open_here = is_open(found) & right
    away = _away(found, right & ~open_here)
    if not open_here.any():
        return f"{start}: of {count} with this bore, {away}."
    waiting = f"Not decided at {need.position.name}: of {count} with this bore, {_waiting(int(open_here.sum()), asked)}"
    return f"{waiting} {away[0].upper()}{away[1:]}." if away else waiting


def _away(found: Sweep, those: Mask) -> str:
    """Return which checks turn units away, and how many each."""
    failed = Counter(firsts(found.verdict[:, those]).tolist()).most_common(MOST)
    return ", ".join(
        f"{found.checks[i]} turns {n} away" if k == 0 else f"{found.checks[i]} {n}"
        for k, (i, n) in enumerate(failed)
    )


def _waiting(count: int, asked: tuple[tuple[str, int], ...]) -> str:
    """Return how many units are open and what they wait for."""
    wait = "1 is" if count == 1 else f"{count} are"
    return (
        f"{wait} open until a question is settled: {'; '.join(f'{text} ({n})' for text, n in asked[:MOST])}."
    )
