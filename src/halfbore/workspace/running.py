"""Run shaft lines of a workspace: as far as each can be, several at once, and keep what came out."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import date
from multiprocessing import active_children, get_context, parent_process
from multiprocessing.process import BaseProcess
from threading import Thread, current_thread, main_thread
from types import FrameType

from halfbore.domain.catalogue import Catalogue
from halfbore.domain.estimate import Narrowing
from halfbore.domain.job import JobReading
from halfbore.domain.study import Study
from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address
from halfbore.domain.worth import Worth
from halfbore.errors import HalfboreError, Problem
from halfbore.estimate.reading import read_completed
from halfbore.narrowing import answered
from halfbore.present.plain import plain_data
from halfbore.store import Place, Workspace
from halfbore.store import open as open_workspace
from halfbore.study import Stage
from halfbore.workspace.catalogues import catalogues_of
from halfbore.workspace.lines import job_data
from halfbore.workspace.ranking import as_plain, worths

FEW = 2
"""Up to this many shaft lines are run in this process: starting others costs more."""
DIED = "the process that works it out ended twice before it was done"
AGAIN = "if memory ran out, close what else needs it; then run this one alone"
_Job = tuple[Address, Plain, date | None, Stage]


@dataclass(frozen=True)
class Ran:
    """A shaft line as run: its study with what to measure next, or why it could not be run."""

    line: Address
    study: Study | None
    narrowings: tuple[Narrowing, ...]
    problems: tuple[Problem, ...]
    worths: tuple[Worth, ...]


def reading_of(workspace: Workspace, line: Address) -> JobReading:
    """Return the job of a shaft line as read, completed from the name plate. Raises InputError."""
    return read_completed(job_data(workspace, line))


def run_lines(
    workspace: Workspace,
    lines: Sequence[Address],
    on: date | None = None,
    upto: Stage = Stage.VALUE,
    kept: list[Address] | None = None,
) -> Generator[Ran, None, None]:
    """Run shaft lines, keep each result as soon as it is there, and yield them in order.

    on: day as of which they are run; that of the survey when not given; kept: takes the address of each whose result is kept.
    One that cannot be run yields its problems.
    """
    told = [] if kept is None else kept
    begun = {line: workspace.inputs_hash(line) for line in lines}
    waiting: dict[Address, Ran] = {}
    order = iter(lines)
    following = next(order, None)
    with _interrupts() as heed:
        for ran in _studies(workspace, lines, on, upto):
            heed()
            if ran.study is not None and upto is Stage.VALUE:
                _keep(workspace, ran.line, ran, begun[ran.line])
                told.append(ran.line)
            waiting[ran.line] = ran
            while following in waiting:
                yield waiting.pop(following)
                following = next(order, None)


def _studies(workspace: Workspace, lines: Sequence[Address], on: date | None, upto: Stage) -> Iterator[Ran]:
    """Yield shaft lines as run, each as soon as it is done; whoever stops listening ends those that are still at it."""
    jobs = [(line, job_data(workspace, line), on, upto) for line in lines]
    if len(jobs) <= FEW:
        catalogues = catalogues_of(workspace)
        yield from (_studied(line, data, catalogues, on, upto) for line, data, on, upto in jobs)
        return
    # a worker that dies takes the others of its pool with it: whose line it was shows where each has a pool of its own
    for job in (yield from _in_pool(workspace.path, jobs)):
        for line, *_ in (yield from _in_pool(workspace.path, [job])):
            yield Ran(line, None, (), (Problem(DIED, " ".join(filter(None, line)), next_step=AGAIN),), ())


def _in_pool(path: Place, jobs: Sequence[_Job]) -> Generator[Ran, None, list[_Job]]:
    """Yield jobs as run in other processes, each as soon as it is done; return those that a dead process left undone."""
    workers, others = min(len(jobs), os.cpu_count() or 1), set(active_children())
    pool = ProcessPoolExecutor(workers, get_context("spawn"), _begin, (path,))
    asked, answered = list[Future[Ran]](), set[Address]()
    try:
        with (
            _not_interrupted(),
            suppress(BrokenProcessPool),
        ):  # the workers inherit it: an interrupt is for this process
            for job in jobs:
                asked.append(pool.submit(_in_worker, job))
        for done in as_completed(asked):
            if not isinstance(done.exception(), BrokenProcessPool):
                answered.add(done.result().line)
                yield done.result()
    except BaseException:
        pool.shutdown(wait=False, cancel_futures=True)
        for worker in set(active_children()) - others:
            worker.terminate()
        raise
    finally:
        pool.shutdown()
    return [job for job in jobs if job[0] not in answered]


@contextmanager
def _interrupts() -> Iterator[Callable[[], None]]:
    """Yield what raises an interrupt once more that came where nobody could hear it, such as in a callback of the store."""
    before = signal.getsignal(signal.SIGINT)
    if before is None or current_thread() is not main_thread():  # nobody here may set another way to hear it
        yield lambda: None
        return
    came: list[int] = []

    def hear(number: int, frame: FrameType | None) -> None:
        came.append(number)
        if callable(before):
            before(number, frame)

    def heed() -> None:
        if came:
            raise KeyboardInterrupt

    signal.signal(signal.SIGINT, hear)
    try:
        yield heed
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _not_interrupted() -> Iterator[None]:
    """Let an interrupt wait, where the system can hold one back."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


_catalogues: tuple[Catalogue, ...] = ()


def _begin(path: Place) -> None:
    """Read the catalogues once in each worker, which ends when the process that began it is gone."""
    global _catalogues
    Thread(target=_end_with, args=(parent_process(),), daemon=True).start()
    with open_workspace(path) as workspace:
        _catalogues = catalogues_of(workspace)


def _end_with(parent: BaseProcess | None) -> None:
    """End this process once its parent has ended: a killed one tells nobody that no more work comes."""
    if parent is not None:
        parent.join()
        os._exit(1)


def _in_worker(job: _Job) -> Ran:
    line, data, on, upto = job
    return _studied(line, data, _catalogues, on, upto)


def _studied(
    line: Address, data: Plain, catalogues: tuple[Catalogue, ...], on: date | None, upto: Stage
) -> Ran:
    try:
        reading = read_completed(data)
        found, narrowings = answered(reading, catalogues, upto, on)
    except HalfboreError as error:
        return Ran(line, None, (), error.problems, ())
    return Ran(line, found, narrowings, (), worths(line[0], line[1], found, narrowings))


def _keep(workspace: Workspace, line: Address, ran: Ran, inputs_hash: str) -> None:
    assert ran.study is not None
    facts = ran.study.provenance
    workspace.keep_result(
        line,
        editions=facts.editions,
        seed=facts.seed,
        on=facts.on,
        record=plain_data(ran.study),
        inputs_hash=inputs_hash,
        summary={"worths": as_plain(ran.worths), "sentence": ran.study.sentence},
    )
