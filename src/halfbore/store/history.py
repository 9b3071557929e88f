"""The history: batches and their changes are only ever added; taking one back is a batch of its own."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import ColumnElement, Connection, func, insert, or_, select

from halfbore.domain.workspace import Address, Batch, Change, named
from halfbore.errors import Problem
from halfbore.limits import PROBLEMS
from halfbore.store.draft import Draft, Step
from halfbore.store.errors import StaleEditError, UndoError
from halfbore.store.paths import overlap
from halfbore.store.plain import written
from halfbore.store.tables import Row, batch, change, checked, moment, now, sealed, wanted

TAGS = ("machine", "line", "position")


def record(
    connection: Connection,
    plant: int,
    steps: Sequence[Step],
    who: str,
    what: str,
    source: str = "",
    undoes: int | None = None,
) -> Batch:
    """Add a batch to the history with all its changes. Raises WorkspaceError where nobody is named."""
    row = sealed(
        batch,
        {
            "plant_id": plant,
            "at": now(),
            "who": wanted(who, "who makes the edit"),
            "what": wanted(what, "what the edit is about"),
            "source": source,
            "changes": len(steps),
            "undoes": undoes,
        },
    )
    number: int = connection.execute(insert(batch).returning(batch.c.id), row).scalar_one()
    if steps:
        connection.execute(insert(change), [_change_row(number, step) for step in steps])
    return _batch({**row, "id": number}, set())


def _change_row(number: int, step: Step) -> dict[str, Any]:
    row = {
        "batch_id": number,
        **columns_of(step.address),
        "path": step.path,
        "old": None if step.old is None else written(step.old),
        "new": None if step.new is None else written(step.new),
        "place": step.place,
    }
    return sealed(change, row)


def columns_of(address: Address) -> dict[str, str | None]:
    """Return an address as columns; what is below it is empty."""
    return dict(zip(TAGS, (*address, None, None, None), strict=False))


def address_of(row: Row) -> Address:
    """Return the address that the columns of a row hold."""
    return tuple(row[tag] for tag in TAGS if row[tag] is not None)


def batches(connection: Connection, plant: int, limit: int | None) -> tuple[Batch, ...]:
    """Return the batches, newest first. Raises WorkspaceError where a row is damaged."""
    found = select(batch).where(batch.c.plant_id == plant).order_by(batch.c.id.desc()).limit(limit)
    gone = undone(connection, plant)
    return tuple(_batch(checked(batch, row), gone) for row in connection.execute(found).mappings())


def changes(connection: Connection, plant: int, address: Address, limit: int | None) -> tuple[Change, ...]:
    """Return the changes of a thing and all below it: newest batch first, each in its order."""
    mine = [change.c[tag] == value for tag, value in zip(TAGS, address, strict=False)]
    order = change.c.batch_id.desc(), change.c.id
    rows = _changes(connection, plant, mine, order, limit)
    numbers = sorted({row["batch_id"] for row in rows})
    made = {row["id"]: row for row in _rows_of(connection, numbers)}
    return tuple(_change(row, made[row["batch_id"]]) for row in rows)


def _rows_of(connection: Connection, numbers: Sequence[int]) -> Iterable[Row]:
    if not numbers:
        return ()
    found = select(batch).where(batch.c.id.between(numbers[0], numbers[-1]))
    return (checked(batch, row) for row in connection.execute(found).mappings())


def _changes(
    connection: Connection,
    plant: int,
    where: Iterable[ColumnElement[bool]],
    order: Iterable[ColumnElement[Any]] = (change.c.id,),
    limit: int | None = None,
) -> list[Row]:
    joined = (
        select(change).join(batch, change.c.batch_id == batch.c.id).where(batch.c.plant_id == plant, *where)
    )
    rows = connection.execute(joined.order_by(*order).limit(limit)).mappings()
    return [checked(change, row) for row in rows]


def refuse_stale(
    connection: Connection, plant: int, versions: Mapping[Address, int], expected: Mapping[Address, int]
) -> None:
    """Compare the versions of things with those that an edit was made on; 0 is that of nothing.

    Raises StaleEditError, which says who changed what since.
    """
    problems = []
    for address, version in expected.items():
        if versions.get(address, 0) != version:
            mine = [change.c[tag].is_not_distinct_from(value) for tag, value in columns_of(address).items()]
            since = _changes(connection, plant, [*mine, change.c.batch_id > version])
            problems.append(_stale(connection, address, since))
    if problems:
        raise StaleEditError(problems)


def _stale(connection: Connection, address: Address, since: Sequence[Row]) -> Problem:
    step = "look at it again, then edit it as it is now"
    if not since:
        return Problem("is not the thing that was looked at", named(address), next_step=step)
    last = next(iter(_rows_of(connection, [since[-1]["batch_id"]])))
    touched = dict.fromkeys(row["path"] or "the whole thing" for row in since)
    return Problem(f"was changed since by {_by(last)}", named(address), ", ".join(touched), next_step=step)


def _by(row: Row) -> str:
    return f"{row['who']} on {row['at'][:16].replace('T', ' ')} UTC, batch {row['id']}"


def author(connection: Connection, plant: int, number: int) -> str | None:
    """Return who made a batch; None where there is none of that number."""
    found = select(batch).where(batch.c.plant_id == plant, batch.c.id == number)
    row = connection.execute(found).mappings().first()
    return None if row is None else str(checked(batch, row)["who"])


def undone(connection: Connection, plant: int) -> set[int]:
    """Return the batches that are taken back as things stand: an undo that is taken back itself does not count."""
    back = select(batch).where(batch.c.plant_id == plant, batch.c.undoes.is_not(None))
    gone: set[int] = set()
    for row in connection.execute(back.order_by(batch.c.id.desc())).mappings():
        if row["id"] not in gone:
            gone.add(checked(batch, row)["undoes"])
    return gone


def to_undo(connection: Connection, plant: int, number: int | None) -> Row:
    """Return the batch that shall be taken back: the one of that number, else the last that can be.

    Raises UndoError where there is none, or it is taken back already.
    """
    gone = undone(connection, plant)
    newest_first = select(batch).where(batch.c.plant_id == plant).order_by(batch.c.id.desc())
    rows = connection.execute(newest_first).mappings().all()
    if number is None:
        last = next((row for row in rows if row["undoes"] is None and row["id"] not in gone), None)
        if last is None:
            raise UndoError(Problem("there is nothing to take back"))
        return checked(batch, last)
    found = next((row for row in rows if row["id"] == number), None)
    if found is None:
        raise UndoError(Problem("no change has this number", value=str(number), next_step="halfbore history"))
    if number in gone:
        by = select(func.max(batch.c.id)).where(batch.c.undoes == number)
        step = f"take back batch {connection.execute(by).scalar_one()} to have it again"
        raise UndoError(Problem("the batch is taken back already", value=str(number), next_step=step))
    return checked(batch, found)


def steps_of(connection: Connection, plant: int, number: int) -> list[Step]:
    """Return the changes of a batch, in order."""
    rows = _changes(connection, plant, [change.c.batch_id == number])
    return [Step(address_of(r), r["path"], _plain(r["old"]), _plain(r["new"]), r["place"]) for r in rows]


def refuse_conflicts(connection: Connection, plant: int, number: int, steps: Sequence[Step]) -> None:
    """Compare the changes of a batch with later ones that still stand.

    Raises UndoError with every place that was changed again, and by which batch.
    """
    gone = undone(connection, plant)
    # Of a later batch that was taken back neither it counts nor its undo; the undo of an earlier one does.
    later = [change.c.batch_id > number, or_(batch.c.undoes.is_(None), batch.c.undoes < number)]
    meets = _Meeting(steps)
    found = [
        row
        for row in _changes(connection, plant, later)
        if row["batch_id"] not in gone and meets(address_of(row), row["path"])
    ]
    if not found:
        return
    made = {row["id"]: row for row in _rows_of(connection, sorted({row["batch_id"] for row in found}))}
    step = f"take back batch {found[-1]['batch_id']} first"
    problems = [
        Problem(f"was changed again by {_by(made[row['batch_id']])}", _place(row), next_step=step)
        for row in found[:PROBLEMS]
    ]
    if len(found) > PROBLEMS:
        problems.append(Problem(f"{len(found) - PROBLEMS} more places were changed again", next_step=step))
    raise UndoError(problems)


def _place(row: Row) -> str:
    return f"{named(address_of(row))} {row['path']}".strip()


class _Meeting:
    """Whether a later change is about something that a batch changed."""

    def __init__(self, steps: Sequence[Step]) -> None:
        self.paths: dict[Address, list[str]] = defaultdict(list)
        for step in steps:
            self.paths[step.address].append(step.path)
        self.things = {step.address for step in steps if not step.path}
        self.above = {step.address[:n] for step in steps for n in range(len(step.address))}

    def __call__(self, address: Address, path: str) -> bool:
        if any(overlap(path, mine) for mine in self.paths.get(address, ())):
            return True
        if not path and address in self.above:
            return True
        return any(address[:n] in self.things for n in range(len(address)))


def take_back(draft: Draft, steps: Sequence[Step]) -> None:
    """Put everything that a batch changed back as it was. Raises InputError where it no longer has its place."""
    for step in reversed(steps):
        if step.path:
            draft.set(step.address, step.path, step.old)
        elif step.old is None:
            draft.remove(step.address)
        else:
            draft.put(step.address, step.old, step.place)


def _batch(row: Row, gone: set[int]) -> Batch:
    return Batch(
        row["id"],
        moment(row["at"]),
        row["who"],
        row["what"],
        row["source"],
        row["changes"],
        row["undoes"],
        row["id"] in gone,
    )


def _change(row: Row, made: Row) -> Change:
    return Change(
        row["batch_id"],
        moment(made["at"]),
        made["who"],
        made["what"],
        address_of(row),
        row["path"],
        _plain(row["old"]),
        _plain(row["new"]),
    )


def _plain(text: str | None) -> Any:
    return None if text is None else json.loads(text)
