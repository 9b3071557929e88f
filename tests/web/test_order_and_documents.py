"""The order room and the documents room: what is open first, answers kept in place, documents kept whole."""

from __future__ import annotations

import io
import re
import time
from hashlib import sha256
from pathlib import Path

import pytest
from pypdf import PdfReader
from python_calamine import CalamineWorkbook
from starlette.testclient import TestClient

from halfbore import store
from halfbore.domain.workspace import Edit
from tests.web.test_rooms import hidden, text_of

ORDER = "/positions/E1-B/order"
B = ("E1", "head", "E1-B")


def kept_form(client: TestClient, csrf: str, address: str, path: str, at: str) -> dict[str, str]:
    """Return the form by which a value is edited, as its page gives it."""
    page = client.get(address, params={"edit": path, "at": at}).text
    return {**{name: hidden(page, name) for name in ("at", "path", "version", "was", "do")}, "csrf": csrf}


def issued(client: TestClient, csrf: str, paper: str, tag: str) -> list[str]:
    """Issue a document and return the rows of the documents once it is there."""
    answer = client.post("/documents", data={"csrf": csrf, "paper": paper, "tag": tag, "next": "/documents"})
    assert answer.status_code == 303, text_of(answer.text)
    until = time.monotonic() + 120.0
    while "data-finished" not in (page := client.get("/documents/progress").text):
        assert time.monotonic() < until
        time.sleep(0.05)
    assert "problems" not in page, text_of(page)
    body = client.get("/documents").text
    return re.findall(r"<tr><td.*?</tr>", body[body.index("<tbody>") :])


def test_the_order_says_how_it_stands_and_what_is_assumed_first(client: TestClient) -> None:
    page = client.get(ORDER).text
    said = text_of(page[page.index("<main") :])
    assert "Order for E1-B: ready once 7 assumptions are confirmed." in said[:200]
    asked = page[page.index("questions") :]
    assert asked.index("Paint") < asked.index("Shaft diameter at both ends")
    assert "seal at the drive end side: packing" in said
    assert "3782 €" in said


def test_an_answer_is_kept_as_typed_and_counts_at_once(client: TestClient, csrf: str, copied: Path) -> None:
    form = kept_form(client, csrf, ORDER, "order.paint", "E1")
    answer = client.post(ORDER, data={**form, "value": "two coats, grey"})
    assert (answer.status_code, answer.headers["location"]) == (303, ORDER)
    said = text_of(client.get(ORDER).text)
    assert "ready once 6 assumptions are confirmed" in said
    assert "two coats, grey answered" in said
    with store.open(copied) as workspace:
        assert workspace.document(("E1",))["order"] == {"paint": "two coats, grey"}


def test_what_is_not_known_is_open_and_answered_in_its_place(
    client: TestClient, csrf: str, copied: Path
) -> None:
    with store.open(copied) as other:
        other.apply([Edit(B, "base.bolt_size", None)], "other", "clear")
    said = text_of(client.get(ORDER).text)
    assert "Order for E1-B: not ready: 1 question open." in said
    form = kept_form(client, csrf, ORDER, "base.bolt_size", "E1/head/E1-B")
    wrong = client.post(ORDER, data={**form, "value": "thick"})
    assert wrong.status_code == 422
    assert 'value="thick"' in wrong.text
    assert client.post(ORDER, data={**form, "value": "36 mm"}).status_code == 303
    assert "ready once 7 assumptions" in text_of(client.get(ORDER).text)


def test_an_answer_that_somebody_else_has_given_is_not_written_over(
    client: TestClient, csrf: str, copied: Path
) -> None:
    form = kept_form(client, csrf, ORDER, "order.paint", "E1")
    with store.open(copied) as other:
        other.apply([Edit(("E1",), "order.paint", "blue")], "A. Other", "set")
    answer = client.post(ORDER, data={**form, "value": "grey"})
    assert answer.status_code == 409
    assert "A. Other kept blue" in text_of(answer.text)


def test_an_order_that_is_held_back_says_why_first(client: TestClient) -> None:
    said = text_of(client.get("/positions/L1-2/order").text)
    assert "Order for L1-2: not ready: the root cause is not settled." in said
    assert said.index("Held back: the root cause is not settled") < said.index("What the supplier asks")


def test_a_position_without_a_unit_has_no_order_and_says_why(client: TestClient, csrf: str) -> None:
    said = text_of(client.get("/positions/E1-A/order").text)
    assert "There is no order for E1-A." in said
    assert "No unit holds at E1-A" in said
    assert client.get("/positions/nobody/order").status_code == 404
    assert client.post(ORDER, data={"csrf": csrf, "do": "burn"}).status_code == 422


@pytest.mark.slow  # a document is set
def test_the_order_sheet_is_issued_and_kept_whole(client: TestClient, csrf: str) -> None:
    rows = issued(client, csrf, "order sheet", "E1-B")
    assert [text_of(row).split()[0] for row in rows] == ["E1-head-E1-B-order.xlsx", "E1-head-E1-B-order.pdf"]
    book, paper = (client.get(f"/documents/{n}") for n in (2, 1))
    assert paper.headers["content-type"] == "application/pdf"
    assert paper.headers["content-disposition"] == 'attachment; filename="E1-head-E1-B-order.pdf"'
    assert sha256(paper.content).hexdigest()[:12] in rows[1]
    said = "".join(page.extract_text() for page in PdfReader(io.BytesIO(paper.content)).pages)
    assert "111-10-1N-001/K" in said
    assert "ready once 7 assumptions" in said
    items = CalamineWorkbook.from_filelike(io.BytesIO(book.content)).get_sheet_by_name("items").to_python()
    assert items[1][:3] == [1, "complete unit", "111-10-1N-001/K"]


@pytest.mark.slow  # a proposal is worked out and set
@pytest.mark.parametrize(
    ("paper", "tag", "names"),
    [
        ("proposal", "E1-B", ["E1-head-proposal.pdf"]),
        ("workbook", "E1 head", ["E1-head-proposal.xlsx"]),
        ("job file", "E1", ["E1-boot-job.toml", "E1-head-job.toml"]),
        ("survey sheet", "T1", ["T1-survey.xlsx", "T1-survey.pdf"]),
        ("ranking", "", ["ostrindale-ranking.xlsx"]),
    ],
)
def test_each_kind_of_document_is_issued(
    client: TestClient, csrf: str, paper: str, tag: str, names: list[str]
) -> None:
    rows = issued(client, csrf, paper, tag)
    assert sorted(text_of(row).split()[0] for row in rows) == sorted(names)
    assert all(f">{paper}<" in row for row in rows)
    found = client.get("/documents", params={"q": f"{paper} tester"}).text
    assert f"{len(names)} of {len(names)}" in text_of(found)
    assert "No document is like that" in text_of(client.get("/documents?q=nowhere").text)


@pytest.mark.parametrize(
    ("paper", "tag", "told"),
    [
        ("novel", "E1", "there is no such document"),
        ("order sheet", "E1", "an order is of one position"),
        ("proposal", "", "says not of what"),
        ("proposal", "<b>", "nothing has this tag"),
    ],
)
def test_what_cannot_be_issued_is_told_and_what_was_typed_stays(
    client: TestClient, csrf: str, paper: str, tag: str, told: str
) -> None:
    answer = client.post("/documents", data={"csrf": csrf, "paper": paper, "tag": tag})
    assert answer.status_code == 422
    assert told in text_of(answer.text)
    assert f'value="{tag.replace("<", "&lt;").replace(">", "&gt;")}"' in answer.text


def test_an_order_that_cannot_be_made_is_told_beside_the_page(client: TestClient, csrf: str) -> None:
    client.post("/documents", data={"csrf": csrf, "paper": "order sheet", "tag": "E1-A"})
    until = time.monotonic() + 60.0
    while "data-finished" not in (page := client.get("/documents/progress").text):
        assert time.monotonic() < until
        time.sleep(0.05)
    assert "there is no order: No unit holds at E1-A" in text_of(page)
    assert "No document is issued yet." in text_of(client.get("/documents").text)


@pytest.mark.parametrize("number", ["0", "99", "x", "-1", "²", "1e3", "..%2f..%2fetc", "9" * 30])
def test_a_document_that_is_not_there_says_so(client: TestClient, number: str) -> None:
    assert client.get(f"/documents/{number}").status_code == 404


def test_a_name_from_a_tag_cannot_break_out_of_its_header(client: TestClient, copied: Path) -> None:
    with store.open(copied) as other:
        words = {"number": "", "title": "x", "kind": "proposal", "file_name": 'a"; x="\r\n../ü.pdf'}
        kept = other.keep_document(("E1",), content=b"1", who="x", **words)
    answer = client.get(f"/documents/{kept.id}")
    assert answer.headers["content-disposition"] == 'attachment; filename="a-x-..--.pdf"'
