"""The commands of `user`: who works on a workspace by the browser."""

from __future__ import annotations

from typing import Annotated

import typer

from halfbore.cli.options import InWorkspace, Json

people = typer.Typer(
    no_args_is_help=True,
    rich_markup_mode=None,
    help="Who works on a workspace in the browser: names, passwords, and roles see, edit, approve.",
)
Name = Annotated[str, typer.Argument(metavar="NAME", help="as it stands in the history", show_default=False)]
GIVEN = "The password is asked for, or read from standard input; it is never an argument."


@people.command("add", help=f"Add a user; the first one approves. {GIVEN}")
def add(
    name: Name,
    role: Annotated[
        str,
        typer.Option(
            "--role",
            metavar="ROLE",
            help="see: read; edit: change and run; approve: also issue documents, manage users",
        ),
    ] = "edit",
    workspace: InWorkspace = None,
) -> None:
    """Add a user."""
    from halfbore.cli import users

    users.add(name, role, workspace)


@people.command("list", help="The users with their roles.")
def listing(json: Json = False, workspace: InWorkspace = None) -> None:
    """List the users."""
    from halfbore.cli import users

    users.listing(json, workspace)


@people.command("remove", help="Take a user away, who is logged out; the history keeps the name.")
def remove(name: Name, workspace: InWorkspace = None) -> None:
    """Remove a user."""
    from halfbore.cli import users

    users.remove(name, workspace)


@people.command("role", help="Give a user another role, at once.")
def give_role(
    name: Name,
    role: Annotated[str, typer.Argument(metavar="see | edit | approve", show_default=False)],
    workspace: InWorkspace = None,
) -> None:
    """Give a user another role."""
    from halfbore.cli import users

    users.give_role(name, role, workspace)


@people.command("password", help=f"Give a user another password, who is logged out everywhere. {GIVEN}")
def give_password(name: Name, workspace: InWorkspace = None) -> None:
    """Give a user another password."""
    from halfbore.cli import users

    users.give_password(name, workspace)
