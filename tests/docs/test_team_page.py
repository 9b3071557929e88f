"""docs/how-to/team.md names every option of serve, every command of user, and the limits as they are."""

from __future__ import annotations

from pathlib import Path

import typer

from halfbore.cli.app import app
from halfbore.domain.user import Role
from halfbore.web.guard import LARGEST_UPLOAD
from halfbore.workspace.users import LASTS, LONGEST, SHORTEST

ROOT = Path(__file__).parents[2]
PAGE = " ".join((ROOT / "docs" / "how-to" / "team.md").read_text(encoding="utf-8").split())


def test_the_page_is_whole() -> None:
    commands = typer.main.get_command(app).commands  # type: ignore[attr-defined]
    options = {name for option in commands["serve"].params for name in option.opts if name.startswith("--")}
    assert {"--host", "--name", "--https"} <= options
    assert [name for name in options if f"`{name}" not in PAGE] == []
    assert [name for name in commands["user"].commands if f"halfbore user {name}" not in PAGE] == []
    assert [role for role in Role if f"| `{role}` |" not in PAGE] == []
    assert f"{SHORTEST} to {LONGEST} characters" in PAGE
    assert f"after {LASTS.total_seconds() / 3600:.0f} hours" in PAGE
    assert LARGEST_UPLOAD < 25_000_000
    assert "requests of 25 MB" in PAGE
    assert "(docs/how-to/team.md)" in (ROOT / "README.md").read_text(encoding="utf-8")
