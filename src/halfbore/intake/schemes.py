"""The order code scheme of a mapping file; the letters of a size may stand in a column of the table."""

from __future__ import annotations

from collections.abc import Callable
from collections.abc import Mapping as AnyMapping
from typing import Any

from halfbore.domain.catalogue import (
    FEATURES,
    LISTED,
    CheckCharacter,
    Letters,
    Part,
    PlacedScheme,
    Scheme,
    TaggedScheme,
    Word,
)
from halfbore.domain.position import Role
from halfbore.domain.unit import Hand, Support, UnitTable
from halfbore.errors import InputError, Problem
from halfbore.intake.joining import Units
from halfbore.intake.layout import Ref, Table
from halfbore.intake.node import Node


def scheme_of(
    data: AnyMapping[str, Any], source: Units, units: UnitTable, tables: AnyMapping[str, Table]
) -> Scheme:
    """Return the scheme of a mapping.

    data: the table `scheme` of the mapping file; source, tables: the rows of each unit, for the letters of sizes.
    Raises InputError with every problem.
    """
    problems: list[Problem] = []
    reader = _Reader(source, units, tables)
    node = Node(data, "scheme", problems)
    forms: dict[str, Callable[[Node], Scheme]] = {
        "tagged": reader.tagged,
        "placed": reader.placed,
        "listed": reader.listed,
    }
    form = node.text("form", choices=forms)
    scheme: Scheme = forms.get(form, reader.placed)(node)
    node.close()
    problems.extend(_unwritten(scheme))
    if problems:
        raise InputError(problems)
    return scheme


class _Reader:
    def __init__(self, source: Units, units: UnitTable, tables: AnyMapping[str, Table]) -> None:
        self.source, self.units, self.tables = source, units, tables

    def listed(self, node: Node) -> TaggedScheme:
        """Return the scheme of codes that are looked up as a whole; what they do not tell stands in words or is fixed."""
        u = self.units
        builds = zip(
            u.size.tolist(),
            map(str, u.row_size.tolist()),
            ((Role.LOCATING if is_ else Role.NON_LOCATING).value for is_ in u.locating.tolist()),
            (Support(n).word for n in u.support.tolist()),
            (Hand(n).word for n in u.hand.tolist()),
            strict=True,
        )
        letters = Letters(FEATURES[:5], tuple(zip(u.code.tolist(), builds, strict=True)))
        words = (Word("", letters), *self.words(node))
        return TaggedScheme(node.text("separator", LISTED), words, _spares(node), _fixed(node))

    def tagged(self, node: Node) -> TaggedScheme:
        return TaggedScheme(node.text("separator"), self.words(node), _spares(node), _fixed(node))

    def words(self, node: Node) -> tuple[Word, ...]:
        words = []
        for below in node.tables("words"):
            words.append(Word(below.text("tag", ""), self.letters(below)))
            below.close()
        return tuple(words)

    def placed(self, node: Node) -> PlacedScheme:
        separator = node.text("separator")
        places = []
        for below in node.tables("places"):
            parts = below.tables("parts")
            places.append(tuple(self.letters(part) for part in parts))
            for part in parts:
                part.close()
            below.close()
        check = node.table("check")
        found = CheckCharacter(
            check.text("separator"), check.text("values"), check.text("letters"), check.numbers("weights")
        )
        check.close()
        return PlacedScheme(separator, tuple(places), found, _spares(node), _fixed(node))

    def letters(self, node: Node) -> Letters:
        """Return the letters of one word or part: written out, or those of a size from a column."""
        features = node.texts("features")
        heading, table = node.text("heading", ""), node.table("letters")
        where = node.text("table", None if heading else "", self.tables) if "" not in self.tables else ""
        for feature in features:
            if feature not in FEATURES:
                node.refuse("is no feature of a unit", "features", feature, ", ".join(FEATURES))
        if heading:
            return Letters(features, self._of_sizes(node, Ref(where, heading), features))
        return Letters(features, tuple((text, table.texts(text)) for text in table.data))

    def _of_sizes(
        self, node: Node, column: Ref, features: tuple[str, ...]
    ) -> tuple[tuple[str, tuple[str, ...]], ...]:
        if features != ("size",):
            node.refuse("only a size has its letters in a column", "features", ", ".join(features), "size")
        if column.table not in self.tables:
            return ()
        try:
            texts = self.source.cells(column)
        except InputError as error:
            node.problems.extend(error.problems)
            return ()
        pairs = dict.fromkeys(zip(texts, self.units.size.tolist(), strict=True))
        return tuple((text, (size,)) for text, size in pairs)


def _spares(node: Node) -> tuple[tuple[str, Part], ...]:
    table = node.table("spares")
    parts = [part.value for part in Part if part is not Part.UNIT]
    if "" in table.data:
        table.refuse("a spare has no mark")
    marks = [(mark, table.text(mark, choices=parts)) for mark in table.data if mark]
    return tuple((mark, Part(word)) for mark, word in marks if word in parts)


def _fixed(node: Node) -> tuple[tuple[str, str], ...]:
    table = node.table("fixed")
    for feature in table.data:
        if feature not in FEATURES:
            table.refuse("is no feature of a unit", feature, accepted=", ".join(FEATURES))
    return tuple((feature, table.text(feature)) for feature in table.data)


def _unwritten(scheme: Scheme) -> list[Problem]:
    """Return a problem for every feature that the scheme writes not once."""
    groups = [w.letters for w in scheme.words] if isinstance(scheme, TaggedScheme) else sum(scheme.places, ())
    written = [f for letters in groups for f in letters.features] + [f for f, _ in scheme.fixed]
    return [
        Problem("is not written once", "scheme", feature, "each feature in one word, in one part, or fixed")
        for feature in FEATURES
        if written.count(feature) != 1
    ]
