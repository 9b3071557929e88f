"""How far a workspace has come, and what was touched since: so that whoever shows all of it need not read all again."""

from __future__ import annotations

from sqlalchemy import Connection, ScalarSelect, Table, func, select

from halfbore.domain.workspace import Mark
from halfbore.store import kept
from halfbore.store.tables import batch, change, result


def mark(connection: Connection, plant: int) -> Mark:
    """Return how far the workspace has come."""
    hashes = tuple(sorted(kept.current_hashes(connection, plant)))
    last = connection.execute(select(_last(batch, plant), _last(result, plant))).one()
    return Mark(last[0] or 0, last[1] or 0, hashes)


def _last(table: Table, plant: int) -> ScalarSelect[int]:
    return select(func.max(table.c.id)).where(table.c.plant_id == plant).scalar_subquery()


def touched(connection: Connection, plant: int, since: Mark) -> frozenset[str] | None:
    """Return the tags of machines of which anything changed or was run since; None where it may be all of them."""
    if mark(connection, plant).catalogues != since.catalogues:
        return None
    mine = (change.c.batch_id == batch.c.id) & (batch.c.plant_id == plant)
    changed = select(change.c.machine, change.c.line, change.c.path).join(batch, mine)
    rows = connection.execute(changed.where(change.c.batch_id > since.batch).distinct()).all()
    if any(machine is None or (line is None and not path) for machine, line, path in rows):
        return None
    ran = select(result.c.machine).where(result.c.plant_id == plant, result.c.id > since.result)
    return frozenset(row[0] for row in rows) | frozenset(connection.execute(ran.distinct()).scalars())
