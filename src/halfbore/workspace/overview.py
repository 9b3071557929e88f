"""All positions of a plant with their worth, kept at hand and brought up to date machine by machine."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from threading import Lock

from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address, KeptResult, Mark
from halfbore.domain.worth import Worth
from halfbore.store import Workspace
from halfbore.workspace.ranking import legible


@dataclass(frozen=True)
class LineState:
    """A shaft line with its kept result, None where it was never run, and the rows of the ranking that are of it."""

    address: Address
    positions: tuple[str, ...]
    result: KeptResult | None
    rows: tuple[Worth, ...]

    @property
    def word(self) -> str:
        """How its answer stands."""
        if self.result is None:
            return "not run"
        return "stale" if self.result.stale else "current"


@dataclass(frozen=True)
class MachineState:
    """A machine with what kind it is, as typed, and its shaft lines that have a position."""

    tag: str
    kind: str
    lines: tuple[LineState, ...]


class Overview:
    """The state of a whole plant; reading it again costs only what was touched since."""

    def __init__(self, workspace: Workspace) -> None:
        self._workspace = workspace
        self._lock = Lock()
        self._mark: Mark | None = None
        self._machines: dict[str, MachineState] = {}

    def machines(self) -> tuple[MachineState, ...]:
        """Return all machines in the order of the plant, as they stand now."""
        with self._lock:
            mark = self._workspace.mark()
            if mark != self._mark:
                self._bring_up()
                self._mark = mark
            return tuple(self._machines.values())

    def _bring_up(self) -> None:
        touched = None if self._mark is None else self._workspace.touched(self._mark)
        fresh = {state.tag: state for state in _states(self._workspace, touched)}
        self._machines = fresh if touched is None else self._machines | fresh


def _states(workspace: Workspace, machines: Collection[str] | None) -> list[MachineState]:
    if machines is not None and not machines:
        return []
    contents, results = workspace.contents(machines), workspace.results(machines)
    below: dict[Address, list[Address]] = {address: [] for address in contents}
    for address in contents:
        if address:
            below[address[:-1]].append(address)
    return [_state(machine, below, results, contents) for machine in below[()]]


def _state(
    machine: Address,
    below: Mapping[Address, list[Address]],
    results: Mapping[Address, KeptResult],
    contents: Mapping[Address, Plain],
) -> MachineState:
    lines = [_line(line, tuple(one[2] for one in below[line]), results) for line in below[machine]]
    kinds = [contents[at].get("machine", {}).get("kind", "") for at in (machine, *below[machine])]
    return MachineState(machine[0], str(next(filter(None, kinds), "")), tuple(lines))


def _line(address: Address, positions: tuple[str, ...], results: Mapping[Address, KeptResult]) -> LineState:
    found = results.get(address)
    kept, rows = (None, ()) if found is None else legible(found)
    return LineState(address, positions, kept, tuple(row for row in rows if row.position in positions))
