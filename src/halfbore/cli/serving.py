"""The pages of a workspace, served until they are stopped: on this machine for one, or to users with passwords."""

from __future__ import annotations

import gc
import re
import socket
import sys
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path

from halfbore import store
from halfbore.cli import show
from halfbore.cli.who import name_of
from halfbore.errors import InputError, Problem
from halfbore.store import Place, place_of
from halfbore.workspace.find import workspace_file

LOOPBACK = "127.0.0.1"
_NAME = re.compile(r"(?!-)[a-z0-9.-]{1,253}(:\d{1,5})?", re.ASCII)


@dataclass(frozen=True)
class Outside:
    """How others come in: the address listened on, the names they call it by, whether a proxy speaks https."""

    host: str = LOOPBACK
    names: tuple[str, ...] = ()
    https: bool = False

    def __post_init__(self) -> None:
        for name in self.names:
            if not _NAME.fullmatch(name.lower()):
                accepted = "a name alone, such as bearings.plant.example, or one with its port"
                raise InputError(Problem("is no name of a host", "--name", name[:64], accepted))
        if self.https and not self.names:
            raise InputError(
                Problem("needs the name that the proxy serves", "--https", accepted="--name NAME")
            )
        if not self.local and not self.names:
            step = "add --name NAME for each name or address by which browsers call this machine"
            raise InputError(
                Problem("says not by which name it is called", "--host", self.host, next_step=step)
            )

    @property
    def local(self) -> bool:
        """Whether only this machine is listened to."""
        try:
            return ip_address(self.host).is_loopback
        except ValueError:
            raise InputError(
                Problem(
                    "is no address of this machine",
                    "--host",
                    self.host[:64],
                    "such as 192.168.1.20 or 0.0.0.0",
                )
            ) from None

    def hosts(self, port: int) -> tuple[str, ...]:
        """Return what a Host may say, the name of the opening address first."""
        usual = 443 if self.https else 80
        named: list[str] = []
        for name in map(str.lower, self.names):
            if ":" in name or self.https or port == usual:
                named.append(name)
            else:
                named.append(f"{name}:{port}")
        own = f"[{self.host}]" if ":" in self.host else self.host
        here = [f"{own}:{port}", f"localhost:{port}"] if self.local else []
        return (*named, *here)


def serve(workspace: str | Path | None, port: int, who: str, outside: Outside) -> None:
    """Serve a workspace and print the address that opens it.

    workspace: a file, or the address of a database; port: 0 for one that is free.
    Raises InputError where the port is taken, the workspace cannot be opened, or others
    would come in to a workspace that has no users.
    """
    import uvicorn

    from halfbore.web.app import create_app

    path = workspace_file(place_of(workspace) if workspace else None)
    if (outside.names or not outside.local) and not _has_users(path):
        step = "add one first: halfbore user add NAME --role approve; or leave --host and --name out"
        raise InputError(
            Problem("others may come in only as users, and there is none", str(path), next_step=step)
        )
    listener = _listener(outside.host, port)
    hosts = outside.hosts(listener.getsockname()[1])
    https = hosts[: len(outside.names)] if outside.https else ()
    try:
        app = create_app(path, hosts=hosts, who=name_of(who), https=https)
    except BaseException:
        listener.close()
        raise
    show.line(f"Open {app.state.guard.opening()}")
    if not app.state.guard.logins:
        show.line("The address is for you alone; it holds until Ctrl C.")
    elif not outside.local and not outside.https:
        show.line(
            "Passwords go over this network as they are: put a proxy with TLS before it, and add --https."
        )
    sys.stdout.flush()  # a pipe would keep the address until the server ends
    gc.collect()
    gc.freeze()  # what stands now stays: to search it for rubbish would hold up an answer by 0.1 s now and then
    config = uvicorn.Config(app, log_level="warning", server_header=False, proxy_headers=False)
    uvicorn.Server(config).run(sockets=[listener])


def _has_users(path: Place) -> bool:
    with store.open(path) as opened:
        return bool(opened.accounts.users())


def _listener(host: str, port: int) -> socket.socket:
    listener = socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((host, port))
        listener.listen()  # who opens the address as soon as it is printed waits, and is not turned away
    except OSError as error:
        listener.close()
        step = "choose another, such as --port 0 for a free one"
        where, value = ("--port", str(port)) if host == LOOPBACK else ("--host, --port", f"{host} {port}")
        raise InputError(
            Problem(f"cannot be listened on: {error.strerror}", where, value, next_step=step)
        ) from None
    return listener
