"""The plant, its machines, shaft lines and positions: from their tables to documents by address, and back."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from sqlalchemy import Connection, Select, Table, bindparam, delete, func, insert, or_, select, update

from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address, LineNode, MachineNode
from halfbore.store import tables
from halfbore.store.plain import merged, written
from halfbore.store.tables import THINGS, Row, checked, sealed

AT_ONCE = 500
"""Values that a query names; more are asked for in several."""


@dataclass(frozen=True)
class Thing:
    """A thing as it stands in its table; version: the batch that changed it last."""

    id: int
    parent: int
    place: int
    document: Plain
    version: int


Scene = dict[Address, Thing]
"""Things by address: the plant, then its machines, then shaft lines, then positions, each in order."""


def folded(tag: str) -> str:
    """Return a tag as it is compared: without case, blanks at its ends, and more than one blank between words."""
    return " ".join(tag.casefold().split())


def load(connection: Connection, plant: int, machines: Collection[str] | None = None) -> Scene:
    """Return the plant and machines of it with all below them.

    machines: tags, in any case; None for all. Raises WorkspaceError where a row is damaged.
    """
    (row,) = rows(connection, tables.plant, "id", [plant])
    scene: Scene = {(): _thing(row, 0)}
    keys = None if machines is None else sorted({folded(tag) for tag in machines})
    above: dict[int, Address] = {plant: ()}
    for level, table in enumerate(THINGS):
        by, values = ("parent_id", sorted(above)) if level or keys is None else ("folded", keys)
        near = [row for row in rows(connection, table, by, values) if row["parent_id"] in above]
        order = {number: rank for rank, number in enumerate(above)}
        found = sorted(near, key=lambda row: (order[row["parent_id"]], row["place"], row["folded"]))
        addresses = {row["id"]: (*above[row["parent_id"]], row["tag"]) for row in found}
        scene.update((addresses[row["id"]], _thing(row, row["parent_id"])) for row in found)
        above = addresses
    return scene


def last_machine(connection: Connection, plant: int) -> int:
    """Return the place of the last machine of a plant, -1 where it has none."""
    last = select(func.max(tables.machine.c.place)).where(tables.machine.c.parent_id == plant)
    found = connection.execute(last).scalar_one()
    return -1 if found is None else int(found)


def machines_with(connection: Connection, plant: int, asked: str) -> list[str]:
    """Return the tags of machines that are called that, or have a shaft line or a position that is.

    asked: a folded text: a machine, machine and shaft line, a position.
    """
    machine, line, position = (table.c for table in THINGS)
    joined = tables.machine.outerjoin(tables.shaft_line).outerjoin(
        tables.position, tables.position.c.parent_id == line.id
    )
    called = (machine.folded, machine.folded + " " + line.folded, position.folded)
    mine = machine.parent_id == plant, or_(*(name == asked for name in called))
    return list(connection.execute(select(machine.tag).select_from(joined).where(*mine).distinct()).scalars())


def rows(connection: Connection, table: Table, column: str, values: Sequence[Any]) -> Iterator[Row]:
    """Yield the rows in which a column has one of some values."""
    for start in range(0, len(values), AT_ONCE):
        some = {"values": values[start : start + AT_ONCE]}
        yield from (
            checked(table, row) for row in connection.execute(_asking(table, column), some).mappings()
        )


@cache
def _asking(table: Table, column: str) -> Select[Any]:
    """Return the query for rows by the values of a column; to put it together takes longer than to run it."""
    return select(table).where(table.c[column].in_(bindparam("values", expanding=True)))


def _thing(row: Row, parent: int) -> Thing:
    return Thing(row["id"], parent, row.get("place", 0), json.loads(row["document"]), row["version"])


def tree(scene: Scene) -> tuple[MachineNode, ...]:
    """Return the machines of a scene, with the tags of what is below."""
    children = below(scene)
    return tuple(
        MachineNode(
            machine[0],
            tuple(
                LineNode(line[1], tuple(position[2] for position in children[line]))
                for line in children[machine]
            ),
        )
        for machine in children[()]
    )


def below(scene: Mapping[Address, object]) -> dict[Address, list[Address]]:
    """Return what stands directly below each thing, in order."""
    children: dict[Address, list[Address]] = {address: [] for address in scene}
    for address in scene:
        if address:
            children[address[:-1]].append(address)
    return children


def job_of(scene: Scene, line: Address, positions: Collection[Address]) -> Plain:
    """Return the job of a shaft line: what plant, machine and line say, each over the one before, and its positions."""
    job: Plain = {}
    for depth in range(3):
        job = merged(job, scene[line[:depth]].document)
    named: Plain = {"format": 1, "machine": {"name": line[0]}}
    untold: Plain = {
        "title": " ".join(filter(None, line)),
        **({"shaft": {"name": line[1]}} if line[1] else {}),
    }
    entries = [{**scene[address].document, "name": address[2]} for address in positions]
    return {**merged(merged(untold, job), named), "positions": entries}


def save(
    connection: Connection,
    plant: int,
    scene: Scene,
    after: Mapping[Address, Plain],
    places: Mapping[Address, int],
    changed: Collection[Address],
    version: int,
) -> None:
    """Write what a batch left of a scene.

    scene: as loaded; after, places: documents that shall be there, and the places of new ones among their neighbours;
    changed: addresses that came, went or got other values; version: the batch.
    """
    gone = [address for address in changed if address not in after]
    for level, table in reversed([*enumerate(THINGS, 1)]):
        ids = [{"row": scene[address].id} for address in gone if len(address) == level]
        if ids:
            connection.execute(delete(table).where(table.c.id == bindparam("row")), ids)
    _change(connection, plant, scene, {a: after[a] for a in changed if a in after and a in scene}, version)
    _add(
        connection,
        plant,
        scene,
        {a: after[a] for a in changed if a in after and a not in scene},
        places,
        version,
    )


def _change(
    connection: Connection, plant: int, scene: Scene, changed: Mapping[Address, Plain], version: int
) -> None:
    if () in changed:
        old = connection.execute(select(tables.plant).where(tables.plant.c.id == plant)).mappings().one()
        row = sealed(tables.plant, {**old, "document": written(changed[()]), "version": version})
        connection.execute(update(tables.plant).where(tables.plant.c.id == plant).values(row))
    for level, table in enumerate(THINGS, 1):
        rows = []
        for address, document in changed.items():
            if len(address) == level:
                thing = scene[address]
                row = _row(table, plant, thing.parent, address, thing.place, document, version)
                rows.append({"row": thing.id, "text": row["document"], "batch": version, "mark": row["seal"]})
        if rows:
            fields: dict[str, Any] = {
                "document": bindparam("text"),
                "version": bindparam("batch"),
                "seal": bindparam("mark"),
            }
            connection.execute(update(table).where(table.c.id == bindparam("row")).values(fields), rows)


def _add(
    connection: Connection,
    plant: int,
    scene: Scene,
    added: Mapping[Address, Plain],
    places: Mapping[Address, int],
    version: int,
) -> None:
    ids: dict[Address, int] = {address: thing.id for address, thing in scene.items()}
    for level, table in enumerate(THINGS, 1):
        new = [address for address in added if len(address) == level]
        if new:
            rows = [_row(table, plant, ids[a[:-1]], a, places[a], added[a], version) for a in new]
            made = insert(table).returning(table.c.id, sort_by_parameter_order=True)
            ids.update(zip(new, connection.execute(made, rows).scalars(), strict=True))


def _row(
    table: Table, plant: int, parent: int, address: Address, place: int, document: Plain, version: int
) -> dict[str, Any]:
    row: dict[str, Any] = {
        "parent_id": parent,
        "tag": address[-1],
        "folded": folded(address[-1]),
        "place": place,
        "document": written(document),
        "version": version,
    }
    if "plant_id" in table.c:
        row["plant_id"] = plant
    return sealed(table, row)
