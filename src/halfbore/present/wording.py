"""The words around the numbers: verdicts, source marks, directions, chances, dates, lists."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from datetime import date
from enum import StrEnum
from itertools import pairwise

from halfbore.domain.check import Finding, Sense, Verdict
from halfbore.domain.shaftline import Reaction
from halfbore.numbers import METRIC, MINUS, NO_BREAK, THIN, Style, is_known, number, write
from halfbore.phrases import in_style
from halfbore.present.labels import cut
from halfbore.present.metrics import text_width
from halfbore.sources import Source, Status
from halfbore.units import Kind, Span

TIGHT_FROM = 0.9
"""Part of a limit from which a check is tight unless it says otherwise."""
CALCULATION_AID = (
    "This is a calculation aid. The supplier and the responsible engineer confirm the selection before anything "
    "is ordered or opened."
)
SITE_RULES = (
    "The site's lockout procedure, local codes, the supplier's instructions and licensed practice come first."
)
INVENTED = "Demo data: plant, people, prices and suppliers are invented."
PLANT_INVENTED = "Demo data: plant and people are invented."
SUPPLIERS_INVENTED = "Supplier data invented: units, ratings, prices and lead times are no real supplier's."


class Mark(StrEnum):
    """How well a number is founded: a filled, a half filled or an empty square beside it."""

    PUBLISHED = "published"
    MEMORY = "memory"
    PRACTICE = "practice"

    @property
    def word(self) -> str:
        """The mark in words, as it stands beside its first use on a page."""
        return _MARK_WORDS[self]


_MARK_WORDS = {
    Mark.PUBLISHED: "published, measured or derived",
    Mark.MEMORY: "from memory, to be read in its source",
    Mark.PRACTICE: "common practice or estimate",
}
_MARKS = {
    Status.PUBLISHED: Mark.PUBLISHED,
    Status.GIVEN: Mark.PUBLISHED,
    Status.DERIVED: Mark.PUBLISHED,
    Status.FROM_MEMORY: Mark.MEMORY,
    Status.COMMON_PRACTICE: Mark.PRACTICE,
    Status.ESTIMATE: Mark.PRACTICE,
}
_VERDICT_NOTES = {
    Verdict.HOLDS: "up to 90 % of the limit used",
    Verdict.TIGHT: "over 90 % used, or past the limit somewhere in the given ranges",
    Verdict.FAILS: "past the limit",
    Verdict.OUTSIDE: "no number: the method does not reach there",
    Verdict.NO_DATA: "no number: something is not known",
    Verdict.NOT_APPLICABLE: "nothing to check here",
}


def invented_words(plant: bool, suppliers: bool) -> str:
    """Return what is made up, nothing where all is real; plant: machine and people; suppliers: catalogues."""
    if plant and suppliers:
        return INVENTED
    return PLANT_INVENTED if plant else SUPPLIERS_INVENTED if suppliers else ""


def verdict_note(verdict: Verdict) -> str:
    """Return what a verdict means."""
    return _VERDICT_NOTES[verdict]


def mark_of(source: Source) -> Mark:
    """Return the mark of one source."""
    return _MARKS[source.status]


def weakest(sources: Iterable[Source]) -> Mark:
    """Return the mark of the weakest of several sources: a result is no better founded than that."""
    order = list(Mark)
    return max((mark_of(s) for s in sources), key=order.index, default=Mark.PUBLISHED)


def cited(source: Source) -> str:
    """Return a source as it stands in a table, without its status, which the mark says."""
    return f"{source.title}, {source.place}" if source.place else source.title


_HANGING = re.compile(r"(?:[\s,;:(]+|\s(?:a|an|the|of|in|on|to|with|and|as|under|is|which|from|by)|\s\S+'s)$")


def short_source(words: str, width: float, size: float) -> str:
    """Return a source in one line: as many of its words as fit, never a part of one, never one that hangs.

    width: at most [pt or px]; size: of the letters in the same unit. One word that is too long ends in …
    """
    kept = words
    while text_width(kept, size) > width and " " in kept:
        kept = kept.rpartition(" ")[0]
        while (less := _HANGING.sub("", kept)) and less != kept:
            kept = less
    return cut(kept, width, size)


def limit_of(finding: Finding, style: Style = METRIC) -> str:
    """Return the limit of a check with its sense, or nothing where it has none."""
    if not is_known(finding.limit):
        return ""
    step = _telling_step(finding)
    bound = write(finding.limit, finding.kind, style, beside=finding.value, resolution=step)
    words = {**dict.fromkeys(_ZONES, "within"), **dict.fromkeys(_NEEDS, "allowed")}
    return f"{words.get(finding.check, finding.sense.value)}{NO_BREAK}{bound}"


def value_of(finding: Finding, style: Style = METRIC) -> str:
    """Return what a check found, or nothing where it found no number."""
    if finding.value is None:
        return ""
    if finding.kind is Kind.DURATION and finding.sense is Sense.AT_LEAST:
        return life(finding.value, style)
    words = write(finding.value, finding.kind, style, beside=finding.limit, resolution=_telling_step(finding))
    return f"needs {words}" if finding.check in _NEEDS else words


LIFE_CAP = 1e6
"""Beyond this a life says nothing more [h]."""


def life(hours: Span, style: Style = METRIC) -> str:
    """Return a life; past a million hours it is said to be more, and no false digit follows."""
    most = write(LIFE_CAP, Kind.DURATION, style)
    if hours.low >= LIFE_CAP:
        return f"over{NO_BREAK}{most}"
    if hours.high <= LIFE_CAP:
        return write(hours, Kind.DURATION, style)
    return f"{write(hours.low, Kind.DURATION, style, beside=LIFE_CAP, bare=True)} to over {most}"


_ZONES = ("bore and seat",)
"""Checks whose limit is a tolerance zone."""
_NEEDS = ("lift and entry",)
"""Checks that hold what the work needs against what is allowed; past that it costs hours, and no unit fails."""


def is_exceeded(finding: Finding) -> bool:
    """Return whether what a check finds is past its limit although no unit fails by it."""
    value, limit = finding.value, finding.limit
    return finding.check in _NEEDS and value is not None and limit is not None and value.high > limit.low


def _telling_step(finding: Finding) -> float:
    """Return a resolution [mm] that tells close lengths apart, 0 where the usual one does."""
    ends = sorted({end for span in (finding.value, finding.limit) if span for end in (span.low, span.high)})
    gaps = [b - a for a, b in pairwise(ends) if b - a > 1e-6]
    if finding.kind is not Kind.LENGTH or not gaps or min(gaps) > 0.01 * ends[-1]:
        return 0.0
    return float(max(10.0 ** math.floor(math.log10(min(gaps) / 2.0)), 0.001))


_COMPASS = (("up", 1.0, 0.0), ("right", 0.0, 1.0), ("down", -1.0, 0.0), ("left", 0.0, -1.0))


def direction(y: float, z: float) -> str:
    """Return the direction of a force seen from the drive end: a word, with degrees where it leans.

    y: upwards; z: to the right [same unit].
    """
    if math.hypot(y, z) == 0.0:
        return "no direction"
    nearest = max(_COMPASS, key=lambda d: d[1] * y + d[2] * z)
    along = nearest[1] * y + nearest[2] * z
    across = math.hypot(y, z) ** 2 - along**2
    lean = math.degrees(math.atan2(math.sqrt(max(across, 0.0)), along))
    if lean < 1.0:
        return nearest[0]
    side = max(
        (d for d in _COMPASS if d[1] * nearest[1] + d[2] * nearest[2] == 0), key=lambda d: d[1] * y + d[2] * z
    )
    return f"{nearest[0]}, {number(lean)}° {side[0]}"


ANY_WAY = "any direction"


def reaction_direction(reaction: Reaction) -> str:
    """Return the direction of a reaction, and how far it may lie to either side of that."""
    if reaction.high <= 0.0:
        return "no direction"
    if reaction.spread >= math.pi / 2:
        return ANY_WAY
    degrees = math.degrees(reaction.spread)
    within = f" ± {number(degrees, 2)}°" if degrees >= 1.0 else ""
    return f"{direction(reaction.y, reaction.z)}{within}"


def axial_reaction(reaction: Reaction, style: Style = METRIC) -> str:
    """Return the axial force of a support, as a range where it is one; none where it does not locate."""
    low, high = sorted((abs(reaction.axial_low), abs(reaction.axial_high)))
    if high == 0.0:
        return "none"
    if reaction.axial_low < 0.0 < reaction.axial_high:
        return f"{write((0.0, high), Kind.FORCE, style)} either way"
    return write((low, high), Kind.FORCE, style)


def day(when: date) -> str:
    """Return a date with its month in words: 2 March 2026."""
    return f"{when.day} {_MONTHS[when.month - 1]} {when.year}"


_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)


def counted(number: int, one: str, many: str = "") -> str:
    """Return a number with its noun: 1 unit, 2 units."""
    return f"{number} {one if number == 1 else many or one + 's'}"


_FEATURES = {
    "row_size": "row size",
    "seal_left": "seal at the drive end side",
    "seal_right": "seal at the free end side",
    "clearance": "clearance group",
    "locating": "role",
}


def features(says: Iterable[tuple[str, str]]) -> str:
    """Return features of a unit with their values in words: seal at the drive end side: packing."""
    return "; ".join(f"{_FEATURES.get(name, name)}: {value}" for name, value in says)


def sentence(text: str, style: Style = METRIC) -> str:
    """Return a clause as a sentence of a style: capital at its beginning, full stop at its end."""
    text = prose(text, style).strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?", "!")) or not text else ".")


_MINUS_SIGN = re.compile(r"(?<![\w.)\-])-(?=\d)")
_BEFORE_UNIT = re.compile(
    r"(?<=\d) (?=(?:kN|N|mm|h|kh|°C|°F|K|%|€|EUR|r/min|MPa|m/s|kg|mrad|in|lbf|lb|µm|kW|weeks?|years?)\b|%|€)"
)
_THOUSANDS = re.compile(r"(?<=\d)[\u2009 ](?=\d{3}(?!\d))")


def prose(text: str, style: Style = METRIC) -> str:
    """Return a text of a style with true minus signs, thin spaces in thousands and units that stay with their number."""
    text = _MINUS_SIGN.sub(MINUS, in_style(text, style)).replace("\u2009", THIN)
    return _BEFORE_UNIT.sub(NO_BREAK, _THOUSANDS.sub(THIN, text))


def tags(names: Sequence[str]) -> dict[str, str]:
    """Return a short tag for each position: what follows its last hyphen where that is short and unique, else A, B, C."""
    ends = [name.rsplit("-", 1)[-1].strip() for name in names]
    if len(set(ends)) == len(names) and all(0 < len(end) <= 2 for end in ends):
        return dict(zip(names, ends, strict=True))
    letters = [chr(ord("A") + i) if len(names) <= 26 else str(i + 1) for i in range(len(names))]
    return dict(zip(names, letters, strict=True))
