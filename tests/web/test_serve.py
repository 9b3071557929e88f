"""The command that serves: it prints the address that opens it, listens on this machine alone, and says what is wrong."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
from pathlib import Path

import httpx2
import pytest

from halfbore.cli.main import main


@pytest.mark.slow  # a process of its own, and the libraries of a server
def test_the_printed_address_opens_the_workspace(copied: Path) -> None:
    command = [sys.executable, "-m", "halfbore", "serve", str(copied), "--port", "0", "--who", "M. Ode"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        said = process.stdout.readline()
        found = re.fullmatch(r"Open (http://127\.0\.0\.1:\d+/\?token=\S+)\n", said)
        assert found is not None, said
        with httpx2.Client(follow_redirects=True) as client:
            page = client.get(found[1])
            assert page.status_code == 200
            assert "24 positions" in page.text
            assert page.headers.get("server") is None
        process.terminate()


def test_a_taken_port_is_told(copied: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert main(["serve", str(copied), "--port", str(port)]) == 2
    assert "--port" in capsys.readouterr().err


def test_a_workspace_that_is_not_there_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", str(tmp_path / "no.halfbore"), "--port", "0"]) == 2
    assert "there is no such workspace" in capsys.readouterr().err
