"""Characters that steer a terminal or the direction of a text instead of being read: no file may bring them in."""

from __future__ import annotations

import unicodedata

_DIRECTIONS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_LINES = "\n\t"


def steering(text: str) -> str:
    """Return the first character that steers instead of being read, empty where there is none."""
    if text.isprintable():
        return ""
    return next((c for c in text if c in _DIRECTIONS or _control(c)), "")


def _control(character: str) -> bool:
    return unicodedata.category(character) == "Cc" and character not in _LINES
