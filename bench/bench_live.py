"""How fast the machine page answers while a value is typed: python bench/bench_live.py.

A server of its own on this machine with the invented plant. First one user in Chromium: each key of a mass is typed,
and the time from the request that leaves the page, and from the last key, to the new content in the page is taken in
the page itself; then the mass is kept. Then 50 users without a browser: each types a value in his shaft line, sent as
the page does, pauses once while he types, looks at the answer for some seconds, and begins again. Prints medians and
95th percentiles.
"""

from __future__ import annotations

import asyncio
import random
import re
import shutil
import statistics
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import httpx2
from playwright.sync_api import Page, sync_playwright

from halfbore.workspace.demo_plant import make

ROUNDS = 40
"""Values that the one user types."""
USERS, SECONDS = 50, 40.0
"""Users who type at once, and how long they do."""
PAUSE, LOOKS = 0.5, (4.0, 10.0)
"""Seconds between the two requests of one value, and how long a user then looks at the answer."""
ONE_USER, KEY_PRESS, MANY = 0.150, 0.350, 0.500
"""Limits of the 95th percentile [s]."""
PARTS = (
    ("F1", "-", "loads[coupling].mass"),
    ("E1", "head", "loads[head drum].mass"),
)
WATCH = """() => {
  window.seen = [];
  const sent = new WeakMap();
  let key = 0;
  document.addEventListener("keydown", () => { key = performance.now(); }, true);
  document.addEventListener("htmx:beforeSend", (e) => { sent.set(e.detail.xhr, performance.now()); });
  document.addEventListener("htmx:afterSwap", (e) => {
    const { xhr, pathInfo } = e.detail, began = sent.get(xhr);
    if (!began) return;
    sent.delete(xhr);
    requestAnimationFrame(() => {
      const now = performance.now();
      window.seen.push([pathInfo.requestPath, now - began, now - key]);
    });
  });
}"""


@dataclass(frozen=True)
class Server:
    """A server of its own: the address that opens it, and its process."""

    opening: str
    process: subprocess.Popen[str]

    @property
    def base(self) -> str:
        """Its address without the token."""
        return self.opening.partition("/?")[0]


def begin(workspace: Path) -> Server:
    """Serve a workspace in a process of its own."""
    command = [sys.executable, "-m", "halfbore", "serve", str(workspace), "--port", "0"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    return Server(process.stdout.readline().split()[-1], process)


def told(what: str, times: Sequence[float], limit: float) -> None:
    """Print the median and the 95th percentile of times [s]."""
    p95 = statistics.quantiles(times, n=20)[-1]
    found = f"{1e3 * statistics.median(times):7.0f} ms {1e3 * p95:7.0f} ms"
    print(f"{what:<58} {found}  limit {1e3 * limit:4.0f} ms, {len(times)} times")


def one_user(server: Server) -> None:
    """Type masses in a browser, one after the other, and keep some."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-background-networking"]
        )
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        page.goto(server.opening)
        page.goto(f"{server.base}/lines/F1/-")
        page.evaluate(WATCH)
        typed, keyed, kept = [], [], []
        for k in range(ROUNDS):
            _edit(page)
            page.evaluate("window.seen = []")
            page.keyboard.press("ControlOrMeta+a")
            page.keyboard.type(f"{40 + k} kg", delay=40)
            _wait(page, "/typed")
            seen = [row for row in page.evaluate("window.seen") if row[0].endswith("/typed")][-1]
            typed.append(seen[1] / 1e3)
            keyed.append(seen[2] / 1e3)
            page.evaluate("window.seen = []")
            page.keyboard.press("Enter")
            _wait(page, "/lines/F1/-")
            kept.append(next(r[2] for r in page.evaluate("window.seen") if not r[0].endswith("/typed")) / 1e3)
            page.wait_for_selector("#answer:not([data-unsettled])")
        browser.close()
    told("one user: request leaves, new content in the page", typed, ONE_USER)
    told("one user: last key, with its pause, to the same", keyed, KEY_PRESS)
    told("one user: Enter, value kept, whole page with its answer", kept, KEY_PRESS)


def _edit(page: Page) -> None:
    page.locator(".elements tr", has_text="coupling").first.locator("a.value").nth(1).click()
    page.wait_for_selector("#typed")


def _wait(page: Page, path: str) -> None:
    page.wait_for_function("p => window.seen.some(r => r[0].endsWith(p))", arg=path)


async def many_users(server: Server) -> None:
    """Let many users type at once."""
    times: list[float] = []
    async with httpx2.AsyncClient(base_url=server.base, timeout=60.0) as client:
        await client.get(server.opening.removeprefix(server.base))
        page = (await client.get("/lines/F1/-")).text
        csrf = re.findall(r'name="csrf" value="([0-9a-f]+)"', page)[0]
        await client.get("/lines/E1/head")
        end = time.perf_counter() + SECONDS
        await asyncio.gather(*(_user(client, csrf, k, end, times) for k in range(USERS)))
    told(f"{USERS} users: request leaves, answer is there", times, MANY)
    print(f"{'':<58} {len(times) / SECONDS:7.1f} requests a second")


async def _user(client: httpx2.AsyncClient, csrf: str, number: int, end: float, times: list[float]) -> None:
    draw = random.Random(number)
    machine, line, path = PARTS[number % len(PARTS)]
    await asyncio.sleep(draw.uniform(0.0, sum(LOOKS) / 2))
    while time.perf_counter() < end:
        value = draw.randrange(20, 400)
        for text in (f"{value // 10} kg", f"{value} kg"):
            form = {"csrf": csrf, "at": f"{machine}/{line}", "path": path, "value": text, "drawing": "wide"}
            start = time.perf_counter()
            answer = await client.post(f"/lines/{machine}/{line}/typed", data=form)
            times.append(time.perf_counter() - start)
            assert answer.status_code == 200, answer.text[:200]
            await asyncio.sleep(PAUSE)
        await asyncio.sleep(draw.uniform(*LOOKS))


def main() -> None:
    """Measure and print."""
    with TemporaryDirectory() as folder:
        server = begin(make(Path(folder)).workspace)
        try:
            print(f"{'':<58} {'median':>10} {'95th':>10}")
            one_user(server)
            asyncio.run(many_users(server))
        finally:
            server.process.terminate()
            server.process.wait()


if __name__ == "__main__":
    main()
