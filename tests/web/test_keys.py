"""The keys alone: from the plant to a changed value, its answer and the candidates, without a mouse."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page, expect
from starlette.testclient import TestClient

from halfbore import store
from halfbore.store import paths
from halfbore.web.keys import ROOM_KEYS
from tests.web.browsing import Watched
from tests.web.conftest import Served

FOCUS = "getComputedStyle(document.activeElement).outlineStyle"


def focused(page: Page) -> str:
    text: str = page.evaluate("document.activeElement.textContent.trim()")
    return text


def to_row(page: Page, text: str) -> None:
    """Go down the rows of a page until a link says what is looked for."""
    for _ in range(40):
        page.keyboard.press("j")
        if focused(page) == text:
            return
    raise AssertionError(f"no row leads to {text}")


def to_next(page: Page, what: str) -> None:
    """Go on by Tab until the link that is focused is the one looked for."""
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("what => document.activeElement.matches(what)", what):
            return
    raise AssertionError(f"Tab does not come to {what}")


@pytest.mark.slow  # a browser, and two studies of a shaft line
def test_a_job_is_done_with_the_keys_alone(browser: Browser, served: Served) -> None:
    watched = Watched(browser, served, viewport={"width": 1440, "height": 900})
    page, press = watched.page, watched.page.keyboard.press
    press("Tab")
    expect(page.locator(".skip")).to_be_focused()
    expect(page.locator(".skip")).to_be_in_viewport()
    press("Enter")
    expect(page.locator("#main")).to_be_focused()
    press("/")
    page.keyboard.type("E1-B")
    press("Enter")
    expect(page.locator(".positions a.tag")).to_have_count(1)
    press("Escape")
    page.evaluate("document.activeElement.blur()")
    press("j")
    assert (focused(page), page.evaluate(FOCUS)) == ("E1-B", "solid")
    press("Tab")
    press("Enter")
    expect(page).to_have_url(re.compile("/lines/E1/head"))
    expect(page.locator("#main")).to_be_focused()
    of_b = page.locator(".reactions tr", has_text="lifting").filter(has_text="E1-B").locator(".strong")
    expect(of_b).to_have_text("41.9\u00a0kN")
    to_row(page, "head drum")
    to_next(page, "a.value[href*='head+drum'][href*='.mass']")
    press("F2")
    expect(page.locator("#typed")).to_be_focused()
    page.keyboard.type("2500 kg")
    press("Enter")
    expect(page.locator("#edit")).to_have_count(0)
    expect(of_b).to_have_text("48.7\u00a0kN")
    mass = page.locator("a.value[href*='head+drum'][href*='.mass']")
    expect(mass).to_be_focused()
    assert (focused(page), page.evaluate(FOCUS)) == ("2\u202f500\u00a0kg", "solid")
    with store.open(served.workspace) as workspace:
        assert paths.get(workspace.document(("E1", "head")), "loads[head drum].mass") == "2500 kg"
    press("F2")
    expect(page.locator("#typed")).to_be_focused()
    page.keyboard.type("9 parrots")
    press("Escape")
    expect(page.locator("#edit")).to_have_count(0)
    expect(mass).to_be_focused()
    expect(mass).to_have_text("2\u202f500\u00a0kg")
    # The search that follows a kept value draws the shaft line anew, and with it what is focused there.
    expect(page.locator("#answer[data-unsettled]")).to_have_count(0)
    page.locator("#main").focus()
    to_next(page, "#drawing a[data-edit*='head+drum']")
    assert page.evaluate(FOCUS) == "solid"
    press("Shift+ArrowRight")
    expect(page.locator("#moved")).to_have_text(re.compile(r"^\d+ mm from the drive end, Enter"))
    press("Enter")
    expect(page.locator("#typed")).to_be_focused()
    expect(page.locator("#typed")).to_have_value(re.compile(r"^\d+ mm$"))
    press("Escape")
    expect(page.locator("#edit")).to_have_count(0)
    to_row(page, "E1-B")
    press("Enter")
    expect(page).to_have_url(re.compile("/positions/E1-B"))
    press("w")
    expect(page.locator("#working")).to_be_focused()
    press("Escape")
    expect(page.locator("#working")).to_have_count(0)
    expect(page.locator("#checks tbody a").first).to_be_focused()
    press("/")
    expect(page.locator("#candidates [name=q]")).to_be_focused()
    page.keyboard.type("bore")
    press("Enter")
    expect(page).to_have_url(re.compile("q=bore"))
    expect(page.locator(".candidates tbody tr").first).to_be_visible()
    for key, there in (("o", "/order"), ("p", "/$")):
        page.evaluate("document.activeElement.blur()")
        press("g")
        press(key)
        expect(page).to_have_url(re.compile(there))
    watched.check()


@pytest.mark.slow  # a browser
def test_the_list_of_keys_opens_closes_and_switches_single_letters_off(
    browser: Browser, served: Served
) -> None:
    watched = Watched(browser, served)
    page, press = watched.page, watched.page.keyboard.press
    page.goto(f"{served.address}/history?tag=E1")
    press("?")
    expect(page.locator("h1")).to_have_text("Every page can be worked with keys alone.")
    for room in ROOM_KEYS:
        expect(page.locator(".keys")).to_contain_text(room)
    page.get_by_role("link", name="off", exact=True).click()
    expect(page.locator(".switch b", has_text="off")).to_be_visible()
    press("Escape")
    expect(page).to_have_url(f"{served.address}/history?tag=E1")
    for key in ("?", "g", "p"):
        press(key)
    expect(page).to_have_url(f"{served.address}/history?tag=E1")
    expect(page.locator("kbd.single:visible")).to_have_count(0)
    watched.check()


def test_the_list_of_keys_needs_no_script_and_leads_back_to_our_pages_only(client: TestClient) -> None:
    page = client.get("/keys?next=/history%3Ftag%3DE1").text
    assert 'href="/history?tag=E1" data-back' in page
    assert 'href="/" data-back' in client.get("/keys?next=//example.com").text
    off = client.get("/keys?keys=off")
    assert off.status_code == 303
    assert 'data-keys="off"' in client.get("/keys").text
    assert [f'data-key="{key}"' in page for key in ROOM_KEYS.values()].count(True) == 5


def test_each_room_has_a_letter_of_its_own() -> None:
    assert len({*ROOM_KEYS.values()}) == len(ROOM_KEYS)
    assert not {*ROOM_KEYS.values()} & {"g", "/", "?"}
