"""docs/how-to/first-week.md: every command is run in the order of the page, and prints what the page shows of it."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from halfbore import study
from halfbore.cli.main import main
from halfbore.workspace import running
from halfbore.workspace.demo_plant import WORKSPACE, make

HOW_TO = Path(__file__).parents[2] / "docs" / "how-to"
PAGE = (HOW_TO / "first-week.md").read_text(encoding="utf-8")
BLOCK = re.compile(r"```sh\n(.*?)```(?:\n```text\n(.*?)```)?", re.DOTALL)
LOOP = re.compile(r"for (\w+) in (.*?); do (.*); done", re.DOTALL)
LEFT_OUT = "…"


class Day(date):
    """The day of the page: what a run takes for today."""

    @classmethod
    def today(cls) -> Day:
        return cls(2026, 3, 5)


def commands(block: str) -> Iterator[tuple[list[str], int]]:
    """Yield the commands of a block, loops written out, each with the exit code that stands behind it."""
    for text in re.split(r"\n(?=halfbore |for )", block.replace("\\\n", " ").strip()):
        command, _, code = text.partition("    # exit code ")
        loop = LOOP.fullmatch(command)
        each = [loop[3].replace(f"${loop[1]}", word) for word in loop[2].split()] if loop else [command]
        for one in each:
            program, *arguments = shlex.split(one)
            assert program == "halfbore", one
            yield arguments, int(code or 0)


def one_line(text: str) -> str:
    return " ".join(text.split())


def pieces(shown: str) -> list[str]:
    """Return what stands between the marks for what is left out; rows of a table one by one."""
    return [one_line(piece) for piece in shown.split(f"{LEFT_OUT}\n") if piece.strip()]


@pytest.mark.slow  # a plant is run once as a whole, and three of its machines again
def test_each_command_prints_what_the_page_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(running, "date", Day)
    monkeypatch.setattr(study, "date", Day)
    demo = Path("halfbore-demo")
    demo.mkdir()
    make(demo)
    (demo / WORKSPACE).unlink()
    for block, shown in BLOCK.findall(PAGE):
        printed = ""
        for arguments, code in commands(block):
            assert main(arguments) == code, (arguments, capsys.readouterr().err)
            said = capsys.readouterr()
            printed += said.out + said.err
        rest = one_line(printed)
        for piece in pieces(shown):
            _, found, rest = rest.partition(piece)
            assert found, f"after\n{block}\nthe page shows\n  {piece}\nthe program printed\n{printed}"
