"""Results, issued documents and catalogues: kept whole, stale where they are, never changed."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

import halfbore
from halfbore.domain.workspace import Address, Edit, KeptCatalogue, KeptResult
from halfbore.errors import InputError
from halfbore.store import Workspace
from tests.store.conftest import POSITION

HEAD = ("E1", "head")
RECORD = {"sentence": "Convert E1-A.", "rows": [1.5, None, {"unit": "µm"}]}


def keep(workspace: Workspace, line: Address = HEAD, **more: Any) -> KeptResult:
    given: Any = {"editions": ["ISO 281:2007"], "seed": 2**70, "on": date(2026, 3, 2), "record": RECORD}
    return workspace.keep_result(line, summary={"worth": 1}, **(given | more))


def catalogue(workspace: Workspace, version: str = "1", content: bytes = b"\x00units") -> KeptCatalogue:
    return workspace.keep_catalogue(
        "Quernvold", version, "[supplier]\n", {"units.csv": content, "prices.csv": b""}
    )


def test_a_result_comes_back_whole(plant: Workspace) -> None:
    kept = keep(plant)
    assert plant.result(HEAD) == kept
    assert (kept.address, kept.seed, kept.on, kept.stale) == (HEAD, 2**70, date(2026, 3, 2), ())
    assert (kept.editions, kept.package, kept.summary) == (
        ("ISO 281:2007",),
        halfbore.__version__,
        {"worth": 1},
    )
    assert plant.result_record(kept.id) == RECORD


def test_the_latest_result_counts(plant: Workspace) -> None:
    first, second = keep(plant), keep(plant, record={"second": True})
    assert plant.result(HEAD) == second
    assert plant.result_record(first.id) == RECORD
    keep(plant, ("F1",))
    assert list(plant.results()) == [HEAD, ("F1", "")]
    assert plant.results()[HEAD] == second
    assert plant.result(("E1", "boot")) is None


def test_an_edit_makes_a_result_stale_and_its_undo_current_again(plant: Workspace) -> None:
    keep(plant)
    keep(plant, ("F1",))
    plant.apply([Edit(POSITION, "x", "460 mm")], "Ida", "set")
    assert plant.results()[HEAD].stale == ("inputs changed",)
    assert plant.results()["F1", ""].stale == ()
    plant.undo("Ida")
    assert plant.results()[HEAD].stale == ()
    plant.apply([Edit((), "lubricant.name", "other grease")], "Ida", "set")
    assert [kept.stale for kept in plant.results().values()] == [("inputs changed",)] * 2


def test_a_new_catalogue_makes_a_result_stale(plant: Workspace) -> None:
    catalogue(plant)
    keep(plant)
    catalogue(plant)
    assert plant.results()[HEAD].stale == ()
    catalogue(plant, "2")
    assert plant.results()[HEAD].stale == ("catalogues changed",)
    catalogue(plant)
    assert plant.results()[HEAD].stale == ()


def test_another_version_of_the_program_makes_a_result_stale(
    plant: Workspace, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep(plant)
    own = halfbore.__version__
    monkeypatch.setattr(halfbore, "__version__", "99.0", raising=False)
    (kept,) = plant.results().values()
    assert kept.stale == (f"made with version {own}, this is 99.0",)


def test_an_edit_that_is_made_during_a_run_shows(plant: Workspace) -> None:
    begun = plant.inputs_hash(HEAD)
    plant.apply([Edit(POSITION, "x", "460 mm")], "Bo", "set")
    keep(plant, inputs_hash=begun)
    assert plant.results()[HEAD].stale == ("inputs changed",)
    assert plant.inputs_hash(HEAD) != begun


def test_the_result_of_a_line_that_went_and_came_back_is_there(plant: Workspace) -> None:
    kept = keep(plant)
    plant.apply([Edit(("E1",), "", None)], "Ida", "taken out")
    assert plant.results() == {}
    assert plant.result_record(kept.id) == RECORD
    plant.undo("Ida")
    assert plant.results() == {HEAD: kept}


@pytest.mark.parametrize("record", [{"x": float("nan")}, {"x": object()}, {"x": b""}])
def test_a_record_that_is_no_plain_data_is_refused(plant: Workspace, record: Any) -> None:
    with pytest.raises(InputError, match="record cannot be kept"):
        keep(plant, record=record)


def issue(workspace: Workspace, content: bytes, **more: Any) -> int:
    words: Any = {"number": "P-0101", "title": "Proposal", "kind": "pdf", "file_name": "E1-proposal.pdf"}
    return workspace.keep_document(HEAD, **words, content=content, who="Ida", **more).id


def test_an_issued_document_stays_as_it_was(plant: Workspace) -> None:
    result = keep(plant)
    number = issue(plant, b"%PDF-1", result=result.id)
    before = plant.documents()
    plant.apply([Edit(("E1",), "", None)], "Bo", "taken out")
    issue_again = plant.keep_document((), number="", title="", kind="", file_name="", content=b"", who="Bo")
    assert plant.documents()[:1] == before
    assert plant.document_bytes(number) == b"%PDF-1"
    assert plant.document_record(number) == RECORD
    assert plant.document_record(issue_again.id) is None
    (kept,) = before
    assert (kept.number, kept.title, kept.kind, kept.file_name) == (
        "P-0101",
        "Proposal",
        "pdf",
        "E1-proposal.pdf",
    )
    assert (kept.address, kept.who, kept.size, kept.result) == (HEAD, "Ida", 6, result.id)


def test_a_document_may_carry_a_record_of_its_own(plant: Workspace) -> None:
    number = issue(plant, b"%PDF-1", record={"own": 1}, result=keep(plant).id)
    assert plant.document_record(number) == {"own": 1}


@pytest.mark.parametrize(
    ("call", "what"),
    [
        (lambda w: w.document_bytes(7), "no such document; read '7'"),
        (lambda w: w.document_record(7), "no such document"),
        (lambda w: w.result_record(7), "no such result"),
        (lambda w: w.catalogue_files(7), "no such catalogue"),
        (lambda w: issue(w, b"", result=7), "no such result"),
    ],
)
def test_what_is_not_kept_is_told(plant: Workspace, call: Any, what: str) -> None:
    with pytest.raises(InputError, match=what):
        call(plant)


def test_a_catalogue_keeps_its_files_whole(plant: Workspace) -> None:
    kept = catalogue(plant)
    assert (kept.supplier, kept.version, kept.mapping, kept.current) == (
        "Quernvold",
        "1",
        "[supplier]\n",
        True,
    )
    assert kept.files == ("prices.csv", "units.csv")
    assert plant.catalogue_files(kept.id) == {"units.csv": b"\x00units", "prices.csv": b""}


def test_the_same_catalogue_is_kept_once(plant: Workspace) -> None:
    assert catalogue(plant) == catalogue(plant)
    assert len(plant.catalogues(current_only=False)) == 1


def test_a_new_version_is_current_and_the_old_one_stays(plant: Workspace) -> None:
    old, new = catalogue(plant), catalogue(plant, content=b"other")
    other = plant.keep_catalogue("Tolvarden", "1", "", {})
    assert plant.catalogues() == (new, other)
    assert [kept.id for kept in plant.catalogues(current_only=False)] == [new.id, old.id, other.id]
    assert plant.catalogue_files(old.id)["units.csv"] == b"\x00units"
