"""What is said on the spot: never more than a run says, beside what the last run advised and whether that still counts."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.study import Decision, PositionStudy
from halfbore.domain.workspace import Address, Edit
from halfbore.estimate.reading import read_completed
from halfbore.narrowing import answered
from halfbore.study import Stage, glance
from halfbore.web.rooms.machine import glanced_headline, headline
from halfbore.workspace.catalogues import catalogues_of
from halfbore.workspace.lines import job_data, lines_of
from halfbore.workspace.live import Studies
from tests.web.test_rooms import text_of

NO_UNIT = (Decision.KEEP, Decision.NO_UNIT, Decision.WAITS)
AGAIN = "has to be run again"


def said(found: PositionStudy) -> int:
    """Return how much is said for a unit: 3 that it holds, 2 once that is measured, 1 once the cause is settled."""
    if found.decision in NO_UNIT:
        return 0
    if found.decision is Decision.SETTLE_FIRST:
        return 1
    return 2 if found.first else 3


@pytest.mark.slow  # the whole of every shaft line of the plant
def test_what_is_said_on_the_spot_is_never_more_than_a_run_says(plant: Path) -> None:
    seen = 0
    with store.open(plant) as workspace:
        known, studies = catalogues_of(workspace), Studies(workspace)
        for line in lines_of(workspace):
            reading = read_completed(job_data(workspace, line))
            run, _ = answered(reading, known, Stage.VALUE)
            spot = studies.of(line)
            glanced = glance(reading, spot)
            assert glanced is not None
            for whole, there, here in zip(run.positions, spot.positions, glanced.positions, strict=True):
                assert said(there) == said(whole), whole.position
                assert said(here) <= said(whole), whole.position
                assert there.first == whole.first
                if whole.decision in (Decision.CONVERT, Decision.CONVERT_IF):
                    assert there.decision is (Decision.HOLDS_IF if whole.first else Decision.HOLDS)
                bare = f"holds at {whole.position}"
                if said(whole) < 3:
                    assert bare not in headline(spot)
                    assert bare not in glanced_headline(glanced)
                seen += 1
    assert seen == 24


TYPED: list[tuple[Address, Address, str, str]] = [
    (("F3", ""), ("F3", "", "F3-B"), "shaft_temperature", "100 degC to 130 degC"),
    (("F1", ""), ("F1", ""), "loads[fan wheel].mass", "900 kg to 1900 kg"),
    (("C1", ""), ("C1", "", "C1-B"), "seat.diameter", "99.90 mm to 100.10 mm"),
    (("K1", ""), ("K1", ""), "duty[crushing].load_factor", "0.8 to 1.6"),
    (("E1", "head"), ("E1", "head"), "loads[head drum].mass", "1000 kg to 9000 kg"),
]


@pytest.mark.slow  # two studies each
@pytest.mark.parametrize(("line", "at", "path", "value"), TYPED)
def test_with_a_typed_value_a_glance_says_no_more_than_the_search_that_follows(
    plant: Path, line: Address, at: Address, path: str, value: str
) -> None:
    with store.open(plant) as workspace:
        known, studies = catalogues_of(workspace), Studies(workspace)
        studies.of(line)
        edits = [Edit(at, path, value)]
        here = studies.glance(line, edits)
        assert here is not None
        then, _ = answered(read_completed(job_data(workspace, line, edits)), known, Stage.SELECT)
    for a, b in zip(here.positions, then.positions, strict=True):
        one, other = (p.choice.chosen if p.choice else None for p in (a, b))
        if one is not None and other is not None and one.code == other.code:
            assert said(a) <= said(b), a.position


def test_an_order_on_the_spot_waits_for_the_measurement_like_that_of_a_run(client: TestClient) -> None:
    page = text_of(client.get("/positions/F3-B/order").text)
    assert "not ready: it is not shown yet that the unit holds" in page
    asked = page.partition("What the supplier asks")[2].partition("Lubricant")[0]
    assert " open shaft temperature 95 to 115 °C " in asked
    told = client.get("/api/answer", params={"tag": "F3"}).json()["positions"]
    assert [p["decision"] for p in told] == [Decision.SETTLE_FIRST.value, Decision.HOLDS_IF.value]
    assert told[1]["first"].startswith("Measure the temperature of the shaft at F3-B first")
    assert [p["kept"] for p in told] == [None, None]


def test_the_last_run_stands_beside_a_typed_value_as_from_before_it(client: TestClient, csrf: str) -> None:
    form = {"at": "E1/head", "path": "loads[head drum].mass", "do": "keep", "csrf": csrf, "value": "2500 kg"}
    before = text_of(client.get("/lines/E1/head").text)
    assert "Last run: convert," in before
    assert "from before" not in before
    typed = client.post("/lines/E1/head/typed", data=form).text
    assert "from before mass 2500 kg" in text_of(typed)
    assert '<span class="stale">convert' in typed
    client.post("/lines/E1/head", data=form)
    kept = text_of(client.get("/positions/E1-B").text)
    assert "Last run: convert," in kept
    assert "inputs changed" in kept
    told = client.get("/api/answer", params={"tag": "E1-B"}).json()["positions"]
    assert told[1]["kept"] == {**told[1]["kept"], "decision": "convert", "stale": ["inputs changed"]}


def kept_without_worths(path: Path, summary: dict[str, object]) -> None:
    """Keep a result of a shaft line whose summary is not what this version keeps."""
    with store.open(path) as workspace:
        line = ("T1", "")
        workspace.keep_result(line, editions=(), seed=1, on=date(2026, 3, 2), record={}, summary=summary)


@pytest.mark.parametrize(
    "summary", [{}, {"worths": None}, {"worths": [{"position": "T1-A"}]}, {"worths": ["x"]}]
)
def test_a_kept_result_without_worths_says_that_it_has_to_be_run_again(
    client: TestClient, copied: Path, summary: dict[str, object]
) -> None:
    kept_without_worths(copied, summary)
    for address in ("/positions/T1-A", "/lines/T1/-", "/positions/T1-A/value"):
        shown = client.get(address)
        assert shown.status_code == 200, address
    assert AGAIN in client.get("/positions/T1-A").text
    assert AGAIN in client.get("/lines/T1/-").text
    plant = text_of(client.get("/").text)
    assert "Run 10 shaft lines" in plant
    assert client.get("/documents").status_code == 200
    assert client.get("/api/positions").status_code == 200
