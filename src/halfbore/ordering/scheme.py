"""A specification as a supplier's code and back; a code that is no code says where it goes wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from heapq import nsmallest
from operator import ne

from halfbore.domain.catalogue import CheckCharacter, Letters, Part, PlacedScheme, Scheme, TaggedScheme
from halfbore.domain.order import CodePart, Specification
from halfbore.domain.position import Role
from halfbore.errors import InputError, Problem
from halfbore.limits import CODE_LENGTH

Values = dict[str, str]
"""The features of a specification as the words that schemes use."""


def write_code(specification: Specification, scheme: Scheme) -> str:
    """Return the code of a specification, words and places in the scheme's own order.

    Raises InputError when the supplier has no letters for what is asked.
    """
    values = _values(specification)
    for feature, only in scheme.fixed:
        if values[feature] != only:
            raise _unwritable(values[feature], (feature,), [only])
    mark = _mark(specification.part, scheme)
    if isinstance(scheme, TaggedScheme):
        words = (word.tag + _text(word.letters, values) for word in scheme.words)
        return scheme.separator.join(words) + mark
    places = ("".join(_text(part, values) for part in place) for place in scheme.places)
    body = scheme.separator.join(places)
    return body + scheme.check.separator + check_character(body + mark, scheme.check) + mark


def code_parts(specification: Specification, scheme: Scheme) -> tuple[CodePart, ...]:
    """Return the code of a specification in pieces, each with the features that it says; separators say none.

    Raises InputError when the supplier has no letters for what is asked.
    """
    values = _values(specification)
    if isinstance(scheme, TaggedScheme):
        pieces = [[(word.tag, word.letters)] for word in scheme.words]
    else:
        pieces = [[("", letters) for letters in place] for place in scheme.places]
    parts = [
        part
        for piece in pieces
        for part in (
            CodePart(scheme.separator, ()),
            *(_piece(tag, letters, values) for tag, letters in piece),
        )
    ][1:]
    rest = write_code(specification, scheme).removeprefix("".join(part.text for part in parts))
    mark = _mark(specification.part, scheme)
    end = rest.removesuffix(mark) if mark else rest
    parts += [CodePart(end, (("check character", "guards all others"),))] if end else []
    return (*parts, *([CodePart(mark, (("part", specification.part.value),))] if mark else []))


def _piece(tag: str, letters: Letters, values: Values) -> CodePart:
    return CodePart(tag + _text(letters, values), tuple((name, values[name]) for name in letters.features))


def read_code(text: str, scheme: Scheme, supplier: str) -> Specification:
    """Return the specification that a code stands for.

    text: the code and nothing else; words of a tagged scheme may stand in any order. supplier: whose it is.
    Raises InputError that says where in the text, what was read, and what is accepted there.
    """
    if len(text) > CODE_LENGTH:
        raise InputError(
            Problem("is too long for a code", "code", accepted=f"up to {CODE_LENGTH} characters")
        )
    body, part = _without_mark(text, scheme)
    values = dict(scheme.fixed) | _read(text, body, scheme)
    return _specification(values, supplier, part)


def check_character(text: str, check: CheckCharacter) -> str:
    """Return the check character of a text; characters without a value, such as separators, do not count."""
    numbers = [check.values.index(c) + 1 for c in reversed(text) if c in check.values]
    total = sum(n * check.weights[i % len(check.weights)] for i, n in enumerate(numbers))
    return check.letters[total % len(check.letters)]


# Features and their words


def _values(s: Specification) -> Values:
    return {
        "size": s.size,
        "row_size": str(s.row_size),
        "locating": (Role.LOCATING if s.locating else Role.NON_LOCATING).value,
        "support": s.support,
        "hand": s.hand,
        "seal_left": s.seal_left,
        "seal_right": s.seal_right,
        "clearance": str(s.clearance),
    }


def _specification(values: Values, supplier: str, part: Part) -> Specification:
    return Specification(
        supplier=supplier,
        part=part,
        size=values["size"],
        row_size=int(values["row_size"]),
        locating=values["locating"] == Role.LOCATING.value,
        support=values["support"],
        hand=values["hand"],
        seal_left=values["seal_left"],
        seal_right=values["seal_right"],
        clearance=int(values["clearance"]),
    )


# Writing


@cache
def _texts(letters: Letters) -> dict[tuple[str, ...], str]:
    return {values: text for text, values in letters.table}


def _text(letters: Letters, values: Values) -> str:
    asked = tuple(values[feature] for feature in letters.features)
    known = _texts(letters)
    if asked not in known:
        raise _unwritable(" ".join(asked), letters.features, [" ".join(v) for v in known])
    return known[asked]


def _unwritable(asked: str, features: Iterable[str], known: list[str]) -> InputError:
    what = f"the supplier has no letters for this {_named(features)}"
    return InputError(Problem(what, "order code", asked, _listed(known, asked)))


def _mark(part: Part, scheme: Scheme) -> str:
    marks = {p: mark for mark, p in scheme.spares} | {Part.UNIT: ""}
    if part not in marks:
        raise _unwritable(part, ("part",), [str(p) for p in marks])
    return marks[part]


# Reading


def _read(code: str, body: str, scheme: Scheme) -> Values:
    if isinstance(scheme, TaggedScheme):
        return _read_tagged(code, body, scheme)
    return _read_placed(code, body, scheme)


def _wrong(
    code: str, at: int, what: str, value: str, accepted: Iterable[str] = (), step: str = ""
) -> InputError:
    """Return the error at one place of a code, counted from 1."""
    where = f"code {code!r}, character {at + 1}"
    return InputError(Problem(what, where, value, _listed(list(accepted), value), step))


def _listed(known: list[str], near: str) -> str:
    """Return what is accepted: all of it when short, else what differs from the text in the fewest places."""
    if len(known) <= 12:
        return ", ".join(known)
    nearest = nsmallest(5, known, key=lambda text: abs(len(text) - len(near)) + sum(map(ne, text, near)))
    return f"{', '.join(nearest)} and {len(known) - len(nearest)} others"


def _named(features: Iterable[str]) -> str:
    """Return features in words."""
    sides = {"seal_left": "seal at the drive end side", "seal_right": "seal at the free end side"}
    return " and ".join(sides.get(feature, feature.replace("_", " ")) for feature in features)


def _without_mark(code: str, scheme: Scheme) -> tuple[str, Part]:
    """Take the mark of a spare off the end of a code."""
    marks = dict(scheme.spares)
    starts = {mark[0] for mark in marks}
    at = next((i for i, c in enumerate(code) if c in starts), len(code))
    if at == len(code):
        return code, Part.UNIT
    if code[at:] not in marks:
        raise _wrong(code, at, "no such spare", code[at:], marks)
    return code[:at], marks[code[at:]]


def _pieces(body: str, separator: str) -> Iterator[tuple[int, str]]:
    """Yield the pieces of a code with the place where each begins."""
    at = 0
    for piece in body.split(separator):
        yield at, piece
        at += len(piece) + len(separator)


@cache
def _words(scheme: TaggedScheme) -> dict[str, tuple[int, tuple[str, ...]]]:
    """Return every word that the scheme knows: text → number of the word and values."""
    return {
        word.tag + text: (i, values)
        for i, word in enumerate(scheme.words)
        for text, values in word.letters.table
    }


def _read_tagged(code: str, body: str, scheme: TaggedScheme) -> Values:
    known, found, values = _words(scheme), dict[int, str](), Values()
    for at, piece in _pieces(body, scheme.separator):
        if piece not in known:
            raise _unknown_word(code, at, piece, scheme)
        number, read = known[piece]
        if number in found:
            what = f"stands beside {found[number]!r}: one of the two is too many"
            raise _wrong(code, at, what, piece, step="leave one of them out")
        found[number] = piece
        values |= dict(zip(scheme.words[number].letters.features, read, strict=True))
    for i, word in enumerate(scheme.words):
        if i not in found:
            what = f"the word for {_named(word.letters.features)} is missing"
            raise _wrong(code, len(body), what, "", (word.tag + text for text, _ in word.letters.table))
    return values


def _unknown_word(code: str, at: int, piece: str, scheme: TaggedScheme) -> InputError:
    word = next((w for w in scheme.words if w.tag and piece.startswith(w.tag)), None)
    if word is None:
        tags = [f"{w.tag}…" for w in scheme.words if w.tag]
        untagged = [text for w in scheme.words if not w.tag for text, _ in w.letters.table]
        return _wrong(code, at, "no word begins like this", piece, untagged + tags)
    texts = [text for text, _ in word.letters.table]
    what = f"no such {_named(word.letters.features)}"
    return _wrong(code, at + len(word.tag), what, piece[len(word.tag) :], texts)


def _read_placed(code: str, body: str, scheme: PlacedScheme) -> Values:
    front, mark, check = body.partition(scheme.check.separator)
    pieces = list(_pieces(front, scheme.separator))
    if len(pieces) != len(scheme.places):
        what = f"{len(scheme.places)} places are wanted, parted by {scheme.separator!r}"
        raise _wrong(code, len(front), what, front)
    values = Values()
    for (at, piece), place in zip(pieces, scheme.places, strict=True):
        values |= _read_place(code, at, piece, place)
    if len(check) != 1 or not mark:
        what = f"one check character is wanted after {scheme.check.separator!r}"
        raise _wrong(code, len(front), what, mark + check, scheme.check.letters)
    right = check_character(front + code[len(body) :], scheme.check)
    if check != right:
        step = f"the rest of the code asks for {right!r}: this or another character was misread"
        raise _wrong(code, len(front) + len(mark), "the check character does not fit", check, (), step)
    return values


def _read_place(code: str, at: int, piece: str, place: tuple[Letters, ...]) -> Values:
    values = Values()
    for i, letters in enumerate(place):
        last = i == len(place) - 1
        width = len(piece) if last else len(letters.table[0][0])
        text, piece = piece[:width], piece[width:]
        known = dict(letters.table)
        if text not in known:
            raise _wrong(code, at, f"no such {_named(letters.features)}", text, known)
        values |= dict(zip(letters.features, known[text], strict=True))
        at += width
    return values
