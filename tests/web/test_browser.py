"""The rooms in Chromium, as a new user goes through them."""

from __future__ import annotations

import re

import httpx2
import pytest
from playwright.sync_api import Browser, Page, Route, expect

from halfbore import store
from halfbore.domain.workspace import Edit
from halfbore.web.addresses import position_page
from tests.web.browsing import Watched
from tests.web.conftest import Served


@pytest.mark.slow  # a browser, and two studies of a shaft line
def test_a_mass_is_edited_and_the_reactions_answer(browser: Browser, served: Served) -> None:
    watched = Watched(browser, served, viewport={"width": 1440, "height": 900})
    page = watched.page
    expect(page.locator("h1")).to_have_text(re.compile("Convert 1 of 24 positions"))
    assert "token" not in page.url
    page.get_by_role("link", name="E1 head").first.click()
    expect(page.locator("h1")).to_have_text(re.compile("a split unit holds at", re.IGNORECASE))
    of_b = page.locator(".reactions tr", has_text="lifting").filter(has_text="E1-B").locator(".strong")
    expect(of_b).to_have_text("41.9\u00a0kN")
    page.locator(".elements tr", has_text="head drum").locator("a.value").nth(1).click()
    typed = page.locator("#typed")
    expect(typed).to_be_focused()
    typed.fill("heavy")
    typed.press("Enter")
    # What is typed is told live beside it, sooner than Enter is answered.
    expect(page.locator("#typed-wrong")).to_be_visible()
    expect(typed).to_have_value("heavy")
    typed.fill("2500 kg")
    typed.press("Enter")
    expect(of_b).to_have_text("48.7\u00a0kN")
    expect(page.locator("#edit")).to_have_count(0)
    page.get_by_role("button", name="Undo").click()
    expect(of_b).to_have_text("41.9\u00a0kN")
    page.locator(".drawing svg:visible a").last.click()
    expect(page).to_have_url(re.compile("/positions/E1-B"))
    page.get_by_role("link", name="Rating life").click()
    expect(page.locator("#working")).to_contain_text("ISO 281:2007")
    page.keyboard.press("Escape")
    expect(page.locator("#working")).to_have_count(0)
    page.go_back()
    expect(page.locator("#working")).to_have_count(1)
    page.go_back()
    expect(page.locator("#working")).to_have_count(0)
    page.go_back()
    expect(page).to_have_url(re.compile("/lines/E1/head"))
    # htmx writes down that a question of its own was given up as the page was left.
    given_up = [f"htmx:{event}, [object HTMLDivElement]" for event in ("afterRequest", "sendAbort")]
    assert [c for c in watched.complaints if "422" not in c and c not in given_up] == []
    watched.complaints.clear()  # a browser writes down that an answer was 422, which it was meant to be
    watched.check()


@pytest.mark.slow  # a browser and a run of a shaft line
def test_a_run_goes_on_beside_the_page(browser: Browser, served: Served) -> None:
    with store.open(served.workspace) as workspace:
        workspace.apply([Edit(("T1", "", "T1-A"), "old_is_seized", True)], "test", "look")
    watched = Watched(browser, served)
    page = watched.page
    page.goto(f"{served.address}/lines/T1/-")
    page.get_by_role("button", name="Run again for hours and money").click()
    expect(page.locator("#running")).to_contain_text("1 of 1 shaft lines", timeout=60_000)
    expect(page.get_by_text("The worth is of an earlier run")).to_have_count(0)
    watched.check()


@pytest.mark.slow  # a browser
@pytest.mark.parametrize(
    ("units", "typed", "shown"), [("mm", "1200 kg", r"1\s200\skg"), ("in", "2600 lb", r"2\s600\slb")]
)
def test_a_value_is_kept_without_a_script(
    browser: Browser, served: Served, units: str, typed: str, shown: str
) -> None:
    watched = Watched(browser, served, java_script_enabled=False)
    page = watched.page
    page.goto(f"{served.address}/lines/E1/head?units={units}")
    drum = page.locator(".elements tr", has_text="head drum")
    drum.locator("a.value").nth(1).click()
    page.locator("#typed").fill(typed)
    page.get_by_role("button", name="Keep").click()
    expect(drum).to_contain_text(re.compile(shown))
    page.get_by_role("button", name="Undo").click()
    expect(page).to_have_url(re.compile("/lines/E1/head"))
    watched.check()


def test_odd_tags_lead_to_their_pages(served: Served) -> None:
    tags = ("a/b", "50%", "ä ö", "a?b#c", "..", "%2F", "<b>")
    with store.open(served.workspace) as other:
        for tag in tags:
            other.apply([Edit(("T1", "", tag), "", {"x": "100 mm"})], "other", "new")
    with httpx2.Client(base_url=served.address, follow_redirects=True) as client:
        client.get(served.opening)
        for tag in tags:
            answer = client.get(position_page(tag))
            assert answer.status_code == 200, tag
            assert f"<title>{tag}".replace("<b>", "&lt;b&gt;") in answer.text


@pytest.mark.slow  # a browser, and two studies of a shaft line
def test_reactions_follow_what_is_typed(browser: Browser, served: Served) -> None:
    watched = Watched(browser, served, viewport={"width": 1440, "height": 900})
    page = watched.page
    page.goto(f"{served.address}/lines/E1/head")
    of_b = page.locator(".reactions tr", has_text="lifting").filter(has_text="E1-B").locator(".strong")
    page.locator(".elements tr", has_text="head drum").locator("a.value").nth(1).click()
    typed = page.locator("#typed")
    expect(typed).to_be_focused()
    typed.press("ControlOrMeta+a")
    typed.press_sequentially("2500 kg", delay=20)
    expect(of_b).to_have_text("48.7\u00a0kN")
    expect(page.locator(".typing-note")).to_have_text(re.compile("2500 kg, not kept yet"))
    expect(typed).to_be_focused()
    expect(typed).to_have_value("2500 kg")
    typed.press_sequentially(" heavy")
    expect(page.locator("#typed-problem .problems")).to_be_visible()
    page.keyboard.press("Escape")
    expect(of_b).to_have_text("41.9\u00a0kN")
    with store.open(served.workspace) as workspace:
        assert "2500" not in str(workspace.document(("E1", "head")))
    watched.check()


def held(page: Page, what: str) -> list[Route]:
    """The questions to an address, each held back until it is let go."""
    routes: list[Route] = []
    page.route(f"**/lines/E1/head{what}", lambda route: routes.append(route))
    return routes


def let_go(page: Page, route: Route) -> None:
    with page.expect_response(route.request.url):
        route.continue_()
    page.wait_for_timeout(200)


def next_of(page: Page, routes: list[Route]) -> Route:
    """The next question that is held; a browser may ask it a moment after the page says so."""
    for _ in range(500):
        if routes:
            return routes.pop(0)
        page.wait_for_timeout(20)
    raise AssertionError("nothing was asked")


def kept_and_typed_on(page: Page, address: str) -> list[Route]:
    """Keep a heavier drum, hold the search that follows, and open the field again; the searches held."""
    searches = held(page, "/answer")
    page.goto(f"{address}/lines/E1/head")
    drum_mass = page.locator(".elements tr", has_text="head drum").locator("a.value").nth(1)
    drum_mass.click()
    page.locator("#typed").fill("2500 kg")
    page.locator("#typed").press("Enter")
    expect(page.locator("#edit")).to_have_count(0)
    drum_mass.click()
    expect(page.locator("#typed")).to_be_focused()
    expect(page.locator("#answer[data-unsettled]")).to_have_count(1)
    return searches


@pytest.mark.slow  # a browser, and two studies of a shaft line
def test_an_answer_whose_place_was_taken_meanwhile_is_passed_over(browser: Browser, served: Served) -> None:
    watched = Watched(browser, served, viewport={"width": 1440, "height": 900})
    page = watched.page
    searches = kept_and_typed_on(page, served.address)
    page.locator("#typed").fill("3000 kg")
    noted = page.locator(".typing-note")
    expect(noted).to_have_text(re.compile("3000 kg, not kept yet"))
    let_go(page, next_of(page, searches))
    expect(noted).to_have_text(re.compile("3000 kg, not kept yet"))
    watched.check()


@pytest.mark.slow  # a browser, and two studies of a shaft line
def test_an_answer_to_what_is_typed_finds_its_place_drawn_anew(browser: Browser, served: Served) -> None:
    watched = Watched(browser, served, viewport={"width": 1440, "height": 900})
    page = watched.page
    searches = kept_and_typed_on(page, served.address)
    typed = held(page, "/typed")
    with page.expect_request("**/lines/E1/head/typed"):
        page.locator("#typed").fill("3000 kg")
    while page.locator("#answer[data-unsettled]").count():
        let_go(page, next_of(page, searches))
    let_go(page, next_of(page, typed))
    expect(page.locator(".typing-note")).to_have_text(re.compile("3000 kg, not kept yet"))
    watched.check()


@pytest.mark.slow  # a browser, and two studies of a shaft line
def test_nothing_typed_while_a_value_is_being_kept_is_lost(browser: Browser, served: Served) -> None:
    watched = Watched(browser, served, viewport={"width": 1440, "height": 900})
    page = watched.page
    page.goto(f"{served.address}/lines/E1/head")
    page.locator(".elements tr", has_text="head drum").locator("a.value").nth(1).click()
    typed, edit = page.locator("#typed"), page.locator("#edit")
    typed.fill("heavy")
    expect(page.locator("#typed-problem .problems")).to_be_visible()
    keeping = held(page, "")
    typed.press("Enter")
    expect(edit).to_have_attribute("aria-busy", "true")
    page.keyboard.type(" 2500 kg")
    expect(typed).to_have_value("heavy")
    expect(typed).to_be_focused()
    let_go(page, next_of(page, keeping))
    # What was refused is there to be mended.
    expect(page.locator("#typed-wrong")).to_be_visible()
    expect(typed).to_be_editable()
    typed.fill("2500 kg")
    typed.press("Enter")
    expect(edit).to_have_attribute("aria-busy", "true")
    next_of(page, keeping).abort()
    # Where no answer comes, the field is free again, with what was typed.
    expect(edit).to_have_attribute("aria-busy", "false")
    page.keyboard.press("End")
    page.keyboard.type(".5")
    expect(typed).to_have_value("2500 kg.5")


@pytest.mark.slow  # a browser, and a study of a shaft line
def test_a_part_is_moved_in_the_drawing(browser: Browser, served: Served) -> None:
    watched = Watched(browser, served, viewport={"width": 1440, "height": 900})
    page = watched.page
    page.goto(f"{served.address}/lines/E1/head")
    drum = page.locator("#drawing svg:visible a[data-edit*='head+drum']")
    box = drum.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2 + 20, box["y"] + box["height"] / 2, steps=4)
    expect(page.locator("#drawing .moving")).to_have_text(re.compile(r"^\d+ mm$"))
    page.mouse.up()
    expect(page.locator(".typing-note")).to_have_text(re.compile(r"mm, not kept yet"))
    typed = page.locator("#typed").input_value()
    with store.open(served.workspace) as workspace:
        before = next(p for p in workspace.document(("E1", "head"))["loads"] if p["name"] == "head drum")["x"]
    assert typed != before
    page.locator("#typed").press("Enter")
    expect(page.locator("#edit")).to_have_count(0)
    with store.open(served.workspace) as workspace:
        after = next(p for p in workspace.document(("E1", "head"))["loads"] if p["name"] == "head drum")["x"]
    assert after == typed
    moved = page.locator("#drawing svg:visible a[data-edit*='head+drum']")
    moved.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowRight")
    expect(page.locator("#drawing .moving")).to_have_text(f"{round(float(after.split()[0])) + 11} mm")
    page.keyboard.press("Escape")
    expect(page.locator("#drawing .moving")).to_have_count(0)
    page.locator("#drawing svg:visible").dblclick(position={"x": 400, "y": 20})
    expect(page.locator("input[name='new.x']").first).to_have_value(re.compile(r"^\d+ mm$"))
    watched.check()
