"""What the tests in a browser share: a page that is watched, every address, and what makes a page cut."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from playwright.sync_api import Browser, ConsoleMessage, Page, Request, expect

from tests.web.conftest import PASSWORD, Served
from tests.web.intake import BEARINGS, FEET, JOINED, MAPPING, SURVEY

expect.set_options(timeout=30_000)  # a busy machine may take its time
PICTURES = os.environ.get("HALFBORE_PICTURES", "")
"""The folder in which pictures of every page are kept; none are made where it is not named."""
WIDTHS = (1440, 1280, 1024)
ROOMS = {
    "plant": "/",
    "machine": "/lines/E1/head",
    "element": "/lines/E1/head?open=loads%5Bhead+drum%5D&edit=loads%5Bhead+drum%5D.mass&at=E1%2Fhead",
    "position": "/positions/E1-B?why=rating+life",
    "no-unit": "/positions/E1-A",
    "order": "/positions/E1-B/order?edit=order.paint&at=E1",
    "changeover": "/positions/E1-B/changeover",
    "value": "/positions/E1-B/value",
    "no-value": "/positions/E1-A/value?edit=value.labour&at=E1",
    "working-clauses": "/positions/E1-B/working/modified-life",
    "working-of-another": "/positions/E1-B/working/alignment?unit=Tolvarden+Rollerworks+111-20-1N-001%2FP",
    "working-drawn": "/positions/E1-B/working/swings",
    "working-force": "/positions/E1-B/working/reaction",
    "documents": "/documents",
    "four": "/lines/L1/-",
    "history": "/history",
    "keys": "/keys?next=/history",
    "nothing-there": "/no-such-room",
}
INCOMING = {
    "import": "/import",
    "new-machine": "/machines/new",
    "stop-cost": "/stop-cost",
    "catalogues": "/catalogues",
    "catalogue": "/catalogues/2",
}
CUT = """() => {
  const wide = document.documentElement.clientWidth, found = [];
  const scrolls = (e) => { const box = e.closest(".scroll"); return box && getComputedStyle(box).overflowX === "auto"; };
  const name = (e) => `${e.tagName} ${e.className} ${e.textContent.trim().slice(0, 40)}`;
  if (document.documentElement.scrollWidth > wide) found.push("the page scrolls sideways");
  for (const e of document.querySelectorAll("main *")) {
    const box = e.getBoundingClientRect();
    if (box.width > 1 && box.right > wide + 1 && !scrolls(e)) found.push("past the page: " + name(e));
    const style = getComputedStyle(e);
    if (style.overflowX === "hidden" && !e.closest(".hidden, .word, svg") && e.scrollWidth > e.clientWidth + 1
        && !(style.textOverflow === "ellipsis" && e.title)) found.push("cut: " + name(e));
  }
  for (const sheet of document.querySelectorAll(".sheet")) {
    const end = sheet.getBoundingClientRect().right;
    for (const e of sheet.querySelectorAll("*")) {
      if (e.closest(".hidden, svg *") || scrolls(e)) continue;
      if (e.getBoundingClientRect().right > end) found.push("out of its sheet: " + name(e));
    }
  }
  for (const text of document.querySelectorAll("svg text")) {
    const box = text.getBoundingClientRect(), sheet = text.ownerSVGElement.getBoundingClientRect();
    if (!box.width || !text.checkVisibility()) continue;
    const out = Math.max(sheet.left - box.left, box.right - sheet.right, sheet.top - box.top, box.bottom - sheet.bottom);
    if (out > 2) found.push("out of its drawing: " + text.textContent);
  }
  return found;
}"""
"""What goes past the page, its sheet or its drawing, or is hidden where no title says the rest."""
OVERLAPS = """() => {
  const boxes = [], found = [];
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode, e = text.parentElement;
    if (!text.data.trim() || e.closest(".hidden, .word, .skip, title, option, script") || !e.checkVisibility()) continue;
    const range = document.createRange();
    range.selectNodeContents(text);
    const clip = e.closest(".scroll, td.next span, .cut, .working, .crumbs a"), within = clip && clip.getBoundingClientRect();
    for (const r of range.getClientRects()) {
      const right = Math.min(r.right, within ? within.right : r.right);
      const bottom = Math.min(r.bottom, within ? within.bottom : r.bottom);
      if (right - r.left < 2 || bottom - r.top < 2) continue;
      boxes.push({ text: text.data.trim().slice(0, 30), node: text, left: r.left, top: r.top, right, bottom });
    }
  }
  boxes.sort((a, b) => a.left - b.left);
  for (let i = 0; i < boxes.length; i++) for (let j = i + 1; j < boxes.length && boxes[j].left < boxes[i].right - 2; j++) {
    const a = boxes[i], b = boxes[j], high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
    if (a.node !== b.node && high > 0.4 * Math.min(a.bottom - a.top, b.bottom - b.top)) found.push(`${a.text} | ${b.text}`);
  }
  return found;
}"""
"""Texts that lie on one another by more than 2 px across and two fifths of their height."""
REFUSED = "Failed to load resource: the server responded with a status of 4"
"""What a browser writes down of an answer that was meant to refuse."""


class Watched:
    """A page whose requests and complaints are written down."""

    def __init__(self, browser: Browser, served: Served | None = None, **how: object) -> None:
        self.page: Page = browser.new_page(**how)  # type: ignore[arg-type]
        self.complaints: list[str] = []
        self.hosts: set[str | None] = set()
        self.page.on("console", self._said)
        self.page.on("pageerror", lambda e: self.complaints.append(str(e)))
        self.page.on("request", self._asked)
        if served:
            self.page.goto(served.opening)

    def _said(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self.complaints.append(message.text)

    def _asked(self, request: Request) -> None:
        self.hosts.add(urlsplit(request.url).hostname)

    def check(self) -> None:
        """Nothing complained, and no request left this machine."""
        assert self.complaints == [], self.complaints
        assert self.hosts == {"127.0.0.1"}


@dataclass(frozen=True)
class Site:
    """Three servers: a plant, an empty workspace, a workspace of users; and what comes into the plant."""

    plant: Served
    new: Served
    team: Served
    incoming: dict[str, str]


def visits(page: Page, site: Site, units: str = "mm") -> Iterator[str]:
    """Bring a page to every room and state that there is, from the door on; yield the name of each."""
    page.goto(site.plant.address)
    yield "no-session"
    yield from _doors(page, site.team)
    page.goto(site.new.opening)
    yield "empty"
    page.goto(site.plant.opening)
    page.goto(f"{site.plant.address}/?units={units}")
    for name, address in (ROOMS | site.incoming).items():
        page.goto(f"{site.plant.address}{address}")
        yield name


def _doors(page: Page, team: Served) -> Iterator[str]:
    page.goto(team.address)
    yield "login"
    for word in ("wrong", PASSWORD):
        page.get_by_label("Name").fill("Ann")
        page.get_by_label("Password").fill(word)
        page.get_by_role("button", name="Log in").click()
        expect(page.locator("#wrong" if word == "wrong" else "#page")).to_be_visible()
        yield "login-refused" if word == "wrong" else "team"
    for name, address in {"account": "/account", "lacking": "/positions/K-1"}.items():
        page.goto(f"{team.address}{address}")
        yield name


def brought_in(page: Page, served: Served, survey: Path, catalogue: Path) -> dict[str, str]:
    """Bring the rooms of what comes in into every state that they have, and return their addresses."""
    page.goto(f"{served.address}/import")
    page.get_by_label("File").set_input_files(
        {"name": "Lager <b>Übersicht</b>.csv", "mimeType": "text/csv", "buffer": SURVEY.encode()}
    )
    small = _looked_at(page)
    page.get_by_label("One of an earlier survey").set_input_files(
        {"name": "m.toml", "mimeType": "text/plain", "buffer": MAPPING.encode()}
    )
    page.get_by_role("button", name="Use that mapping").click()
    page.get_by_label("float", exact=True).select_option("non-locating")
    page.locator("#columns").get_by_role("button", name="Keep").first.click()
    expect(page.locator("h1")).to_contain_text("Every column is settled")
    page.goto(f"{served.address}{small}/preview")
    page.get_by_role("button", name="Bring in 2 rows").click()
    expect(page.locator("h1")).to_contain_text("wait to be mended")
    page.goto(f"{served.address}/import")
    page.get_by_label("File").set_input_files(survey)
    large = _looked_at(page)
    page.goto(f"{served.address}/catalogues")
    page.get_by_label("Tables, and their mapping").set_input_files(catalogue)
    catalogue_at = _looked_at(page)
    page.goto(f"{served.address}/catalogues")
    page.get_by_label("Tables, and their mapping").set_input_files(several())  # type: ignore[arg-type]
    several_at = _looked_at(page)
    return INCOMING | {
        "import-columns": f"{large}?sheet=History",
        "import-stopped": f"{large}/preview",
        "import-preview": f"{small}/preview",
        "import-rows": f"{small}/rows",
        "catalogue-fields": catalogue_at,
        "catalogue-joins": several_at,
    }


def several() -> list[dict[str, object]]:
    """Return a catalogue of two tables that do not join yet, as a browser sends its files."""
    files = {"bearings.csv": BEARINGS, "feet.csv": FEET, "m.toml": JOINED}
    return [{"name": name, "mimeType": "text/plain", "buffer": data} for name, data in files.items()]


def _looked_at(page: Page) -> str:
    """Send what is chosen, and return the path of the page that shows it."""
    before = page.url
    page.get_by_role("button", name="Look at it").click()
    page.wait_for_url(lambda now: now != before)
    return urlsplit(page.url).path
