"""Uploads that wait in a workspace: bounded in number, size and age, each user's own, gone when they are dropped."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from halfbore import limits, store
from halfbore.domain.user import Role
from halfbore.store import Workspace, uploads

FILES = {"b.csv": b"1;2\r\n\x00\xff", "a.csv": b"3"}
STATE = {"mapping": {"z": {"x": 1}, "a": ["\ud800", "\0", None]}, "done": None}


def test_an_upload_is_found_again_whole(empty: Workspace) -> None:
    kept = empty.uploads.keep("k1", "survey", "plant.csv", STATE, FILES)
    with store.open(empty.path) as other:
        found = other.uploads.find("k1")
        assert found == kept
        assert list(found.state["mapping"]) == ["z", "a"], "columns stay in their order"
        assert (found.name, found.kind, found.version, found.state) == ("plant.csv", "survey", 0, STATE)
        assert list(other.uploads.files("k1").items()) == list(FILES.items())
        assert other.uploads.find("k2") is None
        assert other.uploads.files("k2") == {}


def test_a_change_is_kept_unless_another_came_before(empty: Workspace) -> None:
    empty.uploads.keep("k1", "survey", "plant.csv", {}, FILES)
    assert empty.uploads.change("k1", 0, {"n": 1})
    assert not empty.uploads.change("k1", 0, {"n": 2})
    found = empty.uploads.find("k1")
    assert found is not None
    assert (found.version, found.state) == (1, {"n": 1})
    empty.uploads.drop("k1")
    assert not empty.uploads.change("k1", 1, {})
    assert empty.uploads.open() == ()


def test_the_oldest_go_where_there_are_too_many(empty: Workspace) -> None:
    for n in range(limits.UPLOADS + 3):
        empty.uploads.keep(f"k{n}", "survey", f"{n}.csv", {}, FILES)
    assert [one.key for one in empty.uploads.open()] == [f"k{n}" for n in range(limits.UPLOADS + 2, 2, -1)]
    assert empty.uploads.files("k0") == {}


def test_the_oldest_go_where_they_are_too_large_together(
    empty: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(limits, "UPLOADS_SIZE", 110)
    empty.uploads.keep("k1", "survey", "1.csv", {}, {"1.csv": bytes(40)})
    empty.uploads.keep("k2", "survey", "2.csv", {}, {"2.csv": bytes(40)})
    assert empty.uploads.change("k2", 0, {"rows": "x" * 40})
    empty.uploads.keep("k3", "survey", "3.csv", {}, {"3.csv": bytes(10)})
    assert [one.key for one in empty.uploads.open()] == ["k3", "k2"], "what was changed counts too"
    empty.uploads.keep("k4", "survey", "4.csv", {}, {"4.csv": bytes(200)})
    assert [one.key for one in empty.uploads.open()] == ["k4"], "the one that came last is kept"


def test_what_nobody_touched_for_long_goes(empty: Workspace, monkeypatch: pytest.MonkeyPatch) -> None:
    def days_ago(days: float) -> None:
        at = (datetime.now(UTC) - timedelta(days=days)).isoformat(timespec="seconds")
        monkeypatch.setattr(uploads, "now", lambda: at)

    days_ago(limits.UPLOAD_DAYS + 1)
    for key in ("old", "touched"):
        empty.uploads.keep(key, "survey", "plant.csv", {}, FILES)
    days_ago(limits.UPLOAD_DAYS - 1)
    assert empty.uploads.change("touched", 0, {})
    days_ago(0)
    assert [one.key for one in empty.uploads.open()] == ["touched"]
    assert empty.uploads.find("old") is None
    empty.uploads.keep("new", "survey", "plant.csv", {}, FILES)
    assert empty.uploads.files("old") == {}


def test_a_user_sees_his_own_and_what_came_before_there_were_users(empty: Workspace) -> None:
    empty.uploads.keep("before", "survey", "plant.csv", {}, FILES)
    ann, ed = (empty.accounts.add(name, Role.APPROVE, "hash") for name in ("Ann", "Ed"))
    of_ann, of_ed = empty.uploads.of(ann.id), empty.uploads.of(ed.id)
    of_ann.keep("mine", "survey", "plant.csv", {}, FILES)
    assert [one.key for one in of_ann.open()] == ["mine", "before"]
    assert [one.key for one in of_ed.open()] == ["before"]
    assert of_ed.find("mine") is None
    assert of_ed.files("mine") == {}
    assert not of_ed.change("mine", 0, {})
    of_ed.drop("mine")
    for n in range(limits.UPLOADS):
        of_ed.keep(f"k{n}", "survey", "plant.csv", {}, FILES)
    assert of_ann.find("mine") is not None, "another's uploads take no room of mine"
    empty.accounts.remove("Ann")
    assert empty.uploads.find("mine") is None
    assert empty.uploads.find("before") is not None


def test_a_backup_holds_what_waits(empty: Workspace, tmp_path: Path) -> None:
    empty.uploads.keep("k1", "survey", "plant.csv", STATE, FILES)
    empty.backup(tmp_path / "backup.halfbore")
    empty.uploads.drop("k1")
    with store.open(tmp_path / "backup.halfbore") as copy:
        assert copy.uploads.files("k1") == FILES
