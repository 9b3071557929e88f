"""Results, issued documents and catalogues: kept whole, and never changed."""

from __future__ import annotations

import json
import zlib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date
from hashlib import sha256
from typing import Any

from sqlalchemy import Connection, Table, func, insert, select, update

from halfbore.domain.survey import Plain
from halfbore.domain.workspace import Address, KeptCatalogue, KeptDocument, KeptResult
from halfbore.errors import InputError, Problem
from halfbore.store.errors import damaged
from halfbore.store.history import address_of, columns_of
from halfbore.store.plain import written
from halfbore.store.tables import (
    Row,
    blob,
    catalogue,
    catalogue_file,
    checked,
    document,
    moment,
    now,
    result,
    sealed,
    wanted,
)

HALF = 32
"""Digits of either hash in the hash of inputs."""


def inputs_hash(job: Plain, catalogues: Sequence[str]) -> str:
    """Return the hash of all that a result rests on, 64 digits: one half of the job, the other of the catalogues.

    job: of the shaft line; catalogues: the hashes of those that are current. Each half is of a SHA-256.
    """
    return _hash(job)[:HALF] + _hash(sorted(catalogues))[:HALF]


def _hash(value: Any) -> str:
    return sha256(written(value).encode()).hexdigest()


def with_staleness(kept: KeptResult, inputs: str, package: str) -> KeptResult:
    """Return a result with why it is no longer current: inputs, catalogues or program are not those it rests on."""
    reasons = {
        "inputs changed": kept.inputs_hash[:HALF] != inputs[:HALF],
        "catalogues changed": kept.inputs_hash[HALF:] != inputs[HALF:],
        f"made with version {kept.package}, this is {package}": kept.package != package,
    }
    return replace(kept, stale=tuple(reason for reason, true in reasons.items() if true))


def keep_result(
    connection: Connection,
    plant: int,
    line: Address,
    inputs: str,
    package: str,
    editions: Sequence[str],
    seed: int,
    on: date,
    record: Any,
    summary: Mapping[str, Any],
) -> KeptResult:
    """Add a result. Raises InputError where its record is no plain data."""
    row = sealed(
        result,
        {
            "plant_id": plant,
            "machine": line[0],
            "line": line[1],
            "made_at": now(),
            "inputs_hash": inputs,
            "package": package,
            "editions": written(list(editions)),
            "seed": str(seed),  # wider than the whole numbers of a database
            "on_day": on.isoformat(),
            "summary": _record(summary),
            **_packed(record),
        },
    )
    number = connection.execute(insert(result).returning(result.c.id), row).scalar_one()
    return _result({**row, "id": number})


def _packed(record: Any) -> dict[str, Any]:
    """Return a record as the columns that hold it."""
    content = zlib.compress(_record(record).encode(), 6)
    return {"record": content, "record_sha256": sha256(content).hexdigest()}


def _record(value: Any) -> str:
    try:
        return written(value)
    except (TypeError, ValueError, RecursionError) as error:
        accepted = "tables, lists, text, finite numbers, true, false, nothing"
        raise InputError(Problem(f"the record cannot be kept: {error}", accepted=accepted)) from None


MOST_NAMED = 500
"""Machines that are named in a question to the database; of more all are asked for."""


def results(
    connection: Connection, plant: int, line: Address = (), machines: Collection[str] | None = None
) -> dict[Address, KeptResult]:
    """Return the latest result of each shaft line that has one, of one line alone, or at least of some machines."""
    mine = [result.c.plant_id == plant]
    if machines is not None and len(machines) <= MOST_NAMED:
        mine.append(result.c.machine.in_(sorted(machines)))
    if line:
        mine += [result.c.machine == line[0], result.c.line == line[1]]
    latest = select(func.max(result.c.id)).where(*mine).group_by(result.c.machine, result.c.line)
    columns = [column for column in result.c if column is not result.c.record]
    rows = connection.execute(select(*columns).where(result.c.id.in_(latest))).mappings()
    found = [_result(checked(result, row)) for row in rows]
    return {kept.address: kept for kept in found}


def results_on(
    connection: Connection, plant: int, inputs: Mapping[Address, str], package: str
) -> dict[Address, KeptResult]:
    """Return the latest results that rest on just these inputs and this version of the program.

    inputs: shaft line → hash of its inputs.
    """
    lines, columns = sorted(inputs), [column for column in result.c if column is not result.c.record]
    found: dict[Address, KeptResult] = {}
    for first in range(0, len(lines), MOST_NAMED):
        few = lines[first : first + MOST_NAMED]
        mine = (result.c.plant_id == plant) & (result.c.package == package)
        mine &= result.c.machine.in_(sorted({line[0] for line in few}))
        mine &= result.c.inputs_hash.in_([inputs[line] for line in few])
        for row in connection.execute(select(*columns).where(mine).order_by(result.c.id)).mappings():
            kept = _result(checked(result, row))
            if inputs.get(kept.address) == kept.inputs_hash:
                found[kept.address] = kept
    return found


def _result(row: Row) -> KeptResult:
    return KeptResult(
        id=row["id"],
        address=(row["machine"], row["line"]),
        made_at=moment(row["made_at"]),
        inputs_hash=row["inputs_hash"],
        package=row["package"],
        editions=tuple(json.loads(row["editions"])),
        seed=int(row["seed"]),
        on=date.fromisoformat(row["on_day"]),
        summary=json.loads(row["summary"]),
    )


def result_record(connection: Connection, plant: int, number: int) -> Any:
    """Return the whole record of a result. Raises InputError where there is none, WorkspaceError where it is damaged."""
    return _unpacked(_one(connection, result, plant, number, "result"), f"result {number}")


def _unpacked(row: Row, where: str) -> Any:
    content = blob(row["record"], row["record_sha256"], where)
    try:
        return json.loads(zlib.decompress(content))
    except (zlib.error, ValueError):
        raise damaged("the record cannot be read", where) from None


def keep_document(
    connection: Connection,
    plant: int,
    address: Address,
    words: Mapping[str, str],
    content: bytes,
    who: str,
    of_result: int | None,
    record: Any,
) -> KeptDocument:
    """Add an issued document.

    words: number, title, kind, file_name; record: what it shows, None for that of its result.
    Raises InputError where its result is unknown.
    """
    if of_result is not None:
        _one(connection, result, plant, of_result, "result")
    row = sealed(
        document,
        {
            "plant_id": plant,
            **columns_of(address),
            **words,
            "content": content,
            "content_sha256": sha256(content).hexdigest(),
            "size": len(content),
            "made_at": now(),
            "who": wanted(who, "who issues the document"),
            "result_id": of_result,
            **({} if record is None else _packed(record)),
        },
    )
    number = connection.execute(insert(document).returning(document.c.id), row).scalar_one()
    return _document({**row, "id": number})


def documents(connection: Connection, plant: int) -> tuple[KeptDocument, ...]:
    """Return the issued documents, oldest first."""
    columns = [column for column in document.c if column.name not in ("content", "record")]
    rows = connection.execute(select(*columns).where(document.c.plant_id == plant).order_by(document.c.id))
    return tuple(_document(checked(document, row)) for row in rows.mappings())


def _document(row: Row) -> KeptDocument:
    words = {name: row[name] for name in ("id", "number", "title", "kind", "file_name", "size", "who")}
    return KeptDocument(
        **words,
        address=address_of(row),
        sha256=row["content_sha256"],
        made_at=moment(row["made_at"]),
        result=row["result_id"],
    )


def document_bytes(connection: Connection, plant: int, number: int) -> bytes:
    """Return an issued document. Raises InputError where there is none, WorkspaceError where it is damaged."""
    row = _one(connection, document, plant, number, "document")
    return blob(row["content"], row["content_sha256"], f"document {number}")


def document_record(connection: Connection, plant: int, number: int) -> Any:
    """Return the record that an issued document shows, None where it was kept without. Raises as `document_bytes`."""
    row = _one(connection, document, plant, number, "document")
    if row["record_sha256"] is not None:
        return _unpacked(row, f"document {number}")
    return None if row["result_id"] is None else result_record(connection, plant, row["result_id"])


def keep_catalogue(
    connection: Connection, plant: int, supplier: str, version: str, mapping: str, files: Mapping[str, bytes]
) -> KeptCatalogue:
    """Add a catalogue, current from now on in place of its supplier's others; what is there already is not added."""
    supplier = wanted(supplier, "the supplier")
    shas = {name: sha256(content).hexdigest() for name, content in sorted(files.items())}
    whole = _hash([supplier, version, mapping, shas])
    same = select(catalogue).where(catalogue.c.plant_id == plant, catalogue.c.sha256 == whole)
    there = connection.execute(same).mappings().first()
    if there is None:
        facts = {"supplier": supplier, "version": version, "sha256": whole, "mapping": mapping}
        row = sealed(catalogue, {"plant_id": plant, **facts, "kept_at": now(), "current": False})
        number = connection.execute(insert(catalogue).returning(catalogue.c.id), row).scalar_one()
        for name, content in files.items():
            file = {"catalogue_id": number, "name": name, "content": content, "content_sha256": shas[name]}
            connection.execute(insert(catalogue_file), sealed(catalogue_file, file))
    else:
        number = checked(catalogue, there)["id"]
    _make_current(connection, plant, supplier, number)
    return next(kept for kept in catalogues(connection, plant) if kept.id == number)


def _make_current(connection: Connection, plant: int, supplier: str, number: int) -> None:
    mine = select(catalogue).where(catalogue.c.plant_id == plant, catalogue.c.supplier == supplier)
    for row in connection.execute(mine).mappings().all():
        current = row["id"] == number
        if checked(catalogue, row)["current"] != current:
            changed = sealed(catalogue, {**row, "current": current})
            connection.execute(update(catalogue).where(catalogue.c.id == row["id"]).values(changed))


def catalogues(connection: Connection, plant: int, current_only: bool = False) -> tuple[KeptCatalogue, ...]:
    """Return the catalogues, by supplier, the newest first."""
    rows = _catalogues(connection, plant)
    names: dict[int, list[str]] = {row["id"]: [] for row in rows}
    columns = [column for column in catalogue_file.c if column is not catalogue_file.c.content]
    for row in connection.execute(select(*columns).order_by(catalogue_file.c.name)).mappings():
        names.get(checked(catalogue_file, row)["catalogue_id"], []).append(row["name"])
    return tuple(_catalogue(row, names[row["id"]]) for row in rows if row["current"] or not current_only)


def _catalogues(connection: Connection, plant: int) -> list[Row]:
    found = select(catalogue).where(catalogue.c.plant_id == plant)
    order = catalogue.c.supplier, catalogue.c.id.desc()
    return [checked(catalogue, row) for row in connection.execute(found.order_by(*order)).mappings()]


def _catalogue(row: Row, files: Sequence[str]) -> KeptCatalogue:
    words = {name: row[name] for name in ("id", "supplier", "version", "sha256", "mapping", "current")}
    return KeptCatalogue(**words, files=tuple(files), kept_at=moment(row["kept_at"]))


def current_hashes(connection: Connection, plant: int) -> list[str]:
    """Return the hashes of the catalogues that are current."""
    return [row["sha256"] for row in _catalogues(connection, plant) if row["current"]]


def catalogue_files(connection: Connection, plant: int, number: int) -> dict[str, bytes]:
    """Return the files of a catalogue by name. Raises InputError where there is none, WorkspaceError where damaged."""
    _one(connection, catalogue, plant, number, "catalogue")
    mine = (
        select(catalogue_file).where(catalogue_file.c.catalogue_id == number).order_by(catalogue_file.c.name)
    )
    return {
        checked(catalogue_file, row)["name"]: blob(
            row["content"], row["content_sha256"], f"catalogue {number}"
        )
        for row in connection.execute(mine).mappings()
    }


def _one(connection: Connection, table: Table, plant: int, number: int, what: str) -> Row:
    found = select(table).where(table.c.plant_id == plant, table.c.id == number)
    row = connection.execute(found).mappings().first()
    if row is None:
        raise InputError(Problem(f"there is no such {what}", value=str(number)))
    return checked(table, row)
