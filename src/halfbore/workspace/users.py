"""Users of a workspace: passwords are proved and never kept, a session is known by its secret alone."""

from __future__ import annotations

import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from functools import cache
from hashlib import sha256
from ipaddress import IPv6Address, ip_address, ip_network
from threading import BoundedSemaphore, Lock
from typing import NamedTuple, TypeVar

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
FREE_OF_AN_ADDRESS = 20
"""Failed logins of an address, whatever the names: an office may share one."""
LONGEST_WAIT = 60.0
"""Wait after many failed logins [s]."""
FORGOTTEN = 3600.0
"""Quiet time after which failed logins no longer count [s]."""
MOST_COUNTED = 20_000
"""Names and addresses that are remembered, those with failed logins and those that came in."""
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


_Key = tuple[str | None, str | None]
"""A name, an address, or a name at an address."""
V = TypeVar("V")


class _Count(NamedTuple):
    """How often a login failed, and until when the next one has to wait."""

    times: int
    until: float


_NONE = _Count(0, float("-inf"))


@dataclass
class Logins:
    """The door of one workspace: it opens sessions, and lets a name, and an address, wait longer after failed logins.

    Who has come in from an address before is counted there alone: what others do with the name, or at the address,
    does not keep him out.
    """

    workspace: Workspace
    clock: Callable[[], float] = time.monotonic
    _failed: dict[_Key, _Count] = field(default_factory=dict)
    _came_in: dict[_Key, None] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def login(self, name: str, password: str, address: str = "") -> str:
        """Return the secret of a new session. Raises LoginError; WaitError where failed logins came before."""
        user, known = self.prove(name, password, address)
        secret = secrets.token_urlsafe(32)
        until = (datetime.now(UTC) + LASTS).isoformat(timespec="seconds")
        if not self.workspace.accounts.begin(user, known, _digest(secret), until):
            raise _wrong()
        return secret

    def prove(self, name: str, password: str, address: str = "") -> tuple[User, str]:
        """Return the user whose password it is, with its hash. Raises LoginError, WaitError.

        address: from which the request comes, as the network knows it.
        """
        called, there = " ".join(name.split()).casefold()[:LONGEST], _network(address)
        keys = self._count(called, there)
        found = self.workspace.accounts.password_of(name)
        right = _proved(found[1] if found else _nobody(), password)
        if not found or not right:
            raise _wrong()
        self._came(called, there, keys)
        return found

    def user(self, secret: str) -> User | None:
        """Return whose session it is, None where there is none or it is over."""
        return self.workspace.accounts.of_session(_digest(secret)) if secret else None

    def logout(self, secret: str) -> None:
        """End a session."""
        self.workspace.accounts.end(_digest(secret))

    def _count(self, name: str, address: str) -> list[_Key]:
        """Count a login as failed before it is tried, so that many at once are not free. Raises WaitError."""
        with self._lock:
            now, together = self.clock(), (name, address)
            keys: list[_Key] = [together] if together in self._came_in else [(name, None), (None, address)]
            for key in keys:
                left = self._failed.get(key, _NONE).until - now
                if left > 0:
                    of = "from this address" if key[0] is None else "of this name"
                    told = f"wait {max(1, round(left))} s, then try again"
                    raise WaitError(Problem(f"there were failed logins {of}", next_step=told))
            for key in keys:
                before = self._failed.pop(key, _NONE)
                times = 0 if now - before.until > FORGOTTEN else before.times
                free = FREE_OF_AN_ADDRESS if key[0] is None else FREE_TRIES
                wait = 0.0 if times < free else min(2.0 ** min(times - free, 10), LONGEST_WAIT)
                self._failed[key] = _Count(times + 1, now + wait)
            _bound(self._failed)
            return keys

    def _came(self, name: str, address: str, keys: list[_Key]) -> None:
        """Let the failed logins of a name that came in be forgotten; of its address that one only, which was none."""
        with self._lock:
            for key in keys:
                before = self._failed.pop(key, _NONE)
                if key[0] is None and before.times > 1:
                    self._failed[key] = _Count(before.times - 1, self.clock())
            self._came_in.pop((name, address), None)
            self._came_in[name, address] = None
            _bound(self._came_in)


def _bound(counted: dict[_Key, V]) -> None:
    """Let the oldest go where there are too many."""
    while len(counted) > MOST_COUNTED:
        counted.pop(next(iter(counted)))


def _network(address: str) -> str:
    """Return what counts as one address: an IPv4 address, the first half of an IPv6 one; "" for no address."""
    try:
        found = ip_address(address.partition("%")[0])
    except ValueError:
        return ""
    if isinstance(found, IPv6Address):
        return str(found.ipv4_mapped or ip_network((found, 64), strict=False).network_address)
    return str(found)


def _wrong() -> LoginError:
    return LoginError(Problem("name or password is wrong", next_step="try again, or ask who approves"))


def _digest(secret: str) -> str:
    return sha256(secret.encode(errors="surrogatepass")).hexdigest()
