"""Every page there is, in Chromium: as it looks, as it is read aloud, as it prints, and where no script runs."""

from __future__ import annotations

import shutil
import unicodedata
from collections.abc import Iterator
from contextlib import ExitStack
from io import BytesIO
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser
from pypdf import PageObject, PdfReader

from halfbore import store
from halfbore.demo import survey
from halfbore.demo.suppliers import write_catalogues
from tests.web.browsing import (
    CUT,
    OVERLAPS,
    PICTURES,
    REFUSED,
    ROOMS,
    WIDTHS,
    Site,
    Watched,
    brought_in,
    visits,
)
from tests.web.conftest import served_at

ONE_LINE = 1280
"""px of a page from which on its head stands on one line."""
HEAD = (
    """() => document.querySelector("header.top").offsetHeight > 45 ? ["the head takes a second line"] : []"""
)
"""Whether what stands at the top of a page needs more than one line."""
PAPER = 703
"""px of a line on A4 between margins of 12 mm."""
ON_PAPER = """() => {
  const style = (e) => getComputedStyle(e), found = [];
  const shown = (what) => [...document.querySelectorAll(what)].filter((e) => e.checkVisibility());
  for (const e of shown("nav.rooms, .tools, button, .button, .skip:focus")) found.push("printed: " + e.textContent.trim());
  if (document.styleSheets.length) {
    if (style(document.body).backgroundColor !== "rgb(255, 255, 255)") found.push("the paper is not white");
    if (style(document.body).color !== "rgb(18, 33, 42)") found.push("the ink is not dark");
  }
  for (const e of shown("main tr")) if (style(e).breakInside !== "avoid") found.push("a row may break: " + e.textContent);
  return found;
}"""
"""What does not belong on paper, and what would be lost on it."""
ROWS = """() => [...document.querySelectorAll("main tr")].filter((e) => e.checkVisibility()).map((row) => {
  const texts = document.createTreeWalker(row, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode.data.trim(), e = texts.currentNode.parentElement;
    if (text && e.checkVisibility() && !e.closest(".hidden, svg")) return text;
  }
  return "";
})"""
"""The first text of each row of each table."""
THEMES = {
    "light": {"resultTypes": ["violations"]},
    "dark": {"resultTypes": ["violations"], "runOnly": ["color-contrast"]},
}
"""What axe looks for in each light: all it knows in one, in the other what a light can change."""


@pytest.fixture(scope="module")
def site(
    browser: Browser, plant: Path, peopled: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Site]:
    """Serve the three workspaces; the tests of this module only look at them."""
    folder = tmp_path_factory.mktemp("site")
    store.create(folder / "new.halfbore", "New plant").close()
    told, _ = survey.write_survey(folder)
    write_catalogues(folder)
    paths = (Path(shutil.copy(plant, folder)), folder / "new.halfbore", Path(shutil.copy(peopled, folder)))
    with ExitStack() as stack:
        of_plant, of_new, of_team = (stack.enter_context(served_at(path)) for path in paths)
        watched = Watched(browser, of_plant)
        incoming = brought_in(watched.page, of_plant, told, folder / "quernvold.csv")
        yield Site(of_plant, of_new, of_team, incoming)


@pytest.mark.slow  # a browser, every page
@pytest.mark.parametrize(("units", "script"), [("mm", True), ("in", True), ("mm", False), ("in", False)])
def test_no_page_is_cut_or_complains_in_any_width(
    browser: Browser, site: Site, units: str, script: bool
) -> None:
    watched = Watched(browser, java_script_enabled=script)
    found: list[tuple[str, int, str]] = []
    for name in visits(watched.page, site, units):
        for width in WIDTHS:
            watched.page.set_viewport_size({"width": width, "height": 900})
            looks = (CUT, OVERLAPS, HEAD) if name in ROOMS and width >= ONE_LINE else (CUT, OVERLAPS)
            found += [(name, width, one) for look in looks for one in watched.page.evaluate(look)]
            for theme in THEMES if PICTURES else ():
                watched.page.emulate_media(color_scheme=theme)
                watched.page.screenshot(
                    path=Path(PICTURES) / f"{name}-{width}-{theme}-{units}{'' if script else '-bare'}.png",
                    full_page=True,
                )
    assert not found, "\n".join(map(str, found))
    watched.complaints[:] = [c for c in watched.complaints if not c.startswith(REFUSED)]
    watched.check()


@pytest.mark.slow  # a browser, every page
def test_axe_finds_nothing_on_any_page_in_any_light(browser: Browser, site: Site) -> None:
    watched = Watched(
        browser, bypass_csp=True, viewport={"width": 1440, "height": 900}
    )  # axe is put into the page
    axe, found = Axe(), {}
    for name in visits(watched.page, site):
        for theme, rules in THEMES.items():
            watched.page.emulate_media(color_scheme=theme)
            result = axe.run(watched.page, options=rules)
            if result.violations_count:
                found[name, theme] = result.generate_report()
    assert found == {}


@pytest.mark.slow  # a browser, every page
def test_every_page_prints_whole_on_white_paper(browser: Browser, site: Site, tmp_path: Path) -> None:
    watched = Watched(browser, viewport={"width": PAPER, "height": 1000})
    page, found = watched.page, []
    for name in visits(page, site):
        page.emulate_media(media="print", color_scheme="dark")
        found += [(name, one) for look in (CUT, OVERLAPS, ON_PAPER) for one in page.evaluate(look)]
        answer = page.locator("h1").inner_text()
        rows = page.evaluate(ROWS)
        data = page.pdf(
            path=Path(PICTURES or tmp_path) / f"{name}.pdf", format="A4", prefer_css_page_size=True
        )
        found += [(name, one) for one in _of_pdf(data, answer, rows)]
        page.emulate_media(media="screen")  # the next page may be come to by a form, which is not printed
    assert not found, "\n".join(map(str, found))


def _of_pdf(data: bytes, answer: str, rows: list[str]) -> Iterator[str]:
    """Yield what is wrong on paper: no answer on the first sheet, a row lost between two, a text that starts beside it."""
    read = PdfReader(BytesIO(data))
    if _letters(answer) not in _letters(read.pages[0].extract_text()):
        yield f"not on the first sheet: {answer}"
    if "mm kN" in read.pages[0].extract_text():
        yield "the tools are printed"
    whole = _letters("".join(sheet.extract_text() for sheet in read.pages))
    yield from (f"lost: {row}" for row in rows if _letters(row) not in whole)
    for sheet in read.pages:
        wide = float(sheet.mediabox.width)
        yield from (
            f"off the paper: {text}" for text, x in _texts(sheet) if text.strip() and not 0 < x < wide
        )


def _letters(text: str) -> str:
    """Return a text without spaces, ligatures, and the joiners that keep a tag on one line."""
    return "".join(unicodedata.normalize("NFKC", text).replace("\u2060", "").split())


def _texts(sheet: PageObject) -> list[tuple[str, float]]:
    """Return the texts of a sheet and where each starts."""
    found: list[tuple[str, float]] = []

    def visit(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        found.append((text, tm[4] * cm[0] + cm[4]))

    sheet.extract_text(visitor_text=visit)
    return found
