"""The things of a plant while a batch of edits is made to them, and what came of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address, Edit, named
from halfbore.errors import InputError, Problem, shown
from halfbore.store import paths
from halfbore.store.differences import differences
from halfbore.store.plain import kept
from halfbore.store.things import Scene, below, folded

KINDS = ("the plant", "a machine", "a shaft line", "a position")
LONGEST_TAG = 80
"""Characters of a tag."""
TAG = f"up to {LONGEST_TAG} characters in one line"


@dataclass(frozen=True)
class Step:
    """One change for the history; place: among its neighbours, of a thing that came or went."""

    address: Address
    path: str
    old: Any
    new: Any
    place: int | None = None


class Draft:
    """Documents by address, parents before what is below them; the scene that they come from stays as it was."""

    def __init__(self, scene: Scene, last_machine: int) -> None:
        self.scene = scene
        self.last_machine = last_machine
        self.documents: dict[Address, Plain] = {a: thing.document for a, thing in scene.items()}
        self.places = {address: thing.place for address, thing in scene.items()}
        self.children = {a: dict.fromkeys(found) for a, found in below(scene).items()}
        self.by_folded = {tuple(map(folded, address)): address for address in scene}
        self._last: dict[Address, int] = {}

    def make(self, edit: Edit) -> None:
        """Make one edit. Raises InputError where it cannot be made."""
        address = self.known(edit.address)
        if edit.path:
            new = None if edit.new is None else kept(edit.new, edit.path)
            self.set(address, edit.path, None if new == {} else new)
        elif edit.new is None:
            self.remove(address)
        elif not isinstance(edit.new, dict):
            raise InputError(Problem("is no document", value=shown(edit.new), accepted="a table of fields"))
        elif edit.new or address not in self.documents:
            self.put(address, kept(edit.new))

    def known(self, address: Address) -> Address:
        """Return an address in the letters of what is there already; of something new its tags without loose blanks."""
        if address in self.documents:
            return address
        whole = self.by_folded.get(tuple(map(folded, address)))
        if whole is not None:
            return whole
        above = self.known(address[:-1])
        return (*above, _tag(address))

    def put(self, address: Address, document: Plain, place: int | None = None) -> None:
        """Let a thing be there with a document. Raises InputError where nothing is there that it can belong to."""
        if address not in self.documents:
            self._add(address, place)
        self.documents[address] = document

    def _add(self, address: Address, place: int | None) -> None:
        above = address[:-1]
        if above not in self.documents:
            raise InputError(
                Problem(f"there is no {named(above)}", next_step=f"add {KINDS[len(above)]} first")
            )
        if place is None and address in self.scene:
            place = self.scene[address].place
        last = self._last_place(above)
        if place is None:
            place = last + 1
        self._last[above] = max(last, place)
        self.children[above][address] = None
        self.children[address] = {}
        self.places[address] = place
        self.by_folded[tuple(map(folded, address))] = address

    def _last_place(self, above: Address) -> int:
        """Return the last place among what is below a thing; kept, since many things come in one batch."""
        if above not in self._last:
            last = max((self.places[other] for other in self.children[above]), default=-1)
            self._last[above] = (
                last if above else max(last, self.last_machine)
            )  # the scene holds some machines only
        return self._last[above]

    def remove(self, address: Address) -> None:
        """Take a thing away with all below it; nothing happens where it is not there. The plant stays."""
        if not address:
            raise InputError(
                Problem("the plant cannot be taken out of its workspace", next_step="delete the file")
            )
        if address not in self.documents:
            return
        for child in list(self.children[address]):
            self.remove(child)
        self._last.pop(address[:-1], None)
        del self.documents[address], self.children[address], self.children[address[:-1]][address]
        del self.places[address], self.by_folded[tuple(map(folded, address))]

    def set(self, address: Address, path: str, new: Any) -> None:
        """Put a value into a document. Raises InputError where the thing is not there, or the path leads nowhere."""
        if address not in self.documents:
            if new is None:
                return
            raise InputError(Problem(f"there is no {named(address)}", next_step="add it first"))
        self.documents[address] = paths.set(self.documents[address], path, new)

    def added(self) -> list[Address]:
        """Return what is there now and was not before, parents first."""
        return sorted((a for a in self.documents if a not in self.scene), key=len)

    def steps(self) -> list[Step]:
        """Return all that changed: what went, from the bottom up; what came, from the top down; then values."""
        gone = sorted((a for a in self.scene if a not in self.documents), key=len, reverse=True)
        steps = [Step(a, "", self.scene[a].document, None, self.scene[a].place) for a in gone]
        steps += [Step(a, "", None, self.documents[a], self.places[a]) for a in self.added()]
        steps += self._values()
        return steps

    def _values(self) -> Iterator[Step]:
        for address, document in self.documents.items():
            before = self.scene.get(address)
            if before is not None and before.document is not document:
                yield from (Step(address, *found) for found in differences(before.document, document))

    def contradictions(self) -> Iterator[Problem]:
        """Yield what cannot stand as it is: a line without a tag beside others, a position's tag twice."""
        for machine in dict.fromkeys(address[:1] for address in self.added() if len(address) == 2):
            if len(self.children[machine]) > 1 and (*machine, "") in self.children[machine]:
                step = "give the line that is there a tag of its own"
                yield Problem(
                    "a machine of several shaft lines has one without a tag", machine[0], next_step=step
                )
        homes: dict[str, Address] = {}
        for address in (address for address in self.documents if len(address) == 3):
            other = homes.setdefault(folded(address[2]), address)
            if other != address:
                yield taken(address, other)


def taken(address: Address, other: Address) -> Problem:
    """Return the problem of a position whose tag stands elsewhere in the plant."""
    accepted = "a tag that no other position of the plant has"
    return Problem(f"the tag stands in {named(other[:2])} already", named(address), address[2], accepted)


def _tag(address: Address) -> str:
    """Return the last tag of an address without loose blanks. Raises InputError where it is none."""
    if not 0 < len(address) < len(KINDS):
        raise InputError(
            Problem("is no address", value=shown(address), accepted="machine, shaft line, position")
        )
    typed = address[-1]
    tag = " ".join(typed.split()) if isinstance(typed, str) else ""
    if (not tag and len(address) != 2) or len(tag) > LONGEST_TAG or not tag.isprintable():
        raise InputError(Problem(f"is no tag of {KINDS[len(address)]}", value=shown(typed), accepted=TAG))
    return tag
