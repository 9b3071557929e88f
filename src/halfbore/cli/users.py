"""Users of a workspace; a password comes from the terminal or from standard input, and is never shown."""

from __future__ import annotations

import getpass
import sys
from pathlib import Path

from halfbore.cli import show
from halfbore.domain.user import User
from halfbore.errors import InputError, Problem
from halfbore.present.plain import to_json
from halfbore.store import open as open_workspace
from halfbore.workspace import users
from halfbore.workspace.find import workspace_file

AGAIN = "A halfbore serve that runs without users has to be started again."


def add(name: str, role: str, workspace: Path | None) -> None:
    """Add a user. Raises InputError."""
    given = users.role_of(role)
    with open_workspace(workspace_file(workspace)) as opened:
        first = not opened.accounts.users()
        user = users.add_user(opened, name, given, _password())
    show.line(f"{_told(user)} is added.")
    if first:
        show.line(AGAIN)


def listing(as_json: bool, workspace: Path | None) -> None:
    """Show the users."""
    with open_workspace(workspace_file(workspace)) as opened:
        found = opened.accounts.users()
    if as_json:
        show.document(to_json([{"name": user.name, "role": user.role.value} for user in found]))
        return
    for user in found:
        show.line(_told(user))
    if not found:
        show.line("No user yet: halfbore user add NAME --role approve")


def remove(name: str, workspace: Path | None) -> None:
    """Take a user away. Raises InputError."""
    with open_workspace(workspace_file(workspace)) as opened:
        user = opened.accounts.remove(name)
    show.line(f"{user.name} is removed and logged out; the history keeps the name.")


def give_role(name: str, role: str, workspace: Path | None) -> None:
    """Give a user another role. Raises InputError."""
    with open_workspace(workspace_file(workspace)) as opened:
        user = opened.accounts.give_role(name, users.role_of(role))
    show.line(f"{_told(user)} from now on.")


def give_password(name: str, workspace: Path | None) -> None:
    """Give a user another password. Raises InputError."""
    with open_workspace(workspace_file(workspace)) as opened:
        user = users.change_password(opened, name, _password())
    show.line(f"{user.name} has another password and is logged out everywhere.")


def _told(user: User) -> str:
    return f"{user.name} ({user.role})"


def _password() -> str:
    """Return the password: typed twice at a terminal, else the first line of standard input."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    password = getpass.getpass("Password: ")
    if getpass.getpass("Once more: ") != password:
        raise InputError(Problem("was typed in two ways", "password", next_step="try again"))
    return password
