"""What other processes do to a workspace in the tests; they are started from a process that has all this loaded."""

from __future__ import annotations

import multiprocessing
import os
from itertools import count
from multiprocessing.connection import Connection

from halfbore import store
from halfbore.domain.workspace import Edit

FIELDS = ("x", "seat.note", "room.note")
PLACES = (("K", "", "K-1"), ("K", "", "K-2"))
PROCESSES = multiprocessing.get_context("forkserver")
PROCESSES.set_forkserver_preload(["__main__", "tests.store.killed"])

THINGS = [Edit(("K",), "", {}), Edit(("K", ""), "", {}), *(Edit(place, "", {}) for place in PLACES)]


def numbered(number: int) -> list[Edit]:
    """Return the edits of one batch: the number in several documents."""
    return [Edit(place, field, number) for place in PLACES for field in FIELDS]


def write_on_and_on(path: store.Place, said: Connection) -> None:
    """Make one numbered batch after the other, and say the number of each when it is kept."""
    with store.open(path) as workspace:
        for number in count(1):
            workspace.apply(numbered(number), "child", f"batch {number}")
            said.send(number)


def write_some(path: store.Place, place: str, times: int, said: Connection) -> None:
    """Add entries to a list, each in a batch of its own."""
    with store.open(path) as workspace:
        for number in range(times):
            workspace.apply(
                [Edit(("K", "", place), "history[+]", {"note": f"{os.getpid()} {number}"})], place, "add"
            )
    said.send("done")


def look_at(path: store.Place) -> str:
    """Return what is kept of the customer, as a process sees it that opens the workspace and leaves it again."""
    with store.open(path) as workspace:
        return str(workspace.document(()).get("customer"))
