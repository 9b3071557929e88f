"""Rows that tell of no thing: what totals and notes under a table begin with, in four languages (common practice, no source)."""

from __future__ import annotations

import re

from halfbore.intake.survey.fold import folded

_TOTALS = """
total totals subtotal sum summe summen zwischensumme gesamt gesamtsumme somme totaux suma totales
average mean mittelwert durchschnitt moyenne promedio
"""
_NOTES = "note notes nota notas hinweis hinweise anmerkung anmerkungen remarque remarques legend legende"
TOTALS, NOTES = frozenset(_TOTALS.split()), frozenset(_NOTES.split())
_WORD = re.compile(r"[^\W\d_]+")
_FOOTNOTE = re.compile(r"\*+|[¹²³⁴⁵†‡]|\d{1,2}\)")


def first_word(text: str, words: frozenset[str]) -> str:
    """Return the word that a text begins with where it is one of those, as it is written there; else nothing.

    A word that is part of a tag is none: `SUM-1`, `Total/2`.
    """
    found = _WORD.match(text)
    if not found or folded(found[0]) not in words:
        return ""
    rest = text[found.end() :]
    return found[0] if not rest or rest[0] in " \t\n\u00a0:.,;(=" else ""


def is_total(text: str) -> bool:
    """Return whether a row that begins with a text is one of totals."""
    return bool(first_word(text, TOTALS))


def is_note(text: str) -> bool:
    """Return whether a text that stands alone in its row is a note, by its first word or its mark."""
    return bool(first_word(text, NOTES)) or bool(re.match(rf"(?:{_FOOTNOTE.pattern})\s*\S.*\s", text))
