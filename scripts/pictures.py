"""Take the pictures of the application for the README: python -m scripts.pictures WORKSPACE FOLDER."""

from __future__ import annotations

import sys
from pathlib import Path

from playwright.sync_api import expect, sync_playwright
from tests.web.conftest import CHROMIUM, served_at

ROOMS = {"plant": "/", "machine": "/lines/F1/-", "position": "/positions/F1-A"}
SIZE = {"width": 1280, "height": 720}


def main(workspace: str, folder: str) -> None:
    """Serve a workspace that has been run, and take a picture of each room."""
    with served_at(Path(workspace)) as served, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        page = browser.new_page(viewport=SIZE)
        page.goto(served.opening)
        for name, address in ROOMS.items():
            page.goto(f"{served.address}{address}")
            expect(page.locator("[data-unsettled]")).to_have_count(0, timeout=60_000)
            page.screenshot(path=Path(folder) / f"{name}.png")


if __name__ == "__main__":
    main(*sys.argv[1:])
