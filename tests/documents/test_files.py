"""Documents are written beside their place and then put there; the child that sets them is held to a time limit."""

from __future__ import annotations

from pathlib import Path

import pytest

from halfbore.documents import typeset as module
from halfbore.documents.blocks import breakable, plain, shortened, text
from halfbore.documents.files import replace_file
from halfbore.documents.typeset import typeset
from halfbore.errors import HalfboreError, InputError
from tests.documents.studies import WHEN


def test_a_new_file_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    path = tmp_path / "a" / "b.pdf"
    assert replace_file(path, b"old").read_bytes() == b"old"
    assert replace_file(path, b"new").read_bytes() == b"new"
    assert [p.name for p in path.parent.iterdir()] == ["b.pdf"]


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    (tmp_path / "folder.pdf").mkdir()
    for path in (tmp_path / "file" / "b.pdf", tmp_path / "folder.pdf"):
        with pytest.raises(InputError, match="cannot be written"):
            replace_file(path, b"content")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["file", "folder.pdf"]


def test_data_that_the_template_refuses_is_a_told_fault() -> None:
    with pytest.raises(HalfboreError, match="could not be set"):
        typeset({"rest": [[]]}, WHEN, 8)


def test_setting_stops_in_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "SECONDS", 0.01)
    with pytest.raises(HalfboreError, match="was not set within"):
        typeset({"rest": [[]]}, WHEN, 8)


def test_long_words_may_break() -> None:
    code = "x" * 60
    assert breakable(code) == f"{'x' * 24}\u200b{'x' * 24}\u200b{'x' * 12}"
    assert breakable("a short one") == "a short one"


def test_long_names_give_way_to_tags_except_where_they_stay() -> None:
    data = [plain(text("Convert the long name")[0]), {"text": "the long name", "whole": True}]
    short = shortened(data, {"the long name": "A"})
    assert short[0]["text"] == "Convert A" and short[1]["text"] == "the long name"
