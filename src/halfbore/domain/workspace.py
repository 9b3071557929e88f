"""What a workspace keeps of a plant: its tree, the history of its edits, results, documents, catalogues."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from halfbore.domain.survey import Plain

Address = tuple[str, ...]
"""Tags from the plant down: () the plant, ("E1",) a machine, ("E1", "head") a shaft line, ("E1", "head", "E1-A") a
position. A machine's only shaft line may have the tag ""."""


def named(address: Address) -> str:
    """Return an address as people say it: "E1 head E1-A", "the plant"."""
    return " ".join(tag for tag in address if tag) or "the plant"


@dataclass(frozen=True)
class Edit:
    """One value of one document that shall change.

    path: into the document, such as `seat.diameter`, `loads[gear unit].mass`, `history[+]`; "" is the thing itself:
    with new = {} it shall be there, with a document it shall be there with that document, with None it shall go with
    all below it. new: the value as typed, None to take it away; an empty table is no value.
    """

    address: Address
    path: str
    new: Any


@dataclass(frozen=True)
class Batch:
    """Edits that were made together; undoes: the batch that this one took back; undone: it is taken back itself."""

    id: int
    at: datetime
    who: str
    what: str
    source: str
    changes: int
    undoes: int | None = None
    undone: bool = False


@dataclass(frozen=True)
class Change:
    """One change of the history. A list to which something is added, or of which something is taken, changes as a
    whole; path "" is the thing itself, which came (old None) or went (new None)."""

    batch: int
    at: datetime
    who: str
    what: str
    address: Address
    path: str
    old: Any
    new: Any


@dataclass(frozen=True)
class Mark:
    """How far a workspace has come: number of its last batch and result, hashes of its current catalogues."""

    batch: int
    result: int
    catalogues: tuple[str, ...]


@dataclass(frozen=True)
class LineNode:
    """A shaft line and the tags of its positions, in order."""

    tag: str
    positions: tuple[str, ...]


@dataclass(frozen=True)
class MachineNode:
    """A machine and its shaft lines, in order."""

    tag: str
    lines: tuple[LineNode, ...]


@dataclass(frozen=True)
class KeptResult:
    """A result of a shaft line without its record; stale: why it is no longer current, empty where it is.

    on: the day as of which it was worked out; package: version of the program that made it.
    """

    id: int
    address: Address
    made_at: datetime
    inputs_hash: str
    package: str
    editions: tuple[str, ...]
    seed: int
    on: date
    summary: dict[str, Any]
    stale: tuple[str, ...] = ()


@dataclass(frozen=True)
class KeptDocument:
    """An issued document without its content; result: the result that it shows, None where it shows none."""

    id: int
    address: Address
    number: str
    title: str
    kind: str
    file_name: str
    sha256: str
    size: int
    made_at: datetime
    who: str
    result: int | None


@dataclass(frozen=True)
class KeptUpload:
    """A file, or several, that was uploaded and is not all brought in yet.

    kind: survey or catalogue; state: how far it is, plain data; version: counts the changes of it.
    """

    key: str
    kind: str
    name: str
    came_at: datetime
    version: int
    state: Plain


@dataclass(frozen=True)
class KeptCatalogue:
    """One version of a supplier's catalogue without its files; sha256: of mapping and files together."""

    id: int
    supplier: str
    version: str
    sha256: str
    mapping: str
    files: tuple[str, ...]
    kept_at: datetime
    current: bool
