"""Uploads that are not all brought in yet: bounded in number, size and age, each user's own."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from datetime import timedelta
from hashlib import sha256

from sqlalchemy import ColumnElement, Connection, delete, insert, or_, select, update

from halfbore import limits
from halfbore.domain.survey import Plain
from halfbore.domain.workspace import KeptUpload
from halfbore.store.tables import Row, blob, checked, moment, now, sealed, upload, upload_file

Begin = Callable[[], AbstractContextManager[Connection]]


@dataclass(frozen=True)
class Uploads:
    """The uploads of a workspace that a user sees; each method is one transaction.

    user: number of the account; None where there are no users. What came before there were users is everybody's.
    """

    plant: int
    reading: Begin
    writing: Begin
    user: int | None = None

    def of(self, user: int) -> Uploads:
        """Return the uploads that another user sees."""
        return replace(self, user=user)

    def open(self) -> tuple[KeptUpload, ...]:
        """Return the uploads, the newest first."""
        with self.reading() as connection:
            every = select(upload).where(self._mine()).order_by(upload.c.id.desc())
            return tuple(_upload(checked(upload, row)) for row in connection.execute(every).mappings())

    def find(self, key: str) -> KeptUpload | None:
        """Return an upload; None where there is none, or it is another's."""
        with self.reading() as connection:
            row = self._row(connection, key)
        return None if row is None else _upload(row)

    def files(self, key: str) -> dict[str, bytes]:
        """Return the files of an upload by name, in the order in which they came."""
        with self.reading() as connection:
            row = self._row(connection, key)
            mine = select(upload_file).where(upload_file.c.upload_id == (row["id"] if row else None))
            return {
                checked(upload_file, one)["name"]: blob(
                    one["content"], one["content_sha256"], f"upload {key}"
                )
                for one in connection.execute(mine.order_by(upload_file.c.id)).mappings()
            }

    def keep(self, key: str, kind: str, name: str, state: Plain, files: Mapping[str, bytes]) -> KeptUpload:
        """Keep an upload; those that are too old go, and the oldest of this user where there are too many."""
        words = {"key": key, "kind": kind, "name": name, "came_at": now(), "changed_at": now()}
        row = {"plant_id": self.plant, "account_id": self.user, **words, "version": 0}
        row |= _sized(state, sum(map(len, files.values())))
        with self.writing() as connection:
            statement = insert(upload).returning(upload.c.id)
            number: int = connection.execute(statement, sealed(upload, row)).scalar_one()
            for called, content in files.items():
                file = {"upload_id": number, "name": called, "content": content}
                file["content_sha256"] = sha256(content).hexdigest()
                connection.execute(insert(upload_file), sealed(upload_file, file))
            self._bound(connection)
        return _upload({**row, "id": number})

    def change(self, key: str, version: int, state: Plain) -> bool:
        """Keep how far an upload is; False where it is there no more, or was changed since that version."""
        with self.writing() as connection:
            row = self._row(connection, key)
            if row is None or row["version"] != version:
                return False
            files = row["size"] - len(row["state"])
            new = {**row, **_sized(state, files), "version": version + 1, "changed_at": now()}
            connection.execute(update(upload).where(upload.c.id == row["id"]).values(sealed(upload, new)))
        return True

    def drop(self, key: str) -> None:
        """Forget an upload."""
        with self.writing() as connection:
            row = self._row(connection, key)
            if row is not None:
                drop(connection, upload.c.id == row["id"])

    def _bound(self, connection: Connection) -> None:
        drop(connection, (upload.c.plant_id == self.plant) & (upload.c.changed_at < _oldest()))
        same = upload.c.account_id.is_(None) if self.user is None else upload.c.account_id == self.user
        mine = select(upload.c.id, upload.c.size).where(upload.c.plant_id == self.plant, same)
        size = 0
        for place, row in enumerate(connection.execute(mine.order_by(upload.c.id.desc())).all()):
            size += row.size
            if place and (place >= limits.UPLOADS or size > limits.UPLOADS_SIZE):
                drop(connection, upload.c.id == row.id)

    def _mine(self) -> ColumnElement[bool]:
        here = (upload.c.plant_id == self.plant) & (upload.c.changed_at >= _oldest())
        return (
            here
            if self.user is None
            else here & or_(upload.c.account_id == self.user, upload.c.account_id.is_(None))
        )

    def _row(self, connection: Connection, key: str) -> Row | None:
        found = connection.execute(select(upload).where(self._mine(), upload.c.key == key)).mappings().first()
        return None if found is None else checked(upload, found)


def drop(connection: Connection, which: ColumnElement[bool]) -> None:
    """Take uploads away with their files."""
    gone = select(upload.c.id).where(which)
    connection.execute(delete(upload_file).where(upload_file.c.upload_id.in_(gone)))
    connection.execute(delete(upload).where(which))


def _oldest() -> str:
    """Return the time of which what was not changed since is too old."""
    return (moment(now()) - timedelta(days=limits.UPLOAD_DAYS)).isoformat(timespec="seconds")


def _sized(state: Plain, files: int) -> Plain:
    """Return how far an upload is as JSON, its tables in their order, and the size of it all. files: bytes of them."""
    text = json.dumps(state, default=str, separators=(",", ":"))
    return {"state": text, "size": files + len(text)}


def _upload(row: Row) -> KeptUpload:
    words = {name: row[name] for name in ("key", "kind", "name", "version")}
    return KeptUpload(**words, came_at=moment(row["came_at"]), state=json.loads(row["state"]))
