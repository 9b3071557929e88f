"""Users with the hashes of their passwords, and the sessions in which they are logged in."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass

from sqlalchemy import Connection, delete, insert, select, update

from halfbore.domain.user import Role, User
from halfbore.errors import InputError, Problem, shown
from halfbore.store import uploads
from halfbore.store.tables import Row, account, checked, now, sealed, session, upload, wanted
from halfbore.store.things import folded

LONGEST_NAME = 80
Begin = Callable[[], AbstractContextManager[Connection]]


@dataclass(frozen=True)
class Accounts:
    """The users of a workspace; each method is one transaction."""

    plant: int
    reading: Begin
    writing: Begin

    def users(self) -> tuple[User, ...]:
        """Return the users by name."""
        with self.reading() as connection:
            return tuple(_user(row) for row in self._rows(connection))

    def password_of(self, name: str) -> tuple[User, str] | None:
        """Return a user with the hash of the password; None for a name that nobody has."""
        with self.reading() as connection:
            row = self._find(connection, name)
        return None if row is None else (_user(row), row["password"])

    def add(self, name: str, role: Role, password: str) -> User:
        """Add a user. password: its hash. Raises InputError for a name that is taken, and where none approves."""
        called = wanted(name, "the name of the user")
        if len(called) > LONGEST_NAME:
            raise InputError(
                Problem("is too long", "name", shown(called), f"up to {LONGEST_NAME} characters")
            )
        with self.writing() as connection:
            if self._find(connection, called) is not None:
                raise InputError(Problem("there is a user of this name already", "name", called))
            row = {"plant_id": self.plant, "name": called, "folded": folded(called), "role": role.value}
            row |= {"password": password, "made_at": now()}
            statement = insert(account).returning(account.c.id)
            number: int = connection.execute(statement, sealed(account, row)).scalar_one()
            self._refuse_headless(connection)
        return User(number, called, role)

    def remove(self, name: str) -> User:
        """Take a user away, logged out everywhere, with the uploads that wait.

        Raises InputError where none is left who approves.
        """
        with self.writing() as connection:
            row = self._known(connection, name)
            self._log_out(connection, row)
            uploads.drop(connection, upload.c.account_id == row["id"])
            connection.execute(delete(account).where(account.c.id == row["id"]))
            self._refuse_headless(connection)
        return _user(row)

    def give_role(self, name: str, role: Role) -> User:
        """Give a user another role, at once. Raises InputError where none is left who approves."""
        with self.writing() as connection:
            row = self._changed(connection, self._known(connection, name), "role", role.value)
            self._refuse_headless(connection)
        return _user(row)

    def give_password(self, name: str, password: str) -> User:
        """Give a user another password, by its hash; the user is logged out everywhere. Raises InputError."""
        with self.writing() as connection:
            row = self._known(connection, name)
            self._log_out(connection, row)
            return _user(self._changed(connection, row, "password", password))

    def begin(self, user: User, password: str, key: str, until: str) -> bool:
        """Begin a session, and clear away those that are over; False where the account is no longer what it was.

        password: the hash that the user has proved to know; key: SHA-256 of the session's secret; until: UTC.
        """
        with self.writing() as connection:
            row = self._find(connection, user.name)
            if row is None or row["id"] != user.id or row["password"] != password:
                return False
            connection.execute(delete(session).where(session.c.until <= now()))
            new = {"account_id": user.id, "key_sha256": key, "began_at": now(), "until": until}
            connection.execute(insert(session), sealed(session, new))
        return True

    def of_session(self, key: str) -> User | None:
        """Return whose session it is; None where there is none, or it is over."""
        with self.reading() as connection:
            found = connection.execute(select(session).where(session.c.key_sha256 == key)).mappings().first()
            if found is None or checked(session, found)["until"] <= now():
                return None
            mine = select(account).where(
                account.c.id == found["account_id"], account.c.plant_id == self.plant
            )
            row = connection.execute(mine).mappings().first()
            return None if row is None else _user(checked(account, row))

    def end(self, key: str) -> None:
        """End a session."""
        with self.writing() as connection:
            connection.execute(delete(session).where(session.c.key_sha256 == key))

    def _rows(self, connection: Connection) -> list[Row]:
        every = select(account).where(account.c.plant_id == self.plant).order_by(account.c.folded)
        return [checked(account, row) for row in connection.execute(every).mappings()]

    def _find(self, connection: Connection, name: str) -> Row | None:
        return next((row for row in self._rows(connection) if row["folded"] == folded(name)), None)

    def _known(self, connection: Connection, name: str) -> Row:
        row = self._find(connection, name)
        if row is None:
            names = ", ".join(row["name"] for row in self._rows(connection)) or "no user yet"
            raise InputError(Problem("nobody has this name", "name", shown(name), names))
        return row

    def _changed(self, connection: Connection, row: Row, column: str, value: str) -> Row:
        new = sealed(account, {**row, column: value})
        connection.execute(update(account).where(account.c.id == row["id"]).values(new))
        return new

    def _log_out(self, connection: Connection, row: Row) -> None:
        connection.execute(delete(session).where(session.c.account_id == row["id"]))

    def _refuse_headless(self, connection: Connection) -> None:
        roles = [row["role"] for row in self._rows(connection)]
        if roles and Role.APPROVE not in roles:
            step = "give the role approve to somebody first"
            raise InputError(Problem("one user at least must approve", "role", next_step=step))


def _user(row: Row) -> User:
    return User(row["id"], row["name"], Role(row["role"]))
