"""The server is killed in the middle of edits: the workspace opens, and what it said was kept is there."""

from __future__ import annotations

import random
import re
import subprocess
import sys
from pathlib import Path
from threading import Timer

import httpx2
import pytest

from halfbore import store
from halfbore.domain.workspace import Edit

AT = ("K", "", "K-1")
LONGEST = 0.4
"""Time from the first edit to the end of the server [s]: some dozen edits."""


def edited_until_killed(path: Path, when: float) -> tuple[int, int]:
    """Serve a workspace, edit it on and on, kill the server. Returns the last edit that was sent, and acknowledged."""
    command = [sys.executable, "-m", "halfbore", "serve", str(path), "--port", "0"]
    sent = kept = 0
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        end = Timer(when, process.kill)
        try:
            assert process.stdout is not None
            found = re.fullmatch(r"Open (http://\S+)/\?token=(\S+)\n", process.stdout.readline())
            assert found is not None
            bearer = {"authorization": f"Bearer {found[2]}"}
            with httpx2.Client(base_url=found[1], headers=bearer, timeout=30) as client:
                while True:
                    sent += 1
                    new = {"tag": "K-1", "path": "seat.note", "value": f"edit {sent}"}
                    assert client.post("/api/document", json=new).status_code == 200
                    kept = sent
                    if kept == 1:
                        end.start()
        except httpx2.TransportError:
            assert kept, "it is killed only after the first edit"
        finally:
            process.kill()
    return sent, kept


@pytest.mark.parametrize("times", [10, pytest.param(100, marks=pytest.mark.long)])
@pytest.mark.slow  # each time a server is started and killed, and its workspace read
def test_kill_the_server_at_any_moment(tmp_path: Path, times: int) -> None:
    moments = random.Random(times)
    path = tmp_path / "plant.halfbore"
    with store.create(path, "Plant") as made:
        made.apply([Edit(AT[:n], "", {}) for n in (1, 2, 3)], "parent", "made")
    before = 1
    for _ in range(times):
        sent, kept = edited_until_killed(path, moments.uniform(0.0, LONGEST))
        with store.open(path) as workspace:
            last = workspace.document(AT)["seat"]["note"]
            assert last in (f"edit {kept}", f"edit {sent}"), (
                "the last that was acknowledged, or one on its way"
            )
            made_now = [batch for batch in workspace.batches(None) if batch.id > before]
            assert len(made_now) == int(last.split()[1])
            before += len(made_now)
