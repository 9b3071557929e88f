"""The answer while a value is typed: the same as a study gives for these units, nothing kept, and quick to come."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.workspace import Address, Edit
from halfbore.estimate.reading import read_completed
from halfbore.study import Stage, glance, study
from halfbore.workspace.catalogues import catalogues_of
from halfbore.workspace.lines import job_data, lines_of
from halfbore.workspace.live import Studies

MASS = {"at": "E1/head", "path": "loads[head drum].mass", "do": "keep"}


@pytest.mark.slow  # a study of every shaft line of the plant
def test_a_glance_says_what_a_study_says_of_the_same_units(plant: Path) -> None:
    with store.open(plant) as workspace:
        catalogues = catalogues_of(workspace)
        for line in lines_of(workspace):
            reading = read_completed(job_data(workspace, line))
            whole = study(reading, catalogues, Stage.SELECT)
            seen = glance(reading, whole)
            assert seen is not None
            assert seen.response.reactions == whole.response.reactions
            for there, here in zip(whole.positions, seen.positions, strict=True):
                assert (there.choice is None) == (here.choice is None)
                if there.choice and here.choice:
                    assert here.choice.shown_findings == there.choice.shown_findings
                    assert (here.choice.chosen is None) == (there.choice.chosen is None)


def test_a_glance_needs_the_same_positions(plant: Path) -> None:
    with store.open(plant) as workspace:
        reading = read_completed(job_data(workspace, ("E1", "head")))
        whole = study(reading, catalogues_of(workspace), Stage.SELECT)
    assert glance(reading, replace(whole, positions=whole.positions[:1])) is None


def test_edits_as_if_made_are_not_kept(copied: Path) -> None:
    line: Address = ("E1", "head")
    with store.open(copied) as workspace:
        studies = Studies(workspace)
        assert studies.glance(line) is None, "no unit was shown yet"
        before = studies.of(line)
        heavier = studies.glance(line, [Edit(line, "loads[head drum].mass", "2500 kg")])
        assert heavier is not None
        assert heavier.reading.job.loads != before.reading.job.loads
        assert studies.of(line) is before
        workspace.apply([Edit(line, "loads[head drum].mass", "2500 kg")], "test", "edit")
        assert not studies.at_hand(line)
        kept = studies.of(line)
        assert kept.response.reactions == heavier.response.reactions


def test_a_typed_value_shows_its_reactions_and_is_not_kept(client: TestClient, csrf: str) -> None:
    client.get("/lines/E1/head")
    shown = client.post("/lines/E1/head/typed", data=MASS | {"csrf": csrf, "value": "2500 kg"})
    assert shown.status_code == 200
    assert "not kept yet" in shown.text
    assert "48.7" in shown.text
    assert "41.9" in client.get("/lines/E1/head").text


def test_what_cannot_be_used_is_told_beside_the_field_and_the_answer_stays(
    client: TestClient, csrf: str
) -> None:
    client.get("/lines/E1/head")
    shown = client.post("/lines/E1/head/typed", data=MASS | {"csrf": csrf, "value": "heavy"})
    assert shown.status_code == 200
    problem = shown.text.split('id="typed-problem"')[1]
    assert "<li>" in problem
    assert "Accepted" in problem
    assert "41.9" in shown.text
    assert "not kept yet" not in shown.text


def test_before_any_unit_was_shown_the_page_stays(client: TestClient, csrf: str) -> None:
    shown = client.post("/lines/E1/head/typed", data=MASS | {"csrf": csrf, "value": "2500 kg"})
    assert shown.status_code == 204


def test_a_kept_value_is_answered_at_once_and_searched_for_afterwards(client: TestClient, csrf: str) -> None:
    client.get("/lines/E1/head")
    kept = client.post("/lines/E1/head", data=MASS | {"csrf": csrf, "value": "2500 kg"})
    assert kept.status_code == 303
    boosted = client.get(kept.headers["location"], headers={"HX-Request": "true"}).text
    assert "data-unsettled" in boosted
    assert "48.7" in boosted
    searched = client.get("/lines/E1/head/answer").text
    assert "data-unsettled" not in searched
    assert "48.7" in searched
    assert "data-unsettled" not in client.get("/lines/E1/head", headers={"HX-Request": "true"}).text
    assert "data-unsettled" not in client.get("/lines/E1/head").text


def test_a_page_may_ask_for_the_one_drawing_that_it_shows(client: TestClient, csrf: str) -> None:
    client.get("/lines/E1/head")
    form = MASS | {"csrf": csrf, "value": "2500 kg"}
    both = client.post("/lines/E1/head/typed", data=form).text
    one = client.post("/lines/E1/head/typed", data=form | {"drawing": "wide"}).text
    assert both.count("<svg xmlns") == one.count("<svg xmlns") + 1
    assert 'class="alone"' in one
