"""Users of a workspace: passwords are proved and never kept, a session is known by its secret alone."""

from __future__ import annotations

import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import cache
from hashlib import sha256
from threading import BoundedSemaphore, Lock

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from halfbore.domain.user import Role, User
from halfbore.errors import HalfboreError, InputError, Problem, shown
from halfbore.store import Workspace

SHORTEST, LONGEST = 10, 200
"""Characters of a password."""
LASTS = timedelta(hours=12)
"""How long a session holds: a long working day."""
FREE_TRIES = 3
"""Failed logins of a name before it has to wait."""
LONGEST_WAIT = 60.0
"""Wait after many failed logins [s]."""
MOST_NAMES = 10_000
"""Names whose failed logins are remembered."""
_AT_ONCE = BoundedSemaphore(2)
"""Each proof of a password takes 64 MiB for a while: two at a time."""


class LoginError(HalfboreError):
    """A login that does not open; which of name and password is wrong is not told."""

    kind = "login"
    status = 401


class WaitError(LoginError):
    """A login that comes too soon after failed ones."""

    status = 429


def role_of(text: str) -> Role:
    """Return the role that a text names. Raises InputError."""
    try:
        return Role(text.strip().casefold())
    except ValueError:
        raise InputError(Problem("is no role", "role", shown(text), ", ".join(Role))) from None


def add_user(workspace: Workspace, name: str, role: Role, password: str) -> User:
    """Add a user. Raises InputError for a name that is taken, a password that is too short, and where none approves."""
    return workspace.accounts.add(name, role, _hashed(password))


def change_password(workspace: Workspace, name: str, password: str) -> User:
    """Give a user another password and end all sessions of that user. Raises InputError."""
    return workspace.accounts.give_password(name, _hashed(password))


def _hashed(password: str) -> str:
    if not SHORTEST <= len(password) <= LONGEST:
        accepted = f"{SHORTEST} to {LONGEST} characters"
        raise InputError(Problem("is too short or too long", "password", accepted=accepted))
    with _AT_ONCE:
        return PasswordHasher().hash(password)


@cache
def _nobody() -> str:
    """Return a hash against which the password of an unknown name is proved, so that it takes as long."""
    return PasswordHasher().hash(secrets.token_urlsafe(24))


def _proved(known: str, password: str) -> bool:
    with _AT_ONCE:
        try:
            return PasswordHasher().verify(known, password[: LONGEST + 1])
        except (VerificationError, InvalidHashError):
            return False


@dataclass
class Logins:
    """The door of one workspace: it opens sessions, and lets a name wait longer after each failed login."""

    workspace: Workspace
    clock: Callable[[], float] = time.monotonic
    _failed: dict[str, tuple[int, float]] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def login(self, name: str, password: str) -> str:
        """Return the secret of a new session. Raises LoginError; WaitError where failed logins came before."""
        user, known = self.prove(name, password)
        secret = secrets.token_urlsafe(32)
        until = (datetime.now(UTC) + LASTS).isoformat(timespec="seconds")
        if not self.workspace.accounts.begin(user, known, _digest(secret), until):
            raise _wrong()
        return secret

    def prove(self, name: str, password: str) -> tuple[User, str]:
        """Return the user whose password it is, with its hash. Raises LoginError, WaitError."""
        key = " ".join(name.split()).casefold()[:LONGEST]
        self._count(key)
        found = self.workspace.accounts.password_of(name)
        right = _proved(found[1] if found else _nobody(), password)
        if not found or not right:
            raise _wrong()
        with self._lock:
            self._failed.pop(key, None)
        return found

    def user(self, secret: str) -> User | None:
        """Return whose session it is, None where there is none or it is over."""
        return self.workspace.accounts.of_session(_digest(secret)) if secret else None

    def logout(self, secret: str) -> None:
        """End a session."""
        self.workspace.accounts.end(_digest(secret))

    def _count(self, key: str) -> None:
        """Count a login as failed before it is tried, so that many at once are not free. Raises WaitError."""
        with self._lock:
            times, until = self._failed.pop(key, (0, 0.0))
            now = self.clock()
            left = until - now
            if left > 0:
                self._failed[key] = times, until
                told = f"wait {max(1, round(left))} s, then try again"
                raise WaitError(Problem("there were failed logins of this name", next_step=told))
            wait = 0.0 if times < FREE_TRIES else min(2.0 ** min(times - FREE_TRIES, 10), LONGEST_WAIT)
            self._failed[key] = times + 1, now + wait
            while len(self._failed) > MOST_NAMES:
                self._failed.pop(next(iter(self._failed)))


def _wrong() -> LoginError:
    return LoginError(Problem("name or password is wrong", next_step="try again, or ask who approves"))


def _digest(secret: str) -> str:
    return sha256(secret.encode(errors="surrogatepass")).hexdigest()
