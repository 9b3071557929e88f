"""Running shaft lines beside the pages: how far it is, what could not be run, and how to stop it."""

from __future__ import annotations

import time
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from threading import Lock, Thread

from halfbore import store
from halfbore.domain.workspace import Address, named
from halfbore.errors import HalfboreError, Problem
from halfbore.workspace.running import run_lines


@dataclass
class Run:
    """A run of shaft lines: lines asked for and done, seconds since it began, what went wrong by line."""

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


class Runs:
    """The run of one workspace: at most one at a time."""

    def __init__(self, path: Path) -> None:
        self._path, self._lock = path, Lock()
        self._thread: Thread | None = None
        self.last: Run | None = None

    def start(self, lines: Sequence[Address]) -> Run:
        """Begin a run, or return the one that is going."""
        with self._lock:
            if self.last is not None and self.last.going:
                return self.last
            self.last = run = Run(len(lines))
            self._thread = Thread(target=self._work, args=(run, tuple(lines)), daemon=True)
            self._thread.start()
            return run

    def cancel(self) -> None:
        """Stop after the lines that are being run; what is done stays."""
        if self.last is not None and self.last.going:
            self.last.cancelled = True

    def close(self) -> None:
        """Stop and wait."""
        self.cancel()
        if self._thread is not None:
            self._thread.join()

    def _work(self, run: Run, lines: tuple[Address, ...]) -> None:
        try:
            with store.open(self._path) as workspace, closing(run_lines(workspace, lines)) as rans:
                for ran in rans:
                    run.done += 1
                    run.problems += [(named(ran.line), problem) for problem in ran.problems[:1]]
                    if run.cancelled:
                        break
        except HalfboreError as error:
            run.problems += [("", problem) for problem in error.problems]
        except Exception as error:
            run.problems.append(("", Problem(f"a fault of the program: {type(error).__name__}")))
        finally:
            run.cancelled = run.cancelled and run.done < run.total
            run.took = time.monotonic() - run.began
