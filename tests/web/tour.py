"""The steps of docs/tour.md as a test takes them: a picture and the words of each page, held to the page of docs."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

from playwright.sync_api import Page

from tests.web.browsing import PICTURES

DOCS = Path(__file__).parents[2] / "docs"
TOUR = DOCS / "tour.md"
STEP = re.compile(r"!\[([^\]]+)\]\((pictures/tour-(\w+)\.png)\)\n(.*?)(?=!\[|\Z)", re.DOTALL)
QUOTE = re.compile(r"(?:^> ?.*\n)+", re.MULTILINE)


def words(text: str) -> str:
    """Return a text as it is read: any space is one space, no joiner that keeps a tag on one line."""
    return " ".join(unicodedata.normalize("NFKC", text).replace("\u2060", "").split())


class Tour:
    """The pages that a test has come to, by the name of each step."""

    def __init__(self, page: Page, folder: Path) -> None:
        self.page = page
        self.folder = Path(PICTURES) if PICTURES else folder
        self.seen: dict[str, str] = {}

    def step(self, name: str) -> None:
        """Keep the words of the page as it stands, and a picture of it."""
        self.page.mouse.move(0, 0)
        self.page.evaluate("scrollTo(0, 0)")
        self.page.screenshot(
            path=self.folder / f"tour-{name}.png", clip={"x": 0, "y": 0, "width": 1280, "height": 720}
        )
        self.seen[name] = words(self.page.locator("body").inner_text())

    def check(self) -> None:
        """The page of docs has these steps in this order, a picture of each, and quotes only what the pages say."""
        told = STEP.findall(TOUR.read_text(encoding="utf-8"))
        assert [name for _, _, name, _ in told] == list(self.seen)
        for _, picture, name, text in told:
            assert (DOCS / picture).exists(), f"scripts/pictures.sh makes {picture}"
            assert (self.folder / f"tour-{name}.png").stat().st_size > 10_000
            quotes = [words(re.sub(r"^> ?", "", one, flags=re.MULTILINE)) for one in QUOTE.findall(text)]
            assert quotes, f"nothing of the page is quoted at {name}"
            for quote in quotes:
                assert quote in self.seen[name], (
                    f"at {name} the page does not say\n  {quote}\nbut\n  {self.seen[name]}"
                )
