"""A table of a TOML file read key by key: what is asked for is known, every other key is a problem."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from typing import Any

from halfbore.errors import Problem, shown
from halfbore.intake.texts import steering


class Node:
    """One table of a file with its place; problems go to a list that all nodes of the file share."""

    def __init__(self, data: Mapping[str, Any], where: str, problems: list[Problem]) -> None:
        self.data, self.where, self.problems = data, where, problems
        self.asked: list[str] = []

    def refuse(self, what: str, key: str = "", value: object = "", accepted: str = "") -> None:
        """Note a problem at this table or at one of its keys."""
        where = ".".join(part for part in (self.where, key) if part)
        self.problems.append(Problem(what, where, shown(value), accepted))

    def _take(self, key: str) -> Any:
        self.asked.append(key)
        return self.data.get(key)

    def text(self, key: str, default: str | None = None, choices: Iterable[str] = ()) -> str:
        """Return a text; without a default it must be there and not be empty."""
        value = self._take(key)
        if value is None or (value == "" and default is None):
            if default is None:
                self.refuse("is missing", key, accepted=", ".join(choices) or "a text")
            return default or ""
        if not isinstance(value, str):
            self.refuse("a text is wanted", key, value)
            return ""
        if odd := steering(value):
            self.refuse("the text holds a control character", key, value, f"a text without {odd!r}")
        if choices and value not in choices:
            self.refuse("is not one of the choices", key, value, ", ".join(choices))
        return value

    def flag(self, key: str, default: bool) -> bool:
        """Return true or false."""
        value = self._take(key)
        if value is not None and not isinstance(value, bool):
            self.refuse("yes or no is wanted", key, value, "true, false")
        return value if isinstance(value, bool) else default

    def numbers(self, key: str, default: tuple[int, ...] = ()) -> tuple[int, ...]:
        """Return whole numbers from 1 up, given as a list or as one number."""
        value = self._take(key)
        given = default if value is None else value if isinstance(value, list) else (value,)
        if not all(isinstance(v, int) and not isinstance(v, bool) and v > 0 for v in given):
            self.refuse("whole numbers from 1 up are wanted", key, value)
            return default
        return tuple(given)

    def texts(self, key: str, default: tuple[str, ...] = ()) -> tuple[str, ...]:
        """Return texts, given as a list or as one text."""
        value = self._take(key)
        given = default if value is None else value if isinstance(value, list) else (value,)
        if not all(isinstance(v, str) for v in given):
            self.refuse("texts are wanted", key, value)
            return default
        return tuple(given)

    def table(self, key: str) -> Node:
        """Return a table below this one, empty where there is none."""
        value = self._take(key)
        if value is not None and not isinstance(value, Mapping):
            self.refuse("a table is wanted", key, value)
        return self._below(value if isinstance(value, Mapping) else {}, key)

    def tables(self, key: str) -> list[Node]:
        """Return the tables of a list below this one."""
        value = self._take(key) or []
        if not isinstance(value, list) or not all(isinstance(v, Mapping) for v in value):
            self.refuse("a list of tables is wanted", key, value)
            return []
        return [self._below(v, f"{key}[{i}]") for i, v in enumerate(value)]

    def _below(self, data: Mapping[str, Any], key: str) -> Node:
        return Node(data, f"{self.where}.{key}" if self.where else key, self.problems)

    def close(self) -> None:
        """Refuse the keys that nobody asked for, with the nearest known one."""
        for key in self.data:
            if key not in self.asked:
                near = difflib.get_close_matches(key, self.asked, 1, 0.5)
                known = f"nearest known key: {near[0]}" if near else ", ".join(self.asked)
                self.refuse(f"unknown key {key!r}", accepted=known)
