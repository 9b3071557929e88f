"""Every page there is, in Chromium: as it looks, as it is read aloud, as it prints, and where no script runs."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser

from halfbore import store
from halfbore.demo import survey
from halfbore.demo.suppliers import write_catalogues
from tests.web.browsing import CUT, OVERLAPS, PICTURES, REFUSED, WIDTHS, Site, Watched, brought_in, visits
from tests.web.conftest import served_at

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
@pytest.mark.parametrize(("units", "script"), [("mm", True), ("in", True), ("mm", False)])
def test_no_page_is_cut_or_complains_in_any_width(
    browser: Browser, site: Site, units: str, script: bool
) -> None:
    watched = Watched(browser, java_script_enabled=script)
    found: list[tuple[str, int, str]] = []
    for name in visits(watched.page, site, units):
        for width in WIDTHS:
            watched.page.set_viewport_size({"width": width, "height": 900})
            found += [(name, width, one) for look in (CUT, OVERLAPS) for one in watched.page.evaluate(look)]
            for theme in THEMES if PICTURES else ():
                watched.page.emulate_media(color_scheme=theme)
                watched.page.screenshot(
                    path=Path(PICTURES) / f"{name}-{width}-{theme}-{units}{'' if script else '-bare'}.png",
                    full_page=True,
                )
    assert found == []
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
