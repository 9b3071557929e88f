"""The entry: help at once, errors in one shape, exit codes."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from halfbore.cli.commands import COMMANDS, HELP
from halfbore.cli.main import main
from halfbore.errors import HalfboreError, InputError, NothingHoldsError

ERROR_SCHEMA_KEYS = {"what", "where", "value", "accepted", "next_step"}


def test_help_is_the_same_however_it_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in ([], ["--help"], ["-h"]):
        assert main(arguments) == 0
        assert capsys.readouterr().out == HELP + "\n"


def test_help_names_every_command_and_fits_80_columns() -> None:
    from typer.main import get_command

    from halfbore.cli.app import app

    assert set(get_command(app).commands) == set(COMMANDS)  # type: ignore[attr-defined]
    assert max(map(len, HELP.splitlines())) <= 80


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_a_help(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, "--help"]) == 0
    assert f"Usage: halfbore {command}" in capsys.readouterr().out


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    import halfbore

    assert main(["--version"]) == 0
    assert capsys.readouterr().out == f"halfbore {halfbore.__version__}\n"


def test_the_module_is_the_command() -> None:
    done = subprocess.run([sys.executable, "-m", "halfbore"], capture_output=True, text=True)
    assert done.stdout == HELP + "\n"


def test_a_terminal_without_unicode_is_served() -> None:
    command = [sys.executable, "-m", "halfbore", "calc", "oil-viscosity", "t=70 °C", "nu_40=150", "nu_100=15"]
    done = subprocess.run(command, capture_output=True, env={**os.environ, "PYTHONIOENCODING": "ascii"})
    assert done.returncode == 0
    assert b"38.4654" in done.stdout


def test_help_loads_neither_typer_nor_numpy() -> None:
    code = (
        "import sys; from halfbore.cli.main import main; main(['--help']);"
        "print(sorted({'typer', 'rich', 'numpy', 'halfbore.errors'} & set(sys.modules)), file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert done.stderr == "[]\n"


def test_help_answers_within_eight_bare_pythons() -> None:
    def best(*command: str) -> float:
        times = []
        for _ in range(5):
            start = time.perf_counter()
            subprocess.run(command, check=True, capture_output=True)
            times.append(time.perf_counter() - start)
        return min(times)

    entry = Path(sys.executable).with_name("halfbore")
    assert best(str(entry), "--help") < 8 * best(sys.executable, "-c", "pass")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["nonsense"], "no such command 'nonsense'"),
        (["run"], "no workspace is in this folder"),
        (["loads"], "JOB"),
        (["run", "missing.toml"], "no such file"),
        (["run", "--bogus", "x.toml"], "no such option"),
        (["loads", "missing.toml"], "no such file"),
        (["calc", "nonsense"], "no such calculation"),
        (["calc", "rating-life"], "no input was given"),
        (["calc", "rating-life", "missing.json"], "cannot be read"),
        (["calc", "rating-life", "C_r=5"], "is missing"),
        (["code", "xyz"], "Quernvold"),
    ],
)
def test_wrong_input_in_both_shapes(
    arguments: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    text = capsys.readouterr()
    assert text.out == ""
    assert told.casefold() in text.err.casefold()
    assert all(line.startswith("halfbore: ") for line in text.err.splitlines())
    assert "Traceback" not in text.err

    assert main([*arguments, "--json"]) == 2
    document = capsys.readouterr()
    assert document.err == ""
    found = json.loads(document.out)
    assert set(found) == {"error", "problems"}
    assert all(set(problem) == ERROR_SCHEMA_KEYS for problem in found["problems"])
    assert told.casefold() in document.out.casefold()


def test_every_error_has_its_exit_code() -> None:
    assert (HalfboreError.exit_code, InputError.exit_code, NothingHoldsError.exit_code) == (1, 2, 3)


def test_a_fault_of_the_program_is_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(_arguments: list[str]) -> None:
        raise KeyError("a\nb")

    monkeypatch.setattr("halfbore.cli.app.call", broken)
    assert main(["run", "x.toml"]) == 1
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "a fault of the program" in said
    assert "please report" in said
    monkeypatch.setenv("HALFBORE_DEBUG", "1")
    with pytest.raises(KeyError):
        main(["run", "x.toml"])


def test_a_reader_who_stops_early_is_no_error() -> None:
    entry = Path(sys.executable).with_name("halfbore")
    child = subprocess.Popen(
        [entry, "calc", "--list"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert child.stdout is not None
    assert child.stderr is not None
    child.stdout.close()
    assert child.stderr.read() == ""
    child.stderr.close()
    assert child.wait() == 0
