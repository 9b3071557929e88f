"""The workspaces of earlier versions in tests/samples: what is in each, and how the one of this version is made.

    python -m tests.store.sample

makes the sample of the version that the program has now; those of earlier versions are never made again.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from halfbore import store
from halfbore.domain.user import Role
from halfbore.domain.workspace import Edit, LineNode, MachineNode
from halfbore.store import Workspace

FOLDER = Path(__file__).parents[1] / "samples"
PLANT = "Ostrindale Lime (invented)"
HEAD = ("E1", "head")
POSITION = (*HEAD, "E1-A")
RECORD = {"sentence": "Convert E1-A.", "rows": [1.5, None, "µm"]}
UPLOAD = {"plant.csv": b"tag;seat\r\nE1-A;160\r\n"}
SURVEY = [
    Edit((), "invented", True),
    Edit(("E1",), "", {"machine": {"kind": "elevator head"}}),
    Edit(HEAD, "", {"loads": [{"name": "drum", "mass": "410 kg"}]}),
    Edit(("E1", "boot"), "", {}),
    Edit(POSITION, "", {"x": "450 mm", "history": [{"on": date(2021, 10, 8), "why": "overload"}]}),
    Edit(("F1",), "", {}),
    Edit(("F1", ""), "", {}),
    Edit(("F1", "", "F1-A"), "", {"seat": {"diameter": "159.945 mm to 159.955 mm"}}),
]


def fill(workspace: Workspace) -> None:
    """Put into a workspace what `check` looks for."""
    workspace.apply(SURVEY, "Ida", "survey", "plant.csv")
    workspace.apply([Edit(POSITION, "history[2021-10-08].why", "fracture")], "Bo", "looked again")
    workspace.apply([Edit(HEAD, "loads[drum].mass", "500 kg")], "Bo", "weighed")
    workspace.undo("Ida")
    workspace.keep_catalogue(
        "Quernvold (invented)", "2025", "[supplier]\n", {"units.csv": b"size\r\n160\r\n"}
    )
    workspace.keep_catalogue(
        "Quernvold (invented)", "2026", "[supplier]\n", {"units.csv": b"size\r\n180\r\n"}
    )
    facts: Any = {"editions": ("ISO 281:2007",), "seed": 281, "on": date(2026, 3, 2)}
    kept = workspace.keep_result(HEAD, **facts, record=RECORD, summary={"worth": 12.5}, package="0.1.0")
    words: Any = {"number": "P-0101", "title": "Proposal", "kind": "pdf", "file_name": "E1-proposal.pdf"}
    workspace.uploads.keep("of-the-sample", "survey", "plant.csv", {"mapping": None}, UPLOAD)
    workspace.keep_document(HEAD, **words, content=b"%PDF-1.7 \x00\xff", who="Ida", result=kept.id)


def check(workspace: Workspace) -> None:
    """Find everything that is in a sample, and change it."""
    assert workspace.plant == PLANT
    assert workspace.tree() == (
        MachineNode("E1", (LineNode("head", ("E1-A",)), LineNode("boot", ()))),
        MachineNode("F1", (LineNode("", ("F1-A",)),)),
    )
    assert workspace.job_data(HEAD) == {
        "format": 1,
        "title": "E1 head",
        "invented": True,
        "machine": {"name": "E1", "plant": PLANT, "kind": "elevator head"},
        "shaft": {"name": "head"},
        "loads": [{"name": "drum", "mass": "410 kg"}],
        "positions": [{"name": "E1-A", "x": "450 mm", "history": [{"on": "2021-10-08", "why": "fracture"}]}],
    }
    assert workspace.document(("F1", "", "F1-A")) == {"seat": {"diameter": "159.945 mm to 159.955 mm"}}
    assert [(b.who, b.what, b.source, b.undone) for b in workspace.batches()] == [
        ("Ida", "undo of batch 3: weighed", "", False),
        ("Bo", "weighed", "", True),
        ("Bo", "looked again", "", False),
        ("Ida", "survey", "plant.csv", False),
    ]
    assert [(c.path, c.old, c.new) for c in workspace.history(limit=3)] == [
        ("loads[drum].mass", "500 kg", "410 kg"),
        ("loads[drum].mass", "410 kg", "500 kg"),
        ("history[2021-10-08].why", "overload", "fracture"),
    ]
    (current,) = workspace.catalogues()
    assert workspace.catalogue_files(current.id) == {"units.csv": b"size\r\n180\r\n"}
    assert [c.version for c in workspace.catalogues(current_only=False)] == ["2026", "2025"]
    result = workspace.result(HEAD)
    assert result is not None
    assert (result.seed, result.on, result.summary) == (281, date(2026, 3, 2), {"worth": 12.5})
    assert set(result.stale) <= {f"made with version 0.1.0, this is {_version()}"}
    assert workspace.result_record(result.id) == RECORD
    (document,) = workspace.documents()
    assert (document.number, document.who, document.result) == ("P-0101", "Ida", result.id)
    assert workspace.document_bytes(document.id) == b"%PDF-1.7 \x00\xff"
    assert workspace.document_record(document.id) == RECORD
    workspace.undo("Cy", 2)
    assert workspace.document(POSITION)["history"][0]["why"] == "overload"
    workspace.uploads.keep("another", "survey", "new.csv", {"mapping": None}, UPLOAD)
    workspace.accounts.add("Ann", Role.APPROVE, "hash of a password")


def _version() -> str:
    import halfbore

    return halfbore.__version__


if __name__ == "__main__":
    from halfbore.store.tables import VERSION

    with store.create(FOLDER / f"workspace_{int(VERSION)}.halfbore", PLANT) as made:
        fill(made)
