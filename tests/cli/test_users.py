"""Users by the command line: the password comes from standard input and is never shown; who else may be served."""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

from halfbore import store
from halfbore.cli import serving, users
from halfbore.cli.main import main
from halfbore.errors import InputError

PASSWORD = "a password of tests"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    store.create(tmp_path / "plant.halfbore", "Plant").close()
    return tmp_path / "plant.halfbore"


def user(path: Path, monkeypatch: pytest.MonkeyPatch, *words: str, typed: str = PASSWORD) -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO(f"{typed}\n"))
    return main(["user", *words, "--workspace", str(path)])


def test_users_come_and_go(
    path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert user(path, monkeypatch, "list") == 0
    assert user(path, monkeypatch, "add", "Ed") == 2, "the first one approves"
    assert user(path, monkeypatch, "add", "Ann", "--role", "approve", typed="short") == 2
    assert user(path, monkeypatch, "add", "Ann", "--role", "boss") == 2
    assert user(path, monkeypatch, "add", "Ann", "--role", "approve") == 0
    assert user(path, monkeypatch, "add", "ann") == 2, "taken"
    assert user(path, monkeypatch, "add", "Ed") == 0
    assert user(path, monkeypatch, "role", "ed", "see") == 0
    assert user(path, monkeypatch, "role", "Ann", "see") == 2, "nobody would approve"
    assert user(path, monkeypatch, "password", "Ed", typed="another password") == 0
    assert user(path, monkeypatch, "password", "Bo") == 2
    said = capsys.readouterr()
    for told in (
        "No user yet",
        "Ed (see) from now on.",
        "one user at least must approve",
        "10 to 200 characters",
    ):
        assert told in said.out + said.err
    assert PASSWORD not in said.out + said.err
    assert user(path, monkeypatch, "list", "--json") == 0
    assert json.loads(capsys.readouterr().out) == [
        {"name": "Ann", "role": "approve"},
        {"name": "Ed", "role": "see"},
    ]
    assert user(path, monkeypatch, "remove", "Ann") == 2
    assert user(path, monkeypatch, "remove", "Ed") == user(path, monkeypatch, "remove", "Ann") == 0


def test_a_password_at_the_terminal_is_typed_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = io.StringIO()
    terminal.isatty = lambda: True  # type: ignore[method-assign]
    typed = iter(("one password", "one password", "one password", "other password"))
    monkeypatch.setattr("sys.stdin", terminal)
    monkeypatch.setattr("getpass.getpass", lambda _prompt: next(typed))
    assert users._password() == "one password"
    with pytest.raises(InputError, match="typed in two ways"):
        users._password()


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--host", "0.0.0.0", "--name", "b.example"], "halfbore user add NAME --role approve"),
        (["--name", "b.example"], "halfbore user add NAME --role approve"),
        (["--host", "0.0.0.0"], "add --name NAME"),
        (["--host", "everywhere"], "is no address of this machine"),
        (["--name", "http://b.example/"], "a name alone"),
        (["--https"], "needs the name that the proxy serves"),
    ],
)
def test_others_come_in_only_as_users(
    path: Path, capsys: pytest.CaptureFixture[str], more: list[str], told: str
) -> None:
    assert main(["serve", str(path), "--port", "0", *more]) == 2
    assert told in " ".join(capsys.readouterr().err.split())


def test_the_names_by_which_it_may_be_called() -> None:
    here = ("127.0.0.1:8484", "localhost:8484")
    assert serving.Outside().hosts(8484) == here
    assert serving.Outside(names=("B.example",), https=True).hosts(8484) == ("b.example", *here)
    assert serving.Outside("0.0.0.0", ("b.example", "10.0.0.5:99")).hosts(8484) == (
        "b.example:8484",
        "10.0.0.5:99",
    )
    assert serving.Outside("0.0.0.0", ("b.example",)).hosts(80) == ("b.example",)
    assert serving.Outside("::1").hosts(8484)[0] == "[::1]:8484"
