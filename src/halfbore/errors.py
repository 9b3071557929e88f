"""What can go wrong, in one shape for command line, web and API."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong: what, where, the value read, what is accepted, what to do next."""

    what: str
    where: str = ""
    value: str = ""
    accepted: str = ""
    next_step: str = ""

    def sentence(self) -> str:
        """Return the problem as one line of text."""
        parts = [f"{self.where}: {self.what}" if self.where else self.what]
        if self.value:
            parts.append(f"read {self.value!r}")
        if self.accepted:
            parts.append(f"accepted: {self.accepted}")
        if self.next_step:
            parts.append(self.next_step)
        return "; ".join(parts)


SHOWN = 64
"""Characters of a value that a message shows."""


def shown(value: object) -> str:
    """Return a value that was read as short text for a message."""
    try:
        text = "nothing" if value is None else str(value)
    except ValueError:  # Python does not write whole numbers of thousands of digits
        text = "a very large number"
    return text if len(text) <= SHOWN else text[: SHOWN - 1] + "…"


class HalfboreError(Exception):
    """A fault that the user is told about in one shape; the root of the only error tree."""

    kind = "fault"
    exit_code = 1

    def __init__(self, problems: Problem | str | Iterable[Problem]) -> None:
        if isinstance(problems, str):
            problems = Problem(problems)
        self.problems: tuple[Problem, ...] = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(p.sentence() for p in self.problems))

    def as_dict(self) -> dict[str, object]:
        """Return the error as plain data, the same on every route."""
        return {"error": self.kind, "problems": [asdict(p) for p in self.problems]}


class InputError(HalfboreError):
    """What was given cannot be used as it stands."""

    kind = "input"
    exit_code = 2


class UnitError(InputError):
    """A text is not a quantity of the kind that is asked for."""

    kind = "unit"


class LimitError(InputError):
    """A size, a count or a length is past a limit of the program."""

    kind = "limit"


class NothingHoldsError(HalfboreError):
    """A unit was required and none holds."""

    kind = "nothing holds"
    exit_code = 3
