"""Words as they are compared: without case, accents, umlauts written out, and marks."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from functools import lru_cache

_SIGNS = {"ø": " dia ", "⌀": " dia ", "∅": " dia ", "Ø": " dia ", "&": " and ", "°": " deg "}
_JOINED = re.compile(r"(?<=[a-zäöü])(?=[A-Z])")
_MARK = re.compile(r"[^\w]+|_+")


@lru_cache(maxsize=20_000)
def folded(text: str) -> str:
    """Return a text as words of plain small letters and digits, parted by single spaces."""
    text = _JOINED.sub(" ", text)
    for sign, word in _SIGNS.items():
        text = text.replace(sign, word)
    plain = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    for pair, letter in (("ae", "a"), ("oe", "o"), ("ue", "u")):
        plain = plain.replace(pair, letter)
    return " ".join(_MARK.sub(" ", plain).split())


def entries(table: str) -> Iterator[tuple[str, list[str]]]:
    """Yield the entries of a table of words: `name: word; word`, going on in lines that begin with two spaces."""
    for entry in re.split(r"\n(?!  )", table.strip()):
        name, _, words = entry.partition(":")
        if name:
            yield name, [word.strip() for word in re.split(r";|\n", words) if word.strip()]
