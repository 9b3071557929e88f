"""The rooms: answer first, values kept in place, nothing written over, and every text from outside is text."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path
from urllib.parse import unquote

import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.study import Decision
from halfbore.domain.workspace import Edit
from halfbore.domain.worth import Worth
from halfbore.store import paths
from halfbore.web.addresses import machine_page, position_page, segment, tag_of
from halfbore.web.rooms.plant import Row, headline, picked, subline

HEAD, A = ("E1", "head"), ("E1", "head", "E1-A")
MASS = "loads[head drum].mass"


def text_of(html: str) -> str:
    """Return what a page says, without its tags."""
    plain = re.sub(r"<(script|style).*?</\1>", "", html, flags=re.DOTALL)
    spaced = unescape(re.sub(r"<[^>]+>", " ", plain)).replace("\u202f", "").replace("\u00a0", " ")
    return re.sub(r"\s+", " ", spaced.replace("\u2060", ""))


def hidden(html: str, name: str) -> str:
    """Return the value of a hidden field of the form that edits."""
    form = html[html.index('id="edit"') :]
    found = re.search(rf'name="{name}" value="([^"]*)"', form)
    assert found is not None
    return unescape(found[1])


def editing(client: TestClient, csrf: str, path: str = MASS, at: str = "E1/head") -> dict[str, str]:
    """Return the form by which a value is edited, as its page gives it."""
    page = client.get("/lines/E1/head", params={"edit": path, "at": at}).text
    fields = {name: hidden(page, name) for name in ("at", "path", "version", "was", "do")}
    return {**fields, "csrf": csrf}


def likely(html: str, position: str) -> float:
    """Return the first likely reaction of a position that the machine page shows [kN]."""
    said = text_of(html)
    found = re.search(rf"{position} lifting ([\d.]+) kN", said[said.index("Force of each bearing") :])
    assert found is not None
    return float(found[1])


def row(position: str, decision: Decision) -> Row:
    worth = Worth("M", "", position, decision, "", "", None, "EUR", None, None, "")
    return Row("M", "", position, "fan", "current", worth)


def test_what_is_converted_only_once_measured_is_counted_apart() -> None:
    rows = [row("A", Decision.CONVERT), row("B", Decision.CONVERT_IF), row("C", Decision.WAITS)]
    assert headline(rows) == "Convert 1 of 3 positions, 1 more if its unit holds; A is worth most."
    assert (
        headline(rows[1:]) == "Of 2 positions none is to be converted as things stand, 1 if the unit holds."
    )
    assert subline(rows) == "At 1 a question is open."
    assert picked(rows, "", "convert-if") == rows[1:2]
    assert picked(rows, "", "waits") == rows[2:]


def test_the_plant_says_the_answer_first_and_ranks_positions(client: TestClient) -> None:
    page = client.get("/").text
    main = text_of(page[page.index("<main") :])
    assert main.strip().startswith("Convert 1 of 24 positions; E1-B is worth most.")
    assert page.index("/positions/E1-B") < page.index("/positions/T1-A")
    assert "18 not run yet" in main or "20 not run yet" in main
    assert "Run 9 shaft lines" in main


@pytest.mark.parametrize(
    ("query", "shown", "count"),
    [
        ({"q": "t1"}, "T1-A", 2),
        ({"q": "elevator E1-B"}, "E1-B", 1),
        ({"decision": "not-run"}, "F1-A", 20),
        ({"decision": "no-unit"}, "E1-A", 1),
        ({"q": "nowhere"}, "No position is like that", 0),
        ({"decision": "'; DROP TABLE", "sort": "__class__"}, "E1-B", 24),
    ],
)
def test_the_plant_is_searched_and_filtered(
    client: TestClient, query: dict[str, str], shown: str, count: int
) -> None:
    answer = client.get("/", params=query)
    assert answer.status_code == 200
    table = answer.text[answer.text.index("<tbody>") : answer.text.index("</tbody>")]
    assert shown in text_of(table)
    assert table.count('class="tag"') == count


@pytest.mark.parametrize("sort", ["worth", "chance", "hours", "decision", "place"])
def test_the_plant_is_sorted_by_keys_of_a_list(client: TestClient, sort: str) -> None:
    page = client.get("/", params={"sort": sort}).text
    table = page[page.index("<tbody>") : page.index("</tbody>")]
    tags = re.findall(r'class="tag" href="/positions/([^"]+)"', table)
    assert len(set(tags)) == 24
    assert tags[0] == ("F1-A" if sort == "place" else tags[0])
    assert tags.index("E1-B") < tags.index("E1-A") or sort == "place"


def test_a_stale_answer_never_looks_current(client: TestClient, copied: Path) -> None:
    assert "stale" not in text_of(client.get("/").text)
    with store.open(copied) as other:
        other.apply([Edit(A, "old_is_seized", True)], "other", "look")
    page = client.get("/").text
    assert 'class="stale"' in page
    assert "E1 head elevator head 2 stale" in text_of(page)
    assert "inputs changed" in text_of(client.get("/positions/E1-B").text)


def test_an_empty_workspace_says_what_to_do_first(app_at, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    path = tmp_path / "new.halfbore"
    store.create(path, "New plant").close()
    client = app_at(path)
    client.get("/?token=token-of-a-test")
    page = client.get("/")
    assert page.status_code == 200
    assert "No machine yet. Begin with what you have." in text_of(page.text)
    assert "halfbore import survey" in page.text
    for first in ("/import", "/machines/new"):
        assert f'href="{first}"' in page.text
        assert client.get(first).status_code == 200


def test_the_machine_shows_answer_drawing_reactions_and_balance(client: TestClient) -> None:
    page = client.get("/lines/E1/head").text
    said = text_of(page[page.index("<main") :])
    assert said.strip().startswith("At E1-A no unit holds as it stands; a split unit holds at E1-B.")
    assert (
        len(re.findall(r'<a href="/positions/E1-A" data-edit="[^"]+" data-x="[\d.]+"><title>E1-A', page)) == 2
    )
    assert likely(page, "E1-A") == pytest.approx(81.4)
    assert likely(page, "E1-B") == pytest.approx(41.9)
    assert "Σ F 0 N" in said


def test_a_value_kept_changes_the_reactions_and_undo_brings_them_back(client: TestClient, csrf: str) -> None:
    before = likely(client.get("/lines/E1/head").text, "E1-B")
    form = editing(client, csrf)
    assert form["was"] == "1100 kg"
    answer = client.post("/lines/E1/head", data={**form, "value": "2500 kg"})
    assert answer.status_code == 303
    assert answer.headers["location"] == "/lines/E1/head"
    after = likely(client.get("/lines/E1/head").text, "E1-B")
    # The drum hangs midway between A (700 mm) and B (2000 mm), so each bears half of 1400 kg more.
    assert after - before == pytest.approx(1400 * 9.80665 / 2e3, abs=0.1)
    assert "2500 kg" in text_of(client.get("/history").text)
    assert client.post("/undo", data={"csrf": csrf, "next": "/lines/E1/head"}).status_code == 303
    assert likely(client.get("/lines/E1/head").text, "E1-B") == before


@pytest.mark.parametrize("typed", ["heavy", "1100", "-5 kg", "1e999 kg", "<script>alert(1)</script>"])
def test_a_value_that_cannot_be_used_stays_as_typed_beside_its_error(
    client: TestClient, csrf: str, typed: str
) -> None:
    answer = client.post("/lines/E1/head", data={**editing(client, csrf), "value": typed})
    assert answer.status_code == 422
    form = answer.text[answer.text.index('id="edit"') :]
    assert unescape(re.search(r'id="typed"[^>]*? value="([^"]*)"', form)[1]) == typed  # type: ignore[index]
    assert 'aria-invalid="true"' in form
    assert '<ul class="problems" id="typed-wrong">' in form
    assert "<script>alert" not in answer.text
    assert likely(answer.text, "E1-B") == pytest.approx(41.9)


def test_a_field_says_unit_range_and_help(client: TestClient) -> None:
    page = client.get("/lines/E1/head", params={"edit": MASS, "at": "E1/head"}).text
    said = text_of(page[page.index('id="edit"') :])
    assert "mass" in said
    assert "Mass of the drum." in said
    assert "10.0 to 10000 kg is common." in said


def test_the_second_writer_is_told_and_can_keep_his_own(client: TestClient, csrf: str, copied: Path) -> None:
    mine = {**editing(client, csrf), "value": "1200 kg"}
    with store.open(copied) as other:
        other.apply([Edit(HEAD, MASS, "1300 kg")], "A. Other", "set")
    answer = client.post("/lines/E1/head", data=mine)
    assert answer.status_code == 409
    said = text_of(answer.text)
    assert re.search(r"A. Other kept “?\s*1300 kg", said)
    assert re.search(r"Yours: “?\s*1200 kg", said)
    assert re.search(r"Before: “?\s*1100 kg", said)
    with store.open(copied) as other:
        assert paths.get(other.document(HEAD), MASS) == "1300 kg"
    again = {**mine, "version": hidden(answer.text, "version")}
    assert client.post("/lines/E1/head", data=again).status_code == 303
    with store.open(copied) as other:
        assert paths.get(other.document(HEAD), MASS) == "1200 kg"


def test_two_who_edit_different_values_do_not_meet(client: TestClient, csrf: str, copied: Path) -> None:
    mine = {**editing(client, csrf), "value": "1200 kg"}
    with store.open(copied) as other:
        other.apply([Edit(HEAD, "loads[gear unit].mass", "960 kg")], "A. Other", "set")
    assert client.post("/lines/E1/head", data=mine).status_code == 303
    with store.open(copied) as other:
        assert paths.get(other.document(HEAD), "loads[gear unit].mass") == "960 kg"
        assert paths.get(other.document(HEAD), MASS) == "1200 kg"


def test_parts_conditions_and_positions_are_added_and_taken_away(client: TestClient, csrf: str) -> None:
    part = {"new.kind": "coupling", "new.name": "hub [new]", "new.x": "2100 mm", "new.mass": "40 kg"}
    done = client.post("/lines/E1/head", data={"csrf": csrf, "do": "add part", **part, "new.name": "new hub"})
    assert done.status_code == 303
    page = client.get("/lines/E1/head", params={"open": "loads[new hub]"}).text
    assert "Take away new hub" in page
    gone = {"csrf": csrf, "do": "remove", "at": "E1/head", "path": "loads[new hub]"}
    assert client.post("/lines/E1/head", data=gone).status_code == 303
    assert "new hub" not in client.get("/lines/E1/head").text.split("History of")[0]
    assert client.post("/lines/E1/head", data=gone).status_code == 422
    new = {
        "csrf": csrf,
        "do": "add condition",
        "new.name": "crawl",
        "new.share": "0 %",
        "new.speed": "2 r/min",
    }
    assert client.post("/lines/E1/head", data=new).status_code == 303
    assert "crawl" in client.get("/lines/E1/head").text
    third = {"csrf": csrf, "do": "add position", "new.name": "E1-X", "new.x": "1350 mm"}
    third |= {"new.role": "non-locating", "new.seat.nominal": "200 mm"}
    assert client.post("/lines/E1/head", data=third).status_code == 303
    assert client.get("/positions/E1-X").status_code == 200
    assert client.post("/lines/E1/head", data=third).status_code == 422


def test_what_is_wrong_with_a_new_part_is_told_and_what_was_typed_stays(
    client: TestClient, csrf: str
) -> None:
    part = {"new.kind": "coupling", "new.name": "hub", "new.x": "far out", "new.mass": "40"}
    answer = client.post("/lines/E1/head", data={"csrf": csrf, "do": "add part", **part})
    assert answer.status_code == 422
    assert 'value="far out"' in answer.text
    assert "far out" in text_of(answer.text)


def test_a_shaft_line_that_cannot_be_solved_says_what_it_lacks_and_can_be_mended(
    client: TestClient, csrf: str, copied: Path
) -> None:
    with store.open(copied) as other:
        other.apply([Edit(A, "x", "9000 mm")], "other", "set")
    page = client.get("/lines/E1/head")
    assert page.status_code == 200
    assert "What it lacks" in page.text
    assert client.get("/positions/E1-A").status_code == 200
    form = editing(client, csrf, "x", "E1/head/E1-A")
    assert client.post("/lines/E1/head", data={**form, "value": "700 mm"}).status_code == 303
    assert "What it lacks" not in client.get("/lines/E1/head").text


def test_the_position_shows_checks_next_candidates_and_working(client: TestClient) -> None:
    page = client.get("/positions/E1-B", params={"why": "rating life"}).text
    said = text_of(page)
    assert "Checks of the chosen unit beside the next" in said
    assert "Working: rating life" in said
    assert "ISO 281:2007, 7.3" in said
    assert page.count('<span class="badge full">chosen</span>') == 1
    assert "turned away first by" in said
    assert "175.8" in text_of(client.get("/positions/E1-A").text)


def test_the_position_writes_its_sentences_in_the_units_that_are_shown(client: TestClient) -> None:
    told = {}
    for units in ("mm", "in"):
        client.cookies.set("units", units)
        page = client.get("/positions/E1-B").text
        told[units] = text_of(page[page.index('id="candidates"') : page.index('id="survey"')])
    assert "more than the supplier allows" in told["mm"]
    assert re.search(r"shaft \d+ µm under nominal", told["mm"])
    assert re.search(r"\d mm instead of", told["mm"])
    assert re.search(r"\d in instead of", told["in"])
    assert not re.search(r"\d (mm|µm) ", told["in"])


@pytest.mark.parametrize(
    "query",
    [{"sort": "price"}, {"which": "rejected"}, {"q": "flange"}, {"sort": "x", "which": "x", "why": "x"}],
)
def test_candidates_are_sorted_and_filtered_with_the_chosen_on_top(
    client: TestClient, query: dict[str, str]
) -> None:
    answer = client.get("/positions/E1-B", params=query)
    assert answer.status_code == 200
    table = answer.text[answer.text.index('class="rows candidates"') :]
    assert table.index(">chosen<") < table.index(">next<")
    if query.get("sort") == "price":
        prices = [
            int(p)
            for p in re.findall(r'num nw">(\d+) € ', table.replace("\u202f", "").replace("\u00a0", " "))
        ]
        assert prices[2:] == sorted(prices[2:])


def test_a_value_of_a_position_is_kept_in_its_room(client: TestClient, csrf: str) -> None:
    page = client.get("/positions/E1-A", params={"edit": "room.headroom", "at": "E1/head/E1-A"}).text
    form = {name: hidden(page, name) for name in ("at", "path", "version", "was", "do")}
    assert form["was"] == "1,6 m"
    answer = client.post("/positions/E1-A", data={**form, "csrf": csrf, "value": "5 ft"})
    assert answer.status_code == 303
    said = text_of(client.get("/positions/E1-A").text)
    assert "headroom 1524 mm typed 5 ft" in said


def test_units_are_switched_and_what_was_typed_stays(client: TestClient) -> None:
    answer = client.get("/positions/E1-A?units=in&why=room")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/positions/E1-A?why=room"
    said = text_of(client.get("/positions/E1-A").text)
    assert "6.9375 in" in said
    assert "typed 6 15/16 in" not in said.replace("6.9375 in typed 6 15/16 in", "")
    assert "lbf" in text_of(client.get("/lines/E1/head").text)
    client.get("/?theme=dark")
    assert 'data-theme="dark"' in client.get("/").text
    assert client.get("/?units=furlong").status_code == 200


EVIL = (
    "<script>alert(1)</script>",
    "=cmd()",
    '"><img src=x onerror=alert(1)>',
    "{{ 7*7 }}",
    "'; DROP TABLE x; --",
)


@pytest.mark.parametrize("evil", EVIL)
def test_a_text_of_a_survey_is_shown_as_text(client: TestClient, copied: Path, evil: str) -> None:
    with store.open(copied) as other:
        edits = [
            Edit(A, "seat.note", evil),
            Edit(A, "room.left_is", evil),
            Edit(HEAD, "title", evil),
            Edit(HEAD, "loads[gear unit].name", evil),
            Edit(("E1",), "machine.kind", "elevator head"),
        ]
        other.apply(edits, evil, evil)
    for address in ("/", "/lines/E1/head", "/positions/E1-A", "/history", "/lines/E1/head?open=loads[0]"):
        page = client.get(address).text
        assert "<script>alert" not in page
        assert "<img src=x" not in page
        assert "49" not in re.findall(r"\{\{.*?\}\}", page)
    assert evil in unescape(client.get("/positions/E1-A").text)
    assert evil in unescape(client.get("/lines/E1/head").text)
    assert evil in unescape(client.get("/history").text)


@pytest.mark.parametrize(
    "address", ["/lines/X/-", "/lines/E1/nose", "/positions/X", "/nothing", "/positions/%00"]
)
def test_an_address_of_nothing_says_so(client: TestClient, address: str) -> None:
    answer = client.get(address)
    assert answer.status_code == 404
    assert "There is nothing here." in answer.text


@pytest.mark.parametrize("query", ["page=0", "page=x", "page=999999999999", "machines=-1", f"q={'a' * 201}"])
def test_an_address_that_cannot_be_read_says_so(client: TestClient, query: str) -> None:
    answer = client.get(f"/?{query}")
    assert answer.status_code == 422
    assert "That cannot be done as it stands." in answer.text


@pytest.mark.parametrize("tag", ["E1-A", "a/b", "50%", "..", ".", "ä ö", "a?b#c", "%2F", "a\\b", "-"])
def test_every_tag_has_an_address(tag: str) -> None:
    assert tag_of(unquote(segment(tag))) == tag  # a server reads the path once before we do
    assert "/" not in segment(tag)
    assert unquote(segment(tag)).strip(".")
    assert position_page(tag).count("/") == 2
    assert machine_page((tag, "")).endswith("/-")


@pytest.mark.slow  # every shaft line of the plant is searched once, and each changeover and value worked out
def test_every_room_of_every_position_opens(client: TestClient) -> None:
    """What one position shows and another does not is met only by opening all of them."""
    tags = re.findall(r'href="/positions/([^"/]+)"', client.get("/").text)
    assert len(set(tags)) == 24
    rooms = [
        f"/positions/{tag}{room}"
        for tag in sorted(set(tags))
        for room in ("", "/order", "/changeover", "/value")
    ]
    assert [page for page in rooms if client.get(page).status_code != 200] == []


def test_what_a_run_said_stands_in_the_units_of_the_page(client: TestClient) -> None:
    metric = text_of(client.get("/").text)
    assert "176.152 to 176.212 mm instead of 175.79 to 175.88 mm" in metric
    client.cookies.set("units", "in")
    inch = text_of(client.get("/").text)
    assert "6.9351 to 6.9375 in instead of 6.9209 to 6.9244 in" in inch
    assert " mm" not in inch.partition("Positions by worth")[2]
