"""The working of a number: clause functions that can be overheard while they run."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import wraps
from inspect import Signature, signature
from typing import Any, Generic, ParamSpec, TypeVar, cast

import numpy as np
from numpy.typing import NDArray

from halfbore.sources import Source

P = ParamSpec("P")
R = TypeVar("R")

Number = float | NDArray[np.float64]
"""A number or a column of numbers: one function serves both."""


@dataclass(frozen=True)
class Step:
    """One clause at work: its name, source and formula, what went in and what came out."""

    name: str
    source: Source
    formula: str
    given: dict[str, Any]
    result: Any


_listener: ContextVar[list[Step] | None] = ContextVar("listener", default=None)


class Clause(Generic[P, R]):
    """A clause function together with its source and its formula."""

    __name__: str
    source: Source
    formula: str
    names: Signature

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """Run the clause."""
        raise NotImplementedError


def clause(source: Source, formula: str = "") -> Callable[[Callable[P, R]], Clause[P, R]]:
    """Mark a function as one clause of a source, so that whoever listens hears it work.

    source: where the formula stands.
    formula: the same relation as a SymPy expression in the argument names, or empty for a look-up.
    Returns a decorator; unheard, the marked function costs about 0.1 µs more than the bare one.
    """

    def mark(function: Callable[P, R]) -> Clause[P, R]:
        names = signature(function)

        @wraps(function)
        def call(*args: P.args, **kwargs: P.kwargs) -> R:
            result = function(*args, **kwargs)
            heard = _listener.get()
            if heard is not None:
                given = names.bind(*args, **kwargs)
                given.apply_defaults()
                heard.append(Step(function.__name__, source, formula, dict(given.arguments), result))
            return result

        marked = cast(Any, call)
        marked.source, marked.formula, marked.names = source, formula, names
        return cast("Clause[P, R]", marked)

    return mark


@contextmanager
def working() -> Iterator[list[Step]]:
    """Listen to every clause function that runs inside the block.

    Yields the list that fills with steps, in the order in which they finish.
    """
    steps: list[Step] = []
    token = _listener.set(steps)
    try:
        yield steps
    finally:
        _listener.reset(token)
