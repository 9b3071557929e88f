"""The room of surveys: nothing comes in before it is settled, nothing is lost, and every text stays a text."""

from __future__ import annotations

import io
import zipfile
from html import escape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore.intake.book import read_book
from halfbore.intake.survey.mapping import read_mapping_text
from tests.web.intake import FORMULA, LONG, MAPPING, RIGHT, SCRIPT, SURVEY, bomb, form_at, uploaded
from tests.web.test_rooms import text_of


@pytest.fixture
def place(empty: TestClient, secret: str) -> str:
    """Return the address of a survey with a mapping of which one word is open."""
    at = uploaded(empty, secret, SURVEY.encode())
    form = form_at(empty.get(at).text, "mapping")
    answer = empty.post(at, data=form, files={"file": ("m.toml", MAPPING)})
    assert answer.status_code == 303, answer.text
    return at


def settled(client: TestClient, at: str) -> str:
    """Say what the open word means, and return the address of what would come in."""
    form = form_at(client.get(at).text, "keep")
    assert form["c3.m1"] == "?"
    assert client.post(at, data=form | {"c3.m1": "non-locating"}).status_code == 303
    return f"{at}/preview"


def test_a_question_mark_stops_the_import(empty: TestClient, secret: str, place: str) -> None:
    page = text_of(empty.get(place).text)
    assert "1 question stands open before anything is brought in" in page
    assert "what does 'float' mean?" in page.lower().replace("’", "'") or "What does 'float' mean?" in page
    before = empty.get(f"{place}/preview")
    assert before.status_code == 422
    assert "It cannot be read as it stands." in text_of(before.text)
    assert empty.post(f"{place}/preview", data={"csrf": secret}).status_code == 422
    assert "No machine yet" in text_of(empty.get("/").text)


def test_good_rows_come_in_and_bad_ones_wait_with_every_bad_cell(
    empty: TestClient, secret: str, place: str
) -> None:
    at = settled(empty, place)
    page = text_of(empty.get(at).text)
    assert "2 rows would be brought in: 2 new positions, none changed. 2 rows must be mended." in page
    assert "No machine yet" in text_of(empty.get("/").text)
    answer = empty.post(at, data={"csrf": secret})
    assert answer.headers["location"] == f"{place}/rows"
    html = empty.get(f"{place}/rows").text
    page = text_of(html)
    assert "2 rows wait to be mended" in page
    assert "row 4" in page
    assert "row 5" in page
    assert html.count('aria-invalid="true"') == 3
    form = form_at(html, "mend")
    assert (form["r1.2"], form["r1.4"], form["r0.3"]) == ("lots", "12 parrots", "half")
    assert "Convert" not in page
    again = empty.post(f"{place}/rows", data=form | {"r1.2": "900"})
    assert again.status_code == 303
    html = empty.get(f"{place}/rows").text
    form = form_at(html, "mend")
    assert (form["r1.2"], form["r1.4"]) == ("900", "12 parrots")
    form |= {"r0.3": "fixed", "r1.4": "99.98"}
    assert empty.post(f"{place}/rows", data=form).status_code == 303
    assert "Every row is used or put aside." in text_of(empty.get(f"{place}/rows").text)
    assert empty.get("/positions/P2-B").status_code == 200
    assert empty.app.state.desk.workspace.document(("P2", "", "P2-B"))["x"] == "900 mm"  # type: ignore[attr-defined]


def test_the_same_file_twice_changes_nothing(empty: TestClient, secret: str, place: str) -> None:
    at = settled(empty, place)
    empty.post(at, data={"csrf": secret})
    batches = len(empty.app.state.desk.workspace.batches(50))  # type: ignore[attr-defined]
    page = text_of(empty.get(at).text)
    assert "Nothing would change: the plant holds what 2 rows tell. 2 rows must be mended." in page
    empty.post(at, data={"csrf": secret})
    assert len(empty.app.state.desk.workspace.batches(50)) == batches  # type: ignore[attr-defined]
    assert "Nothing changed: the plant held all of it." in text_of(empty.get(f"{place}/rows").text)


def test_a_row_put_aside_is_kept_and_taken_back(
    empty: TestClient, secret: str, place: str, tmp_path: Path
) -> None:
    empty.post(settled(empty, place), data={"csrf": secret})
    form = form_at(empty.get(f"{place}/rows").text, "mend")
    form |= {"r0.aside": "on", "r1.2": "900", "r1.4": "99.98"}
    empty.post(f"{place}/rows", data=form)
    html = empty.get(f"{place}/rows").text
    assert "Put aside row 4" in text_of(html)
    (tmp_path / "rejects.xlsx").write_bytes(empty.get(f"{place}/rejects.xlsx").content)
    (sheet,) = read_book(tmp_path / "rejects.xlsx").pages
    cells = [cell for row in sheet.rows for cell in row]
    assert "half" in cells
    assert LONG.strip() in cells
    assert empty.post(f"{place}/rows", data=form_at(html, "back")).status_code == 303
    assert "1 row waits to be mended" in text_of(empty.get(f"{place}/rows").text)


def test_no_text_of_a_survey_runs_as_script_or_formula(empty: TestClient, secret: str) -> None:
    at = uploaded(empty, secret, SURVEY.encode(), f"{SCRIPT}.csv")
    empty.post(at, data=form_at(empty.get(at).text, "mapping"), files={"file": ("m.toml", MAPPING)})
    before = settled(empty, at)
    pages = [empty.get("/import").text, empty.get(at).text, empty.get(before).text]
    empty.post(before, data={"csrf": secret})
    pages += [empty.get(f"{at}/rows").text, empty.get("/positions/P1-A").text, empty.get("/history").text]
    for page in pages:
        assert SCRIPT not in page
        assert "alert(1)</script>" not in page
    assert escape(SCRIPT) in pages[2].replace("&#39;", "'").replace("&#34;", '"')
    assert RIGHT in pages[3]
    desk = empty.app.state.desk  # type: ignore[attr-defined]
    assert desk.workspace.document(("P1", "", "P1-B"))["seat"]["note"] == FORMULA
    with zipfile.ZipFile(io.BytesIO(empty.get(f"{at}/rejects.xlsx").content)) as archive:
        sheets = [archive.read(name) for name in archive.namelist() if "sheet" in name]
    assert sheets
    assert all(b"<f>" not in sheet for sheet in sheets)
    name = empty.get(f"{at}/mapping.toml").headers["content-disposition"]
    assert name == "attachment; filename*=UTF-8''script%3E.csv.mapping.toml"


def test_a_mapping_is_downloaded_and_used_again(empty: TestClient, secret: str, place: str) -> None:
    settled(empty, place)
    text = empty.get(f"{place}/mapping.toml").text
    assert read_mapping_text(text).tables[0].columns[3].words == (
        ("fixed", "locating"),
        ("float", "non-locating"),
    )
    other = uploaded(empty, secret, SURVEY.encode())
    empty.post(other, data=form_at(empty.get(other).text, "mapping"), files={"file": ("m.toml", text)})
    assert "Every column is settled" in text_of(empty.get(other).text)


@pytest.mark.parametrize(
    "text", ["format = ", "table = 3", "format = 1\ntable = [{columns = {a = 1}}]", "\xff"]
)
def test_a_file_that_is_no_mapping_leaves_the_mapping_as_it_was(
    empty: TestClient, place: str, text: str
) -> None:
    form = form_at(empty.get(place).text, "mapping")
    answer = empty.post(place, data=form, files={"file": ("m.toml", text.encode("latin-1"))})
    assert answer.status_code == 422
    assert "1 question stands open" in text_of(empty.get(place).text)


def test_a_field_that_is_not_known_is_refused_and_stays_typed(empty: TestClient, place: str) -> None:
    form = form_at(empty.get(place).text, "keep")
    answer = empty.post(place, data=form | {"c4.field": "seat.diametre"})
    assert answer.status_code == 422
    assert "nearest known: seat.diameter" in text_of(answer.text)
    assert form_at(answer.text, "keep")["c4.field"] == "seat.diametre"
    assert form_at(empty.get(place).text, "keep")["c4.field"] == "seat.diameter"


def test_a_second_editor_of_a_mapping_is_told(empty: TestClient, place: str) -> None:
    form = form_at(empty.get(place).text, "keep")
    assert empty.post(place, data=form | {"c3.m1": "non-locating"}).status_code == 303
    answer = empty.post(place, data=form | {"c3.m1": "locating"})
    assert answer.status_code == 409
    assert "The mapping was changed meanwhile" in text_of(answer.text) or "changed meanwhile" in answer.text
    assert form_at(empty.get(place).text, "keep")["c3.m1"] == "non-locating"


def test_another_reading_of_a_csv_file_and_of_its_headings(empty: TestClient, secret: str) -> None:
    at = uploaded(empty, secret, SURVEY.replace(",", ";").encode("utf-16"))
    form = form_at(empty.get(at).text, "file")
    assert (form["encoding"], form["delimiter"]) == ("utf-16", ";")
    answer = empty.post(at, data=form | {"encoding": "cp1252"})
    assert answer.status_code in (303, 422)
    form = form_at(empty.get(at).text, "read")
    assert empty.post(at, data=form | {"header": "seven"}).status_code == 422
    assert empty.post(at, data=form | {"rows": "poem"}).status_code == 422


def test_what_cannot_be_read_is_refused_as_by_the_command_line(empty: TestClient, secret: str) -> None:
    for data, said in (
        (bomb(), "is too large when unpacked"),
        (b"", "no file"),
        (b"PK\x03\x04 rubbish", "is no readable workbook"),
        (b"x", "looks like a table"),
    ):
        answer = empty.post("/import", data={"csrf": secret}, files={"file": ("a.xlsx", data)})
        assert answer.status_code == 422, said
        assert said in text_of(answer.text)
    assert "None waits" in text_of(empty.get("/import").text)


def test_an_upload_that_is_too_large_is_told_clearly(empty: TestClient, secret: str) -> None:
    answer = empty.post("/import", data={"csrf": secret}, files={"file": ("a.csv", b"x" * 22_000_000)})
    assert answer.status_code == 413
    assert "That is more than is taken." in answer.text
    assert "files up to 20 MB" in answer.text
    answer = empty.post("/import", data={"csrf": secret}, files={"file": ("a.csv", b"x" * 20_500_000)})
    assert answer.status_code == 422
    assert "up to 20 MB" in text_of(answer.text)
    assert empty.post("/run", data={"csrf": secret, "next": "x" * 1_100_000}).status_code == 413


def test_an_upload_without_the_secret_of_the_session_is_refused(empty: TestClient) -> None:
    for form in ({}, {"csrf": "wrong"}):
        answer = empty.post("/import", data=form, files={"file": ("a.csv", SURVEY.encode())})
        assert answer.status_code == 403
    assert "None waits" in text_of(empty.get("/import").text)


def test_an_upload_that_is_gone_says_what_to_do(empty: TestClient, secret: str, place: str) -> None:
    assert empty.post(f"{place}/close", data={"csrf": secret}).headers["location"] == "/import"
    for at in (place, f"{place}/preview", f"{place}/rows", "/import/..%2f..%2fetc", "/import/x/mapping.toml"):
        answer = empty.get(at)
        assert answer.status_code == 404
    assert "upload the file again" in text_of(empty.get(place).text)
