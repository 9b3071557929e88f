"""The whole job in Chromium from an empty workspace to a proposal."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from halfbore import store
from halfbore.demo import survey
from halfbore.demo.suppliers import write_catalogues
from tests.web.browsing import Watched, several
from tests.web.conftest import Served, served_at
from tests.web.intake import MAPPING, SURVEY
from tests.web.tour import Tour

OPEN = {
    '"Held?" = { field = "role", words = { fixed = "locating", float = "non-locating" } }': (
        '"Held?" = { field = "role", words = { fixed = "locating", float = "?" } }'
    ),
    '"Seat remarks" = { field = "seat.note" }': '"Seat remarks" = { field = "?" }',
    '"Zug [kN]" = { field = "pull", unit = "kN" }': '"Zug [kN]" = { field = "pull", unit = "?" }',
}
"""What is put back to a question mark in the mapping of the demo survey."""
MENDS = {
    "x from drive end [mm]": "3850",
    "Fitted": "2023-05-03",
    "Durchmesser [mm]": "4 7/16 in",
    "Drehzahl [1/min]": "60",
    "Mass [kg]": "420",
}


LEFT = [f"htmx:{event}, [object HTMLDivElement]" for event in ("afterRequest", "sendAbort")]
LEFT.append("undefined")
"""What htmx writes down, and with what it breaks its promise, when a page is left while it asks how far a run is."""


@pytest.fixture
def new(tmp_path: Path) -> Iterator[Served]:
    """Serve an empty workspace."""
    store.create(tmp_path / "new.halfbore", "New plant").close()
    with served_at(tmp_path / "new.halfbore") as found:
        yield found


@pytest.fixture
def files(tmp_path: Path) -> Path:
    """Return a folder with survey, mapping with open questions, and catalogues as they would come."""
    _, mapping = survey.write_survey(tmp_path)
    text = mapping.read_text()
    for settled, asked in OPEN.items():
        assert settled in text
        text = text.replace(settled, asked)
    mapping.write_text(text)
    write_catalogues(tmp_path)
    return tmp_path


@pytest.mark.slow  # a browser, two imports, a run and a proposal
def test_the_whole_job_from_an_empty_workspace_to_a_proposal(
    browser: Browser, new: Served, files: Path
) -> None:
    watched = Watched(browser, new, viewport={"width": 1280, "height": 800})
    page = watched.page
    tour = Tour(page, files)
    expect(page.locator("h1")).to_have_text("No machine yet. Begin with what you have.")
    page.get_by_role("link", name="Import a survey").click()
    page.get_by_label("File").set_input_files(files / survey.SURVEY)
    page.get_by_role("button", name="Look at it").click()
    expect(page.locator("h1")).to_contain_text("questions stand open before anything is brought in")
    page.get_by_label("One of an earlier survey").set_input_files(files / survey.MAPPING)
    page.get_by_role("button", name="Use that mapping").click()
    expect(page.locator("h1")).to_contain_text("3 questions stand open")
    _answer(page)
    page.get_by_role("link", name="Look at what would come in").click()
    expect(page.locator("h1")).to_contain_text(
        "rows would be brought in: 21 new positions, none changed. 9 rows must be mended."
    )
    tour.step("survey")
    page.get_by_role("button", name=re.compile(r"^Bring in \d+ rows")).click()
    expect(page.locator("h1")).to_contain_text("9 rows wait to be mended")
    tour.step("rows")
    for heading, text in MENDS.items():
        bad = page.locator(".bad").filter(has=page.get_by_text(heading, exact=True))
        bad.locator("input").fill(text)
    page.locator(".mend").filter(has=page.locator("h2", has_text="4540")).get_by_label(
        "put this row aside"
    ).check()
    page.get_by_role("button", name="Bring in the mended rows").click()
    expect(page.locator("h1")).to_contain_text("All that is not put aside is in the plant")
    page.get_by_role("link", name="Say what a stop costs").click()
    page.get_by_label("Currency").fill("EUR")
    page.get_by_label("Lost margin an hour").fill("1300 to 1650 to 2600 EUR/h")
    page.get_by_label("Nothing is lost for the first").fill("3 h")
    page.get_by_role("button", name="Keep").click()
    page.get_by_role("link", name="Catalogues").click()
    for table in ("quernvold.csv", "tolvarden.xlsx"):
        mapping = f"{Path(table).stem}.toml"
        page.get_by_label("Tables, and their mapping").set_input_files([files / table, files / mapping])
        page.get_by_role("button", name="Look at it").click()
        page.get_by_role("button", name="Bring it in").click()
        expect(page).to_have_url(re.compile(r"/catalogues/\d"))
        page.get_by_role("link", name="All catalogues").click()
    expect(page.locator("h1")).to_have_text("2 catalogues: 5264 units to choose from")
    page.get_by_role("link", name="Plant", exact=True).click()
    expect(page.locator("h1")).to_contain_text("24 positions surveyed; none is worked out yet.")
    page.get_by_role("link", name="E1 head").first.click()
    page.get_by_role("button", name=re.compile("^Run for hours")).click()
    expect(page.locator("#running")).to_contain_text("1 of 1 shaft lines", timeout=120_000)
    expect(page.locator("h1")).to_contain_text("a split unit holds at")
    tour.step("machine")
    page.get_by_role("link", name="Plant", exact=True).click()
    page.get_by_role("searchbox").fill("E1-B")
    page.get_by_role("button", name="Show").click()
    expect(page.locator(".positions a.tag")).to_have_count(1)
    page.locator(".positions a.tag").click()
    expect(page).to_have_url(re.compile("/positions/E1-B"))
    expect(page.locator("h1")).to_contain_text(re.compile("hold|tight|fits", re.IGNORECASE))
    tour.step("position")
    for room in ("order", "changeover", "value"):
        page.get_by_role("link", name=room.capitalize(), exact=True).click()
        expect(page).to_have_url(re.compile(f"/{room}$"))
        expect(page.locator("h1")).to_contain_text("E1\u2060-\u2060B")
        tour.step(room)
    page.get_by_role("link", name="Documents").click()
    page.get_by_label("Kind").select_option("proposal")
    page.get_by_label("Of").fill("E1 head")
    page.get_by_role("button", name="Issue").click()
    issued = page.locator(".documents a").first
    expect(issued).to_be_visible(timeout=120_000)
    tour.step("documents")
    with page.expect_download() as download:
        issued.click()
    proposal = tour.folder / "E1-proposal.pdf"
    download.value.save_as(proposal)
    assert proposal.read_bytes().startswith(b"%PDF-")
    tour.check()
    watched.complaints[:] = [c for c in watched.complaints if c not in LEFT]
    watched.check()


def _answer(page: Page) -> None:
    """Put what it is in place of every question mark, sheet by sheet."""
    page.get_by_label("Seat remarks").fill("seat.note")
    page.get_by_label("float", exact=True).select_option("non-locating")
    page.locator("#columns").get_by_role("button", name="Keep").first.click()
    page.get_by_role("link", name="Next open: Riemenscheiben").click()
    page.get_by_label("Unit of Zug [kN]").fill("kN")
    page.locator("#columns").get_by_role("button", name="Keep").first.click()
    expect(page.locator("h1")).to_contain_text("Every column is settled")


@pytest.mark.slow  # a browser
def test_an_import_works_without_a_script(browser: Browser, new: Served) -> None:
    watched = Watched(browser, new, java_script_enabled=False)
    page = watched.page
    page.goto(f"{new.address}/import")
    file = {"name": "plant.csv", "mimeType": "text/csv", "buffer": SURVEY.encode()}
    page.get_by_label("File").set_input_files(file)  # type: ignore[arg-type]
    page.get_by_role("button", name="Look at it").click()
    mapping = {"name": "m.toml", "mimeType": "text/plain", "buffer": MAPPING.encode()}
    page.get_by_label("One of an earlier survey").set_input_files(mapping)  # type: ignore[arg-type]
    page.get_by_role("button", name="Use that mapping").click()
    page.get_by_label("float", exact=True).select_option("non-locating")
    page.locator("#columns").get_by_role("button", name="Keep").first.click()
    page.get_by_role("link", name="Look at what would come in").click()
    page.get_by_role("button", name="Bring in 2 rows").click()
    for at, text in (("r0.3", "fixed"), ("r1.2", "900"), ("r1.4", "99.98")):
        page.locator(f'[name="{at}"]').fill(text)
    page.get_by_role("button", name="Bring in the mended rows").click()
    expect(page.locator("h1")).to_contain_text("All that is not put aside is in the plant")
    watched.check()


@pytest.mark.slow  # a browser
def test_tables_are_joined_without_a_script(browser: Browser, new: Served) -> None:
    watched = Watched(browser, new, java_script_enabled=False)
    page = watched.page
    page.goto(f"{new.address}/catalogues")
    page.get_by_label("Tables, and their mapping").set_input_files(several())  # type: ignore[arg-type]
    page.get_by_role("button", name="Look at it").click()
    expect(page.locator("main")).to_contain_text("Needs keys that join it to a table above")
    page.get_by_label("Column 1 of feet", exact=True).select_option("Bearing")
    page.get_by_label("Column above for column 1 of feet").select_option("bearings.No")
    page.get_by_label("Rows for a key of feet").select_option("every row is a unit of its own")
    page.locator("#joins-form").get_by_role("button", name="Keep").click()
    expect(page.locator("main")).not_to_contain_text("Needs keys that join it")
    expect(page.get_by_label("Column above for column 1 of feet")).to_have_value("bearings.No")
    watched.check()


@pytest.mark.slow  # a browser and 21 MB
def test_a_file_that_is_too_large_is_told_before_and_after_it_is_sent(
    browser: Browser, new: Served, tmp_path: Path
) -> None:
    large = tmp_path / "large.csv"
    large.write_bytes(b"a,b\n" * 5_500_000)
    for script in (True, False):
        watched = Watched(browser, new, java_script_enabled=script)
        page = watched.page
        page.goto(f"{new.address}/import")
        page.get_by_label("File").set_input_files(large)
        if script:
            said = page.get_by_label("File").evaluate("e => e.validationMessage")
            assert said == "That is 22.0 MB; up to 20 MB are taken."
        else:
            page.get_by_role("button", name="Look at it").click()
            expect(page.locator("body")).to_contain_text("files up to 20 MB", timeout=30_000)
