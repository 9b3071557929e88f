"""The pages of a workspace, served on this machine until they are stopped."""

from __future__ import annotations

import socket
from pathlib import Path

from halfbore.cli import show
from halfbore.cli.who import name_of
from halfbore.errors import InputError, Problem
from halfbore.store import place_of
from halfbore.workspace.find import workspace_file

LOOPBACK = "127.0.0.1"


def serve(workspace: str | Path | None, port: int, who: str) -> None:
    """Serve a workspace and print the address that opens it.

    workspace: a file, or the address of a database; port: 0 for one that is free.
    Raises InputError where the port is taken or the workspace cannot be opened.
    """
    import uvicorn

    from halfbore.web.app import create_app

    listener = _listener(port)
    bound = listener.getsockname()[1]
    try:
        app = create_app(
            workspace_file(place_of(workspace) if workspace else None),
            hosts=(f"{LOOPBACK}:{bound}", f"localhost:{bound}"),
            who=name_of(who),
        )
    except BaseException:
        listener.close()
        raise
    show.line(f"Open {app.state.guard.opening()}")
    show.line("The address is for you alone; it holds until Ctrl C.")
    uvicorn.Server(uvicorn.Config(app, log_level="warning", server_header=False)).run(sockets=[listener])


def _listener(port: int) -> socket.socket:
    listener = socket.socket()
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((LOOPBACK, port))
    except OSError as error:
        listener.close()
        step = "choose another, such as --port 0 for a free one"
        what = f"cannot be listened on: {error.strerror}"
        raise InputError(Problem(what, "--port", str(port), next_step=step)) from None
    return listener
