"""The shaft lines of a workspace as they answer now: as far as a stage, kept while nothing changes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable
from dataclasses import dataclass, field
from threading import Lock

import numpy as np

from halfbore.domain.catalogue import Catalogue
from halfbore.domain.study import Glance, Study
from halfbore.domain.unit import UnitTable
from halfbore.domain.workspace import Address, Edit
from halfbore.errors import InputError
from halfbore.estimate.reading import read_completed
from halfbore.likely import likely_values
from halfbore.narrowing import answered
from halfbore.store import Workspace
from halfbore.study import Stage, glance
from halfbore.units import Span
from halfbore.workspace.catalogues import catalogues_of
from halfbore.workspace.lines import job_data
from halfbore.workspace.running import reading_of

MOST = 48
"""Studies that are kept at hand."""


@dataclass(frozen=True)
class _Kept:
    """The study of a shaft line or why there is none; likely: of its positions, as far as they were asked for."""

    found: Study | InputError
    likely: dict[str, dict[str, Span]] = field(default_factory=dict)


class Studies:
    """Studies of shaft lines of one workspace; one that was asked for before is there at once.

    upto: how far they go.
    """

    def __init__(self, workspace: Workspace, upto: Stage = Stage.SELECT) -> None:
        self._workspace, self._upto = workspace, upto
        self._lock, self._glancing = Lock(), Lock()
        self._kept: OrderedDict[str, _Kept] = OrderedDict()
        self._latest: dict[Address, Study] = {}
        self._hashes: tuple[str, ...] | None = None
        self._catalogues: tuple[Catalogue, ...] = ()

    def of(self, line: Address) -> Study:
        """Return the study of a shaft line on today's inputs; loads and reactions alone where there is no catalogue.

        Raises InputError for an unknown address and for what cannot be solved, with all that is missing.
        """
        key = self._workspace.inputs_hash(line)
        with self._lock:
            if key not in self._kept:
                self._kept[key] = _Kept(self._studied(line))
            self._kept.move_to_end(key)
            while len(self._kept) > MOST:
                self._kept.popitem(last=False)
            found = self._kept[key].found
            if isinstance(found, Study):
                self._latest[line] = found
        if isinstance(found, InputError):
            raise InputError(found.problems)
        return found

    def likely(self, found: Study, position: str) -> dict[str, Span]:
        """Return what each check of the unit shown finds at the likely value of every input, kept as long as its study.

        found: a study that `of` gave; position: its name.
        """
        with self._lock:
            known = next((k.likely for k in self._kept.values() if k.found is found), {})
        if position not in known:
            known[position] = likely_values(found, position)
        return known[position]

    def at_hand(self, line: Address) -> bool:
        """Whether the study of a shaft line on today's inputs is there already."""
        return self._workspace.inputs_hash(line) in self._kept

    def glance(self, line: Address, edits: Iterable[Edit] = ()) -> Glance | None:
        """Return how the units last shown for a shaft line stand, as if edits were made; nothing is kept.

        None where none were shown yet, or positions are not those. Raises InputError for what cannot be solved.
        """
        earlier = self._latest.get(line)
        if earlier is None:
            return None
        data = job_data(self._workspace, line, edits)
        # One after the other: side by side they would only wait for the same processor.
        with self._glancing:
            return glance(read_completed(data), earlier)

    def _studied(self, line: Address) -> Study | InputError:
        try:
            reading = reading_of(self._workspace, line)
            known = self.catalogues()
            return answered(reading, known, self._upto if known else Stage.LOADS)[0]
        except InputError as error:
            return error

    def unit(self, name: str) -> UnitTable | None:
        """Return a unit of the current catalogues by its supplier and code, a blank between; None where there is none."""
        for known in self.catalogues():
            supplier = f"{known.supplier} "
            if name.startswith(supplier):
                for row in np.flatnonzero(known.units.code == name.removeprefix(supplier)):
                    return known.units.row(int(row))
        return None

    def catalogues(self) -> tuple[Catalogue, ...]:
        """Return the current catalogues, read once; none where the workspace has none."""
        hashes = self._workspace.mark().catalogues
        if hashes != self._hashes:
            try:
                self._catalogues = catalogues_of(self._workspace)
            except InputError:
                self._catalogues = ()
            self._hashes = hashes
        return self._catalogues
