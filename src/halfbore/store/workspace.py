"""One workspace: a plant with its history, results, documents and catalogues, whole operations only."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from types import TracebackType
from typing import Any

from sqlalchemy import Connection, Engine, select

import halfbore
from halfbore.domain.survey import Plain
from halfbore.domain.workspace import (
    Address,
    Batch,
    Change,
    Edit,
    KeptCatalogue,
    KeptDocument,
    KeptResult,
    MachineNode,
    Mark,
    named,
)
from halfbore.errors import InputError, Problem, shown
from halfbore.limits import PROBLEMS
from halfbore.store import backup, history, kept, marks, paths, things
from halfbore.store.accounts import Accounts
from halfbore.store.draft import Draft, taken
from halfbore.store.engine import reading, writing
from halfbore.store.errors import damaged
from halfbore.store.place import Place
from halfbore.store.tables import checked, plant, position
from halfbore.store.things import Scene, folded
from halfbore.store.uploads import Uploads


class Workspace:
    """An open workspace; use it with `with`, or close it. Each method is one transaction."""

    def __init__(self, engine: Engine, path: Place) -> None:
        self.path = path
        self._engine = engine
        with self._reading() as connection:
            rows = connection.execute(select(plant)).mappings().all()
            if len(rows) != 1:
                raise damaged("its plant is missing", str(path))
            row = checked(plant, rows[0])
        self._plant: int = row["id"]
        self.plant: str = row["name"]
        self.uid: str = row["uid"]
        self.accounts = Accounts(self._plant, self._reading, self._writing)
        self.uploads = Uploads(self._plant, self._reading, self._writing)

    def __enter__(self) -> Workspace:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Give the file back."""
        self._engine.dispose()

    def _reading(self) -> AbstractContextManager[Connection]:
        return reading(self._engine, str(self.path))

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        """Give a connection to the only one who writes: SQLite locks its file, others the row of the plant."""
        with writing(self._engine, str(self.path)) as connection:
            connection.execute(select(plant.c.id).where(plant.c.id == self._plant).with_for_update())
            yield connection

    # What is there

    def tree(self, machines: Collection[str] | None = None) -> tuple[MachineNode, ...]:
        """Return the machines with their shaft lines and positions, in order; all of them when none are named."""
        with self._reading() as connection:
            return things.tree(things.load(connection, self._plant, machines))

    def mark(self) -> Mark:
        """Return how far the workspace has come."""
        with self._reading() as connection:
            return marks.mark(connection, self._plant)

    def touched(self, since: Mark) -> frozenset[str] | None:
        """Return the tags of machines that changed or were run since; None where it may be all of them."""
        with self._reading() as connection:
            return marks.touched(connection, self._plant, since)

    def contents(self, machines: Collection[str] | None = None) -> dict[Address, Plain]:
        """Return all documents by address, from the plant down: one look at everything, or at machines of it."""
        with self._reading() as connection:
            scene = things.load(connection, self._plant, machines)
        return {address: thing.document for address, thing in scene.items()}

    def document(self, address: Address) -> Plain:
        """Return the document of a thing, every value as typed. Raises InputError for an unknown address."""
        with self._reading() as connection:
            scene, whole = self._at(connection, address)
        return scene[whole].document

    def version(self, address: Address) -> int:
        """Return the version of a thing: the batch that changed it last. Raises InputError for an unknown address."""
        with self._reading() as connection:
            scene, whole = self._at(connection, address)
        return scene[whole].version

    def find(self, text: str) -> tuple[Address, ...]:
        """Return what is called that: "E1-A", "E1", "E1 head", whatever the case and the blanks; empty for nothing."""
        asked = folded(text)
        if not asked:
            return ()
        with self._reading() as connection:
            scene = things.load(connection, self._plant, things.machines_with(connection, self._plant, asked))
        return tuple(address for address in scene if address and _called(address) == asked)

    def job_data(self, line: Address, edits: Iterable[Edit] = ()) -> Plain:
        """Return the job of a shaft line as a job file would hold it: plant, machine, line, positions, each as typed.

        line: a shaft line; a machine where it has one only. A line without a title has its tags for one.
        edits: of values, as if they were made; nothing is kept.
        Raises InputError for an unknown address, and for a machine of several lines.
        """
        with self._reading() as connection:
            return self._job(connection, line, edits)[1]

    def _job(
        self, connection: Connection, address: Address, edits: Iterable[Edit] = ()
    ) -> tuple[Address, Plain]:
        scene, whole = self._at(connection, address)
        for edit in edits:
            thing = scene.get(edit.address)
            if thing is not None:
                document = paths.set(thing.document, edit.path, edit.new)
                scene = {**scene, edit.address: replace(thing, document=document)}
        line = _line_of(scene, whole)
        return line, things.job_of(scene, line, things.below(scene)[line])

    def _at(self, connection: Connection, address: Address) -> tuple[Scene, Address]:
        """Return a machine with all below it, or the plant alone, and the address in the letters of what is there."""
        scene = things.load(connection, self._plant, address[:1])
        wanted = tuple(map(folded, address))
        whole = next((there for there in scene if tuple(map(folded, there)) == wanted), None)
        if whole is None:
            raise _unknown(address, things.load(connection, self._plant))
        return scene, whole

    # Edits and their history

    def apply(
        self,
        edits: Iterable[Edit],
        who: str,
        what: str,
        source: str = "",
        expected: Mapping[Address, int] | None = None,
    ) -> Batch | None:
        """Make edits and add them to the history, all of them or none.

        who, what, source: who makes them, what they are, from which file; expected: versions of things that the
        edits rest on, 0 for one that shall not be there yet. Returns None where they change nothing.
        Raises InputError with every edit that cannot be made; StaleEditError where a version is another.
        """
        wanted = list(edits)
        machines = {
            tag for address in (*(e.address for e in wanted), *(expected or ())) for tag in address[:1]
        }
        with self._writing() as connection:
            draft = self._draft(connection, machines)
            if expected:
                versions = {draft.known(address): version for address, version in expected.items()}
                there = {address: thing.version for address, thing in draft.scene.items()}
                history.refuse_stale(connection, self._plant, there, versions)
            _make(draft, wanted)
            return self._record(connection, draft, who, what, source)

    def _draft(self, connection: Connection, machines: Collection[str]) -> Draft:
        scene = things.load(connection, self._plant, machines)
        return Draft(scene, things.last_machine(connection, self._plant))

    def _record(
        self,
        connection: Connection,
        draft: Draft,
        who: str,
        what: str,
        source: str = "",
        undoes: int | None = None,
    ) -> Batch | None:
        problems = [*draft.contradictions(), *_taken(connection, self._plant, draft)]
        if problems:
            raise InputError(problems)
        steps = draft.steps()
        if not steps and undoes is None:
            return None
        batch = history.record(connection, self._plant, steps, who, what, source, undoes)
        changed = dict.fromkeys(step.address for step in steps)
        things.save(connection, self._plant, draft.scene, draft.documents, draft.places, changed, batch.id)
        return batch

    def history(self, address: Address | None = None, limit: int | None = 50) -> tuple[Change, ...]:
        """Return the changes of a thing and all below it, of the whole plant when not given, newest batch first."""
        with self._reading() as connection:
            return history.changes(connection, self._plant, address or (), limit)

    def batches(self, limit: int | None = 50) -> tuple[Batch, ...]:
        """Return the batches, newest first."""
        with self._reading() as connection:
            return history.batches(connection, self._plant, limit)

    def author(self, batch: int) -> str | None:
        """Return who made a batch; None where there is none of that number."""
        with self._reading() as connection:
            return history.author(connection, self._plant, batch)

    def undo(self, who: str, batch: int | None = None) -> Batch:
        """Take a batch back by a new one; the last that is no undo and not taken back when none is named.

        Raises UndoError where there is none, or later batches changed the same places, with all of them.
        """
        with self._writing() as connection:
            row = history.to_undo(connection, self._plant, batch)
            steps = history.steps_of(connection, self._plant, row["id"])
            history.refuse_conflicts(connection, self._plant, row["id"], steps)
            machines = {tag for step in steps for tag in step.address[:1]}
            draft = self._draft(connection, machines)
            history.take_back(draft, steps)
            what = f"undo of batch {row['id']}: {row['what']}"
            made = self._record(connection, draft, who, what, undoes=row["id"])
        assert made is not None
        return made

    # Results

    def inputs_hash(self, line: Address) -> str:
        """Return the hash of all that a result of a shaft line rests on: its job and the current catalogues."""
        with self._reading() as connection:
            return self._inputs(connection, line)[1]

    def _inputs(self, connection: Connection, address: Address) -> tuple[Address, str]:
        line, job = self._job(connection, address)
        return line, kept.inputs_hash(job, kept.current_hashes(connection, self._plant))

    def keep_result(
        self,
        line: Address,
        *,
        editions: Sequence[str],
        seed: int,
        on: date,
        record: Any,
        summary: Mapping[str, Any],
        inputs_hash: str = "",
        package: str = "",
    ) -> KeptResult:
        """Keep the result of a run.

        record: all of it, plain data; summary: what lists show. inputs_hash: as it was when the run began, so that an
        edit made meanwhile shows; as it is now when not given. package: version of the program; this one's.
        """
        with self._writing() as connection:
            whole, now = self._inputs(connection, line)
            inputs, made_by = inputs_hash or now, package or halfbore.__version__
            return kept.keep_result(
                connection, self._plant, whole, inputs, made_by, editions, seed, on, record, summary
            )

    def result(self, line: Address) -> KeptResult | None:
        """Return the latest result of a shaft line, with why it is stale; None where it was never run."""
        with self._reading() as connection:
            whole, now = self._inputs(connection, line)
            found = kept.results(connection, self._plant, whole)
            return self._fitting(connection, found, {whole: now}).get(whole)

    def results(self, machines: Collection[str] | None = None) -> dict[Address, KeptResult]:
        """Return the latest result of each shaft line that has one, in the order of the plant.

        Where an earlier one rests on what the inputs are again, that one is the answer.
        machines: tags of those that are meant, all when not given.
        """
        with self._reading() as connection:
            scene = things.load(connection, self._plant, machines)
            tags = None if machines is None else {address[0] for address in scene if address}
            found = kept.results(connection, self._plant, machines=tags)
            catalogues = kept.current_hashes(connection, self._plant)
            children = things.below(scene)
            now = {
                line: kept.inputs_hash(things.job_of(scene, line, children[line]), catalogues)
                for line in scene
                if line in found
            }
            return self._fitting(connection, found, now)

    def _fitting(
        self, connection: Connection, found: Mapping[Address, KeptResult], now: Mapping[Address, str]
    ) -> dict[Address, KeptResult]:
        """Return results with why they are stale; in place of a stale one another that is of today's inputs.

        found: the latest ones; now: shaft line → hash of its inputs.
        """
        package = halfbore.__version__
        seen = {
            line: kept.with_staleness(found[line], inputs, package)
            for line, inputs in now.items()
            if line in found
        }
        wanted = {line: now[line] for line, one in seen.items() if one.stale}
        return seen | kept.results_on(connection, self._plant, wanted, package)

    def result_record(self, result: int) -> Any:
        """Return the whole record of a result."""
        with self._reading() as connection:
            return kept.result_record(connection, self._plant, result)

    # Documents that were issued

    def keep_document(
        self,
        address: Address,
        *,
        number: str,
        title: str,
        kind: str,
        file_name: str,
        content: bytes,
        who: str,
        result: int | None = None,
        record: Any = None,
    ) -> KeptDocument:
        """Keep an issued document for good; nothing that comes later changes it.

        result: the kept one that it shows; record: what it shows, where that is not the record of that result.
        """
        words = {"number": number, "title": title, "kind": kind, "file_name": file_name}
        with self._writing() as connection:
            _, whole = self._at(connection, address)
            return kept.keep_document(connection, self._plant, whole, words, content, who, result, record)

    def documents(self) -> tuple[KeptDocument, ...]:
        """Return the issued documents, oldest first."""
        with self._reading() as connection:
            return kept.documents(connection, self._plant)

    def document_bytes(self, document: int) -> bytes:
        """Return an issued document, byte by byte as it was."""
        with self._reading() as connection:
            return kept.document_bytes(connection, self._plant, document)

    def document_record(self, document: int) -> Any:
        """Return the whole record that an issued document shows, None where it was kept without one."""
        with self._reading() as connection:
            return kept.document_record(connection, self._plant, document)

    # Catalogues

    def keep_catalogue(
        self, supplier: str, version: str, mapping: str, files: Mapping[str, bytes]
    ) -> KeptCatalogue:
        """Keep a supplier's catalogue with its files, and make it the current one; older ones stay.

        What is there already is not kept again.
        """
        with self._writing() as connection:
            return kept.keep_catalogue(connection, self._plant, supplier, version, mapping, files)

    def catalogues(self, current_only: bool = True) -> tuple[KeptCatalogue, ...]:
        """Return the catalogues by supplier, the newest of each first."""
        with self._reading() as connection:
            return kept.catalogues(connection, self._plant, current_only)

    def catalogue_files(self, catalogue: int) -> dict[str, bytes]:
        """Return the files of a catalogue by name."""
        with self._reading() as connection:
            return kept.catalogue_files(connection, self._plant, catalogue)

    # Backup

    def backup(self, target: Path) -> None:
        """Copy the workspace while it is in use; the copy is checked before it has its name.

        A file that is there is only replaced where it is an earlier backup of this workspace. Raises WorkspaceError.
        """
        backup.write(self._engine, self.path, self.uid, target)


def _make(draft: Draft, edits: Sequence[Edit]) -> None:
    """Make all edits. Raises InputError with all that cannot be made."""
    problems: list[Problem] = []
    for edit in edits:
        try:
            draft.make(edit)
        except InputError as error:
            problems += [_placed(problem, edit) for problem in error.problems]
    if len(problems) > PROBLEMS:
        more = Problem(f"{len(problems) - PROBLEMS} more edits cannot be made")
        problems = [*problems[:PROBLEMS], more]
    if problems:
        raise InputError(problems)


def _placed(problem: Problem, edit: Edit) -> Problem:
    where = f"{named(edit.address)} {problem.where or edit.path}".strip()
    return Problem(problem.what, where, problem.value, problem.accepted, problem.next_step)


def _taken(connection: Connection, number: int, draft: Draft) -> list[Problem]:
    """Return the new positions whose tag stands in a machine that the draft does not hold."""
    new = {folded(a[2]): a for a in draft.added() if len(a) == 3}
    gone = {thing.id for a, thing in draft.scene.items() if len(a) == 3 and a not in draft.documents}
    problems = []
    for row in things.rows(connection, position, "folded", sorted(new)):
        if row["plant_id"] == number and row["id"] not in gone:
            scene = things.load(connection, number)
            other = next(a for a, thing in scene.items() if len(a) == 3 and thing.id == row["id"])
            problems.append(taken(new[row["folded"]], other))
    return problems


def _called(address: Address) -> str:
    """Return what a thing is called; nothing for a line that has no tag, since it is called as its machine."""
    return folded(address[2] if len(address) == 3 else named(address)) if address[-1] else ""


def _line_of(scene: Scene, address: Address) -> Address:
    """Return a shaft line, or the only one of a machine. Raises InputError."""
    if len(address) == 2:
        return address
    lines = [there for there in scene if len(there) == 2 and there[:1] == address]
    if len(address) == 1 and len(lines) == 1:
        return lines[0]
    accepted = ", ".join(named(line) for line in lines) or "a shaft line, such as E1 head"
    raise InputError(Problem("is no shaft line", named(address), accepted=accepted))


def _unknown(address: Address, scene: Scene) -> InputError:
    known = [named(there) for there in scene if there]
    near = difflib.get_close_matches(named(address), known, 3, 0.5)
    accepted = ", ".join(near or known[:5])
    return InputError(Problem("is not in the workspace", value=shown(named(address)), accepted=accepted))
