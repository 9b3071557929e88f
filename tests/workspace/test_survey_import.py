"""A survey goes in whole or not at all, once only, and no row is lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from halfbore import store
from halfbore.demo import survey
from halfbore.domain.survey import Thing, Told
from halfbore.errors import InputError
from halfbore.intake.survey.mapping import read_mapping_file
from halfbore.intake.survey.rejects import write_rejects
from halfbore.workspace.demo_plant import DemoPlant
from halfbore.workspace.lines import lines_of
from halfbore.workspace.survey import import_survey, import_told

Copied = Callable[[], Path]


def test_the_demo_plant_comes_out_of_its_survey(made: DemoPlant) -> None:
    with store.open(made.workspace) as workspace:
        contents = workspace.contents()
        assert len(lines_of(workspace)) == 11
    assert sum(len(address) == 3 for address in contents) == 24
    assert len({address[0] for address in contents if address}) == 10
    assert len(made.first.reading.rejects) == 9  # two of them are history of positions that were rejected
    assert made.second.reading.rejects == ()
    assert made.second.rejects is None


def test_the_same_file_twice_changes_nothing(made: DemoPlant, copied: Copied) -> None:
    with store.open(copied()) as workspace:
        before, batches = workspace.contents(), workspace.batches()
        again = import_survey(workspace, made.mended, made.mapping, "me")
        assert again.batch is None
        assert (again.new, again.changed) == ((), ())
        assert workspace.contents() == before
        assert workspace.batches() == batches


def test_one_batch_holds_the_whole_survey_and_can_be_taken_back(made: DemoPlant, copied: Copied) -> None:
    with store.open(copied()) as workspace:
        surveyed = next(b for b in workspace.batches() if b.source == made.survey.name)
        mended = next(b for b in workspace.batches() if b.source == made.mended.name)
        workspace.undo("me", mended.id)
        workspace.undo("me", surveyed.id)
        assert lines_of(workspace) == ()


def test_a_row_without_a_place_goes_back_with_the_others(made: DemoPlant, tmp_path: Path) -> None:
    """History of positions that the workspace does not hold: every row comes back, none goes in."""
    mapping = read_mapping_file(made.mapping)
    with store.create(tmp_path / "empty.halfbore", "empty") as workspace:
        history = tmp_path / "history.xlsx"
        rows = [r for r in made.first.reading.rejects if r.sheet == "Bearings"]
        assert rows
        write_rejects(history, made.first.reading, mapping)
        done = import_survey(workspace, history, made.mapping, "me")
        assert len(done.reading.told) + len(done.reading.rejects) >= done.reading.rows
        assert done.rejects is not None
        assert done.rejects.exists()


def test_a_fact_that_finds_no_place_stops_all_facts(copied: Copied) -> None:
    with store.open(copied()) as workspace:
        before = workspace.contents()
        facts = [
            Told(Thing.MACHINE, ("F1",), {"machine": {"plant": "moved"}}, "a"),
            Told(Thing.FAILURE, (None, None, "X-9"), {"on": "2020-01-01"}, "b"),
        ]
        with pytest.raises(InputError, match="X-9 is not among the positions"):
            import_told(workspace, facts, "me", "facts", "test")
        assert workspace.contents() == before


def test_what_was_typed_is_kept_with_the_unit_of_its_heading(made: DemoPlant) -> None:
    with store.open(made.workspace) as workspace:
        assert workspace.document(("L1", "", "L1-4"))["seat"]["diameter"].startswith("112,7 mm")
        assert workspace.document(("L1", "", "L1-1"))["seat"]["nominal"] == "4-7/16 in"


def test_the_office_s_figures_reach_every_line(made: DemoPlant) -> None:
    with store.open(made.workspace) as workspace:
        for line in lines_of(workspace):
            assert workspace.job_data(line)["value"]["currency"] == "EUR"
    assert survey.OFFICE == "plant.toml"


def test_rejects_that_somebody_mends_are_never_written_over(made: DemoPlant, tmp_path: Path) -> None:
    surveyed = tmp_path / made.survey.name
    surveyed.write_bytes(made.survey.read_bytes())
    with store.create(tmp_path / "lime.halfbore", "lime") as workspace:
        first = import_survey(workspace, surveyed, made.mapping, "me").rejects
        assert first is not None
        assert import_survey(workspace, surveyed, made.mapping, "me").rejects == first, (
            "the same rows: left there"
        )
        first.write_bytes(made.mended.read_bytes())
        second = import_survey(workspace, surveyed, made.mapping, "me").rejects
        assert second is not None
        assert second.name == first.name.replace(".rejects", ".rejects-2")
        assert first.read_bytes() == made.mended.read_bytes()


def test_a_row_of_totals_is_passed_over_and_not_used(made: DemoPlant) -> None:
    reading = made.first.reading
    assert [why for _, why in reading.passed] == ["passed over, as skip of the mapping says"]
    places = {t.place for t in reading.told}
    assert len(places) == reading.rows - len(reading.rejects) - len(reading.passed)
    assert not places & {place for place, _ in reading.passed}
