"""Widths of text in the font of the drawings, read from the font itself, so that labels can be kept apart."""

from __future__ import annotations

import struct
from functools import cache
from pathlib import Path

import font_source_sans_pro

FAMILY = "Source Sans Pro"
FONTS = Path(font_source_sans_pro.__file__).parent / "files"
_FACES = {400: "Regular", 600: "Semibold", 700: "Bold"}
_UNITS = 1000.0
"""Font units in an em of this family."""


def text_width(text: str, size: float, weight: int = 400) -> float:
    """Return the width of one line of text.

    size: of the font, in any unit; weight: 400, 600 or 700. Returns the width in the unit of size.
    """
    widths, fallback = _advances(weight)
    return sum(widths.get(c, fallback) for c in map(ord, text)) * size / _UNITS


def legible(text: str) -> str:
    """Return a text in which each character that the font lacks is a question mark.

    Marks that have no shape of their own, such as the place where a word may break, stay.
    """
    if text.isascii() and text.isprintable():
        return text
    known = [_advances(weight)[0] for weight in _FACES]
    return "".join(c if c in _SHAPELESS or all(ord(c) in face for face in known) else "?" for c in text)


_SHAPELESS = "\u200b\n"


@cache
def _advances(weight: int) -> tuple[dict[int, int], int]:
    """Return the advance width of each character and that of a missing one [font units]."""
    data = (FONTS / f"SourceSansPro-{_FACES[weight]}.ttf").read_bytes()
    tables = dict(_directory(data))
    glyphs = _glyphs(data, tables["cmap"])
    count = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    advances = [a for a, _ in struct.iter_unpack(">HH", data[tables["hmtx"] :][: 4 * count])]
    return {char: advances[min(g, count - 1)] for char, g in glyphs.items()}, advances[0]


def _directory(data: bytes) -> list[tuple[str, int]]:
    count = struct.unpack_from(">H", data, 4)[0]
    rows = struct.iter_unpack(">4sIII", data[12 : 12 + 16 * count])
    return [(tag.decode("ascii"), offset) for tag, _, offset, _ in rows]


def _glyphs(data: bytes, cmap: int) -> dict[int, int]:
    """Return the glyph of each character from the table in format 12, which lists runs of characters."""
    count = struct.unpack_from(">H", data, cmap + 2)[0]
    starts = [cmap + o for _, _, o in struct.iter_unpack(">HHI", data[cmap + 4 : cmap + 4 + 8 * count])]
    start = next(s for s in starts if struct.unpack_from(">H", data, s)[0] == 12)
    groups = struct.unpack_from(">I", data, start + 12)[0]
    runs = struct.iter_unpack(">III", data[start + 16 : start + 16 + 12 * groups])
    return {char: glyph + char - first for first, last, glyph in runs for char in range(first, last + 1)}
