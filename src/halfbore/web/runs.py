"""Long work beside the pages, shaft lines that are run and documents that are made: how far it is, how to stop it."""

from __future__ import annotations

import time
from collections.abc import Callable, Generator, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from threading import Lock, Thread
from typing import Generic, TypeVar

from halfbore import store
from halfbore.domain.workspace import Address, named
from halfbore.errors import HalfboreError, Problem
from halfbore.store import Place, Workspace
from halfbore.workspace.issuing import Wanted, issue
from halfbore.workspace.running import run_lines

T = TypeVar("T")
Done = tuple[str, Sequence[Problem]]
"""What one piece of work was about, and what went wrong with it."""
Work = Callable[[Workspace, Sequence[T]], Generator[Done, None, None]]


@dataclass
class Run:
    """Work that is going or was done last: pieces asked for and done, seconds, what went wrong by piece."""

    total: int
    done: int = 0
    began: float = field(default_factory=time.monotonic)
    took: float | None = None
    cancelled: bool = False
    problems: list[tuple[str, Problem]] = field(default_factory=list)

    @property
    def going(self) -> bool:
        """Whether it still runs."""
        return self.took is None

    @property
    def left(self) -> float | None:
        """Seconds that are left at the pace so far, None while there is none."""
        passed = time.monotonic() - self.began
        return passed / self.done * (self.total - self.done) if self.done and self.going else None


class Beside(Generic[T]):
    """Work on one workspace that goes on beside the pages: at most one run of it at a time."""

    def __init__(self, path: Place, work: Work[T]) -> None:
        self._path, self._do, self._lock = path, work, Lock()
        self._thread: Thread | None = None
        self.last: Run | None = None

    def start(self, pieces: Sequence[T]) -> Run:
        """Begin a run, or return the one that is going."""
        with self._lock:
            if self.last is not None and self.last.going:
                return self.last
            self.last = run = Run(len(pieces))
            self._thread = Thread(target=self._work, args=(run, tuple(pieces)), daemon=True)
            self._thread.start()
            return run

    def cancel(self) -> None:
        """Stop after the piece that is being done; what is done stays."""
        if self.last is not None and self.last.going:
            self.last.cancelled = True

    def close(self) -> None:
        """Stop and wait."""
        self.cancel()
        if self._thread is not None:
            self._thread.join()

    def _work(self, run: Run, pieces: tuple[T, ...]) -> None:
        try:
            with store.open(self._path) as workspace, closing(self._do(workspace, pieces)) as dones:
                for name, problems in dones:
                    run.done += 1
                    run.problems += [(name, problem) for problem in problems[:1]]
                    if run.cancelled:
                        break
        except HalfboreError as error:
            run.problems += [("", problem) for problem in error.problems]
        except Exception as error:
            run.problems.append(("", Problem(f"a fault of the program: {type(error).__name__}")))
        finally:
            run.cancelled = run.cancelled and run.done < run.total
            run.took = time.monotonic() - run.began


def runs(path: Place) -> Beside[Address]:
    """Return the running of the shaft lines of a workspace."""

    def work(workspace: Workspace, lines: Sequence[Address]) -> Generator[Done, None, None]:
        with closing(run_lines(workspace, lines)) as rans:
            yield from ((named(ran.line), ran.problems) for ran in rans)

    return Beside(path, work)


def issues(path: Place) -> Beside[Wanted]:
    """Return the issuing of documents of a workspace."""

    def work(workspace: Workspace, papers: Sequence[Wanted]) -> Generator[Done, None, None]:
        for one in papers:
            found = issue(workspace, one)
            yield (f"{one.paper} of {named(one.about)}", found.problems)

    return Beside(path, work)
