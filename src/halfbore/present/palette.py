"""Colours by what they mean; a hue never stands alone, a shape, a word or hatching says the same."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Palette:
    """One colour a role.

    acts: what the plant says and what loads the shaft; answers: results, the chosen, split units; past: over a limit,
    exposed, losing money; bar: used part of a limit; metal, metal2: fills of parts.
    """

    sheet: str
    ink: str
    ink2: str
    ink3: str
    acts: str
    answers: str
    past: str
    bar: str
    rule: str
    hair: str
    metal: str
    metal2: str
    wash: str


LIGHT = Palette(
    sheet="#FFFFFF",
    ink="#12212A",
    ink2="#3F515B",
    ink3="#5A6B74",
    acts="#741642",
    answers="#0A5C88",
    past="#B03A04",
    bar="#7E919B",
    rule="#82929A",
    hair="#C3CED3",
    metal="#DCE5E9",
    metal2="#C6D3D9",
    wash="#E2EFF6",
)
"""For light pages and all print."""
