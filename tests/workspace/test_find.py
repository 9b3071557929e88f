"""Which workspace is meant where none is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from halfbore.errors import InputError
from halfbore.workspace.find import workspace_file


def test_the_named_one_wins_and_the_only_one_is_found(tmp_path: Path) -> None:
    (tmp_path / "lime.halfbore").touch()
    assert workspace_file(Path("other.halfbore"), tmp_path) == Path("other.halfbore")
    assert workspace_file(None, tmp_path) == tmp_path / "lime.halfbore"


@pytest.mark.parametrize(
    ("there", "says"),
    [
        ((), "no workspace is in this folder, and no job file either"),
        (("fan.toml",), "no workspace is in this folder, only fan.toml"),
        (("a.halfbore", "b.halfbore"), "a.halfbore, b.halfbore"),
    ],
)
def test_none_or_several_is_an_error_that_lists_what_was_found(
    there: tuple[str, ...], says: str, tmp_path: Path
) -> None:
    for name in there:
        (tmp_path / name).touch()
    with pytest.raises(InputError, match=r"--workspace") as refused:
        workspace_file(None, tmp_path)
    assert says in refused.value.problems[0].sentence()
