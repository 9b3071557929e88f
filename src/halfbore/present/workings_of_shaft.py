"""The working of reactions, and of what is printed of a shaft as a whole."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from halfbore.domain.job import JobReading
from halfbore.domain.shaftline import AppliedLoad, Reaction, ShaftResponse
from halfbore.domain.worked import ReactionParts, Taken
from halfbore.numbers import Style, write
from halfbore.present.wording import axial_reaction
from halfbore.present.workings import TOLD, Row, Worked, ends, row_of
from halfbore.sources import derived, practice
from halfbore.units import Kind, Span


def reaction_working(parts: Iterable[ReactionParts], reactions: Iterable[Reaction], style: Style) -> Worked:
    """Return the working of the force of a bearing on the shaft.

    parts: what each is made of, condition by condition; reactions: of that bearing.
    """
    known, forces = tuple(parts), tuple(reactions)
    came = tuple((r.condition, _reaction(r, style)) for r in forces)
    least, most = min(r.low for r in forces), max(r.high for r in forces)
    two = all(len(one.others) == 1 for one in known)
    own, *others = (write(x, Kind.LENGTH, style) for one in known[:1] for x in (one.x, *one.others))
    here = f"this bearing at {own}, others at {', '.join(others)} from the drive end"
    rows = tuple(row for one in known for row in _load_rows(one, two, style))
    return Worked(
        "Force of the bearing on the shaft",
        f"{write((least, most), Kind.FORCE, style)} over all conditions",
        (*(ON_TWO if two else ON_MORE), ("x", here)),
        rows,
        came=came,
    )


def _reaction(reaction: Reaction, style: Style) -> str:
    likely = write(math.hypot(reaction.y, reaction.z), Kind.FORCE, style)
    range_, along = write((reaction.low, reaction.high), Kind.FORCE, style), axial_reaction(reaction, style)
    return f"likely {likely}, {range_}, along the shaft {along}"


ON_TWO = (
    ("R = −Σ share·F", "upright and level apart; likely: all loads at their likely values"),
    (
        "share = (x(load) − x(other))/(x(own) − x(other))",
        "moments about the other bearing; a couple adds couple/(x(own) − x(other))",
    ),
    (
        "low to high",
        "each load at the end of its range that brings the least and the most; what turns or may point anywhere adds its size",
    ),
    ("R axial = −Σ F axial", "at the bearing that locates"),
)
"""A reaction of a shaft on two bearings."""
ON_MORE = (
    (
        "E·I·v″″ = q",
        "the bent shaft in beam elements; at each bearing v is its clearance, height error and give",
    ),
    (
        "Σ F = 0, Σ M = 0",
        "the reactions of all bearings balance all loads; the machine page prints what is left over",
    ),
    *ON_TWO[2:],
)
"""A reaction of a shaft on more bearings."""


def _load_rows(one: ReactionParts, two: bool, style: Style) -> Iterator[Row]:
    for load in one.parts:
        size = ends(load.size, Kind.FORCE, style)
        at = f"{load.direction}, at x = {write(load.x, Kind.LENGTH, style)}"
        known = two and not math.isnan(load.share)
        share = write(load.share, Kind.FRACTION, style)
        law = f"{at}; share {share} brings {_across(load.part, style)}" if known else at
        yield Row(f"{one.condition}: {load.name}", size, law, load.source)
        if load.axial.low or load.axial.high:
            along = ends(load.axial, Kind.FORCE, style)
            yield Row(
                f"{one.condition}: {load.name}, axial",
                along,
                "along the shaft, + to the free end",
                load.source,
            )

    whole = [sum(p.part[k] for p in one.parts if not math.isnan(p.share)) for k in (0, 1)]
    if two:
        size = write(math.hypot(*whole), Kind.FORCE, style)
        yield Row(
            f"{one.condition}: together", size, _across(whole, style), derived("sum of what stands above")
        )


def _across(part: Sequence[float], style: Style) -> str:
    """Return a force across the shaft by its upright and its level part, what is nothing left out."""
    least = 1e-9 * math.hypot(*part)
    named = zip(("upright", "level"), part, strict=True)
    found = [
        f"{name} {write(size, Kind.FORCE, style, signed=True)}" for name, size in named if abs(size) > least
    ]
    return ", ".join(found) or "nothing"


def shaft_workings(reading: JobReading, response: ShaftResponse, style: Style) -> dict[str, Worked]:
    """Return the working of what is printed of a shaft as a whole: balance, first critical speed, bending stress."""
    shaft, rows = reading.job.shaft, tuple(_shaft_rows(reading, style))
    loads = tuple(
        Row(
            f"{load.name}",
            ends(_largest(load), Kind.FORCE, style),
            f"{load.direction}, at x = {write(load.x, Kind.LENGTH, style)}",
            load.source,
        )
        for load in response.loads
    )
    left = "; ".join(
        f"{b.body} {write(abs(b.force), Kind.FORCE, style, resolution=0.1)}, {write(abs(b.moment), Kind.TORQUE, style)}"
        for b in response.balances
    )
    critical = write(response.first_critical_speed, Kind.SPEED, style)
    stress = write(response.max_stress, Kind.STRESS, style)
    modulus = write(shaft.elastic_modulus, Kind.STRESS, style)
    return {
        "balance": Worked(
            "Balance of the solve",
            left,
            (("Σ F = 0, Σ M = 0", "summed from the printed loads and reactions about the drive end"),),
            (*loads, *rows),
        ),
        "critical-speed": Worked(
            "First critical speed",
            critical,
            (
                (
                    "det(K − ω²·M) = 0",
                    "the lowest ω; beam elements on rigid bearings, parts as point masses, paddles and screws spread",
                ),
            ),
            rows,
        ),
        "stress": Worked(
            "Largest bending stress",
            stress,
            (
                ("σ = M/W", "bending moment over section modulus, the largest of all conditions"),
                ("W = π·(d⁴ − b⁴)/(32·d)", f"outside diameter d, bore b; E is {modulus}"),
            ),
            (*rows, *loads),
        ),
    }


def _largest(load: AppliedLoad) -> Span:
    """Return the size of a load in the condition in which it is largest."""
    sizes = np.sort(np.hypot(load.force_y, load.force_z), axis=1)
    return Span(*map(float, sizes[sizes[:, 1].argmax()]))


def _shaft_rows(reading: JobReading, style: Style) -> Iterator[Row]:
    assumed = {a.path for a in reading.assumptions}
    for number, stretch in enumerate(reading.job.shaft.segments, 1):
        source = practice("assumed") if f"shaft.segments[{number - 1}].diameter" in assumed else TOLD
        size = f"Ø {write(stretch.diameter, Kind.LENGTH, style)}, {write(stretch.length, Kind.LENGTH, style)} long"
        yield Row(f"stretch {number}", size, "fixed", source)
    for load in reading.job.loads:
        yield row_of(Taken(f"mass of {load.name}", load.mass, Kind.MASS, TOLD, "range"), style)
