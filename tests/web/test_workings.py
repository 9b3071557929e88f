"""Each number opens its working: every computed number in every room, and what stands behind its address."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import parse_qs, quote_plus, urljoin, urlsplit

import numpy as np
import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.study import Stage, study
from halfbore.units import Span
from halfbore.worked import reaction_parts
from halfbore.workspace.lines import lines_of
from halfbore.workspace.running import reading_of
from tests.web.test_rooms import text_of

ROOMS = (
    *("/", "/lines/E1/head", "/lines/F3/-", "/lines/L1/-", "/positions/E1-B", "/positions/L1-2"),
    *(f"/positions/E1-B/{room}" for room in ("order", "changeover", "value")),
)
VOID = {"br", "hr", "img", "input", "link", "meta", "col", "wbr"}
STANDINGS = r"published|from memory|common practice|derived from mechanics|given or measured|estimate"


@dataclass
class Number:
    """A cell of a page that holds a number, with the addresses that it leads to; told: typed, counted, of a catalogue."""

    text: str = ""
    told: bool = False
    leads_to: list[str] = field(default_factory=list)


class Numbers(HTMLParser):
    """Reads the cells of a page that hold numbers: those of tables and the key figures."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[Number] = []
        self._stack: list[tuple[str, Number | None, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in VOID:
            return
        given = dict(attrs)
        classes = (given.get("class") or "").split()
        told = any(e[2] for e in self._stack) or "data-told" in given
        begins = (tag == "td" and ("num" in classes or {"b", "nw"} <= {*classes})) or (
            tag == "dd" and "note" not in classes and self._in("figures")
        )
        cell = Number(told=told) if begins else self._cell()
        if begins and cell:
            self.found.append(cell)
        if tag == "a" and cell is not None:
            cell.leads_to.append(given.get("href") or "")
            cell.told = cell.told or "value" in classes
        self._stack.append((" ".join((tag, *classes)), cell, told))

    def handle_endtag(self, tag: str) -> None:
        while self._stack and tag not in VOID:
            if self._stack.pop()[0].split()[0] == tag:
                return

    def handle_data(self, data: str) -> None:
        cell = self._cell()
        if cell is not None and not self._in("svg"):
            cell.text += data

    def _cell(self) -> Number | None:
        return self._stack[-1][1] if self._stack else None

    def _in(self, name: str) -> bool:
        return any(name in e[0].split() for e in self._stack)


def numbers_of(html: str) -> list[Number]:
    """Return the computed numbers that a page shows in its tables and key figures."""
    reader = Numbers()
    reader.feed(html[html.index("<main") :])
    return [n for n in reader.found if re.search(r"\d", n.text) and not n.told]


@dataclass(frozen=True)
class Row:
    """A candidate as its row shows it: each part of a limit with its address, the reason that turned it away."""

    badge: str
    code: str
    unit: str
    parts: dict[str, tuple[str, str]]
    reason: str
    reason_at: str


def candidates_of(html: str) -> list[Row]:
    """Return the candidates that a page of a position shows."""
    table = html[html.index('class="rows candidates"') : html.index('id="survey"')]
    return [_row(row) for row in table.partition("<tbody>")[2].partition("</tbody>")[0].split("</tr>")[:-1]]


def _row(html: str) -> Row:
    links = re.findall(
        r'href="([^"]+)" title="([^"]+) of ([^"]+)">.*?<span class="num pc[^"]*">([^<]+)</span>',
        html,
        re.DOTALL,
    )
    reason = re.search(r'<td class="reason"><a class="why" href="([^"]+)">.*?</a>(.*?)</td>', html, re.DOTALL)
    badge = re.search(r'class="badge[^"]*">(\w+)<', html)
    address = unescape(links[0][0])
    return Row(
        badge[1] if badge else "",
        unescape(links[0][2]),
        parse_qs(urlsplit(address).query)["unit"][0],
        {head: (unescape(way), text) for way, head, _, text in links},
        text_of(reason[2].partition('. <span class="k">Open')[0]) if reason else "",
        unescape(reason[1]) if reason else "",
    )


def said(html: str) -> str:
    """Return what a piece of a page says, with the blanks within its numbers gone."""
    return text_of(html).replace(" ", "")


@pytest.mark.slow  # a study as far as the value, and the working of every number of it
def test_every_computed_number_in_every_room_opens_its_working(client: TestClient) -> None:
    addresses: dict[str, str] = {}
    shown: dict[str, set[str]] = {}
    for room in ROOMS:
        page = client.get(room)
        assert page.status_code == 200, room
        found = numbers_of(page.text)
        assert found, room
        for number in found:
            ways = [way for way in number.leads_to if "/working/" in way]
            assert ways, f"{room}: {number.text!r} has no working"
            addresses |= {urljoin(room, way): room for way in ways}
            for way in ways[:1] if len(ways) == 1 else ():
                shown.setdefault(urljoin(room, way), set()).add(said(number.text))
    assert len(addresses) > 100
    for address, room in addresses.items():
        page = client.get(address)
        assert page.status_code == 200, f"{address} of {room}"
        body = page.text[page.text.index('id="working"') :]
        ends = said(page.text[page.text.index("<main") :].partition("How it is worked out")[0])
        for text in shown[address]:
            assert text in ends, f"{address} ends in another number than {room} shows"
        assert 'class="formula"' in body, address
        assert re.search(rf"\((?:{STANDINGS})", text_of(body)), address
        assert "What goes in" in body, address


def test_money_tells_its_laws_its_draws_and_its_seed(client: TestClient) -> None:
    shown = text_of(client.get("/positions/E1-B/working/saving").text)
    assert re.search(r"1.?000 draws, seed \d+", shown)
    for told in (
        *("S = C(one-piece) − C(split)", "Beta-PERT", "Weibull, β", "crew-hours m"),
        *("labour per person-hour", "of an outage on", "given or measured", "common practice"),
    ):
        assert told in shown, told
    chance = text_of(client.get("/positions/E1-B/working/chance").text)
    assert "n(S > 0)/n" in chance
    assert "Last run: convert" in chance


def test_a_number_that_is_not_there_has_no_working(client: TestClient) -> None:
    for address in (
        *("/positions/E1-B/working/speed?unit=No+Such+Unit", "/positions/E1-B/working/saving?unit=x"),
        *("/positions/E1-B/working/nothing", "/positions/E1-A/working/saving", "/lines/E1/head/working/x"),
        *(
            "/positions/E1-B/working/task?of=nothing",
            "/positions/Z9/working/saving",
            "/lines/Z9/-/working/stress",
        ),
    ):
        assert client.get(address).status_code == 404, address


@pytest.mark.slow  # studies of four shaft lines, and each check of each candidate on a page of its own
@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("tag", ["E1-B", "E1-A", "F1-A", "T1-A"])
def test_the_working_of_a_candidate_ends_in_the_number_of_the_table(
    client: TestClient, tag: str, units: str
) -> None:
    client.cookies.set("units", units)
    page = client.get(f"/positions/{tag}").text
    found = candidates_of(page)
    assert len(found) >= 3
    for row in found:
        for head, (address, text) in row.parts.items():
            shown = text_of(client.get(address).text)
            assert f"{row.code} " in shown
            part = f"among the candidates {text} %" if "over" in text else f"part of the limit used {text} %"
            assert part in shown, f"{tag} {row.code} {head}"
        if row.reason_at:
            shown = text_of(client.get(row.reason_at).text)
            assert row.reason.strip() in shown, f"{tag} {row.code}"
            assert "fails" in shown or "no data" in shown or "outside the method" in shown


@pytest.mark.slow  # a study of a shaft line
def test_the_next_unit_has_a_working_of_its_own(client: TestClient) -> None:
    page = client.get("/positions/E1-B").text
    table = page[page.index('class="rows checks-table"') : page.index('id="candidates"')]
    beside = re.findall(r'beside"><span class="pc"><a class="why" href="([^"]+)">([^<]+)</a>', table)
    following = next(row for row in candidates_of(page) if row.badge == "next")
    assert len(beside) > 8
    for address, text in beside:
        assert f"unit={quote_plus(following.unit)}" in address
        shown = text_of(client.get(unescape(address)).text)
        assert f"code {following.code}" in shown
        assert f"part of the limit used {text_of(text).strip()} " in shown
    life = client.get("/positions/E1-B/working/modified-life").text
    assert text_of(life) != text_of(
        client.get(f"/positions/E1-B/working/modified-life?unit={following.unit}").text
    )


@pytest.mark.slow  # loads and reactions of every shaft line
def test_the_parts_of_a_reaction_add_up_to_it(plant: Path) -> None:
    checked = 0
    with store.open(plant) as workspace:
        for line in lines_of(workspace):
            found = study(reading_of(workspace, line), (), Stage.LOADS)
            for reaction in found.response.reactions if len(found.reading.job.positions) == 2 else ():
                of = reaction_parts(found, reaction.position)
                parts = next(r.parts for r in of if r.condition == reaction.condition)
                known = [part.part for part in parts if not np.isnan(part.share)]
                # Rounding of a sum of some ten loads.
                assert np.sum(known, axis=0) == pytest.approx((reaction.y, reaction.z), rel=1e-9, abs=1e-6)
                assert all(isinstance(p.size, Span) and p.size.low <= p.size.high for p in parts)
                checked += 1
    assert checked == 44
