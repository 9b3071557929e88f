"""Who works on a workspace, and what each may do there."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """What a user may do: each role may do what those before it may."""

    SEE = "see"
    EDIT = "edit"
    APPROVE = "approve"

    def may(self, needed: Role) -> bool:
        """Return whether this role is enough for what needs another."""
        order = list(Role)
        return order.index(self) >= order.index(needed)


@dataclass(frozen=True)
class User:
    """A user of a workspace; the name stands in the history."""

    id: int
    name: str
    role: Role
