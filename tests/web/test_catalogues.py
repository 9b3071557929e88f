"""The room of catalogues: coverage, what a version changed and whom it concerns, and how a supplier's tables come in."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore.demo.suppliers import write_catalogues
from halfbore.workspace.catalogues import catalogue_of
from halfbore.workspace.lines import kept_worths
from tests.web.intake import bomb, form_at
from tests.web.test_rooms import text_of


@pytest.fixture(scope="session")
def tables(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the files of both demo suppliers."""
    folder = tmp_path_factory.mktemp("catalogues")
    write_catalogues(folder)
    return folder


def sent(client: TestClient, csrf: str, *files: tuple[str, bytes]) -> str:
    """Upload files, and return the address of the mapping."""
    answer = client.post("/catalogues", data={"csrf": csrf}, files=[("file", one) for one in files])
    assert answer.status_code == 303, text_of(answer.text)
    return answer.headers["location"]


def read(folder: Path, *names: str) -> list[tuple[str, bytes]]:
    """Return files with their names."""
    return [(name, (folder / name).read_bytes()) for name in names]


def test_catalogues_are_listed_with_their_coverage(client: TestClient) -> None:
    page = text_of(client.get("/catalogues").text)
    assert "2 catalogues: 5264 units to choose from" in page
    assert "ring joint in all" in page
    one = text_of(client.get("/catalogues/1").text)
    assert "all data invented" in one.lower()
    assert "Row size" in one
    assert client.get("/catalogues/77").status_code == 404
    assert client.get("/catalogues/x").status_code == 404
    assert client.get("/catalogues/1", params={"against": "2"}).status_code == 422


def test_tables_without_a_mapping_get_one_and_a_question_mark_stops_them(
    empty: TestClient, secret: str, tables: Path
) -> None:
    at = sent(empty, secret, *read(tables, "quernvold.csv"))
    html = empty.get(at).text
    assert "questions stand open before this catalogue is brought in" in text_of(html)
    form = form_at(html, "fields")
    assert "row_size" in form.values()
    number = next(name for name, value in form.items() if value == "code")
    answer = empty.post(at, data=form | {"top.supplier": "Mine", f"{number}.heading": "Tag"})
    assert answer.status_code == 303
    again = form_at(empty.get(at).text, "fields")
    assert again["top.supplier"] == "Mine"
    number = next(name for name, value in again.items() if value == "code")
    assert (again[f"{number}.heading"], again[f"{number}.constant"]) == ("Tag", "")
    answer = empty.post(at, data=form_at(html, "fields") | {"version": "7"})
    assert answer.status_code == 409
    bring = {"csrf": secret, "do": "bring"}
    refused = empty.post(at, data=bring)
    assert refused.status_code == 422
    assert "Nothing was brought in." in text_of(refused.text)
    assert "No catalogue yet" in text_of(empty.get("/catalogues").text)


def test_a_catalogue_with_its_mapping_comes_in_and_keeping_its_fields_changes_nothing(
    empty: TestClient, secret: str, tables: Path
) -> None:
    at = sent(empty, secret, *read(tables, "tolvarden.xlsx", "tolvarden.toml"))
    html = empty.get(at).text
    assert "Every field is settled" in text_of(html)
    assert empty.post(at, data=form_at(html, "fields")).status_code == 303
    html = empty.get(at).text
    assert "Every field is settled" in text_of(html)
    answer = empty.post(at, data=form_at(html, "bring"))
    assert answer.headers["location"] == "/catalogues/1"
    page = text_of(empty.get("/catalogues/1").text)
    assert "Tolvarden Rollerworks, version 7: 1944 units, 1 check is blind for some of them" in page


def test_a_new_version_says_what_changed_and_whom_it_concerns(
    client: TestClient, csrf: str, tables: Path
) -> None:
    table, mapping = read(tables, "quernvold.csv", "quernvold.toml")
    lines = table[1].decode().splitlines(keepends=True)
    fewer = "".join(lines[:4]).encode()
    new = mapping[1].replace(b'version = "2026-1"', b'version = "2027-1"')
    assert new != mapping[1]
    at = sent(client, csrf, ("quernvold.csv", fewer), ("m.toml", new))
    place = client.post(at, data=form_at(client.get(at).text, "bring")).headers["location"]
    page = text_of(client.get(place).text)
    assert "What changed since version 2026-1" in page
    assert "Withdrawn" in page
    assert "Whom it concerns" in page
    desk = client.app.state.desk  # type: ignore[attr-defined]
    old = catalogue_of(desk.workspace, next(c for c in desk.workspace.catalogues(False) if c.id == 1))
    known = set(old.units.code.tolist())
    touched = [worth.position for worth in kept_worths(desk.workspace)[0] if worth.unit in known]
    concerned = page[page.index("Whom it concerns") :]
    assert [tag for tag in touched if tag in concerned] == touched
    assert touched or "No unit that is chosen is touched." in concerned
    listing = text_of(client.get("/catalogues").text)
    assert "replaced" in listing
    assert "Replaced by a later version" in text_of(client.get("/catalogues/1").text)


def test_implausible_ratings_are_refused_with_figures(empty: TestClient, secret: str, tables: Path) -> None:
    table, mapping = read(tables, "quernvold.csv", "quernvold.toml")
    rows = [line.split(",") for line in table[1].decode().splitlines()]
    at = rows[0].index("C kN")
    rows[3][at] = f"{float(rows[3][at]) * 3:g}"
    changed = "\n".join(",".join(row) for row in rows).encode()
    place = sent(empty, secret, ("quernvold.csv", changed), mapping)
    answer = empty.post(place, data=form_at(empty.get(place).text, "bring"))
    assert answer.status_code == 422
    said = text_of(answer.text)
    assert "things keep it from coming in" in said or "thing keeps it from coming in" in said
    assert "row 4" in said
    assert "C kN" in said
    assert "No catalogue yet" in text_of(empty.get("/catalogues").text)


def test_files_that_are_no_catalogue_are_refused(empty: TestClient, secret: str, tables: Path) -> None:
    mapping = read(tables, "quernvold.toml")[0]
    for files, said in (
        ([("a.xlsx", bomb())], "too large when unpacked"),
        ([mapping], "no table was chosen"),
        ([("a.csv", b"x")], "no table"),
        ([("a.csv", b"A,B\n1,2\n"), ("m.toml", b"= 3")], "is not TOML"),
        ([("a.csv", b"x" * 19_000_000), ("b.csv", b"x" * 1_500_000)], "too many or too large"),
    ):
        answer = empty.post("/catalogues", data={"csrf": secret}, files=[("file", one) for one in files])
        assert answer.status_code == 422, said
        assert said in text_of(answer.text)
    at = sent(empty, secret, ("other.csv", b"A,B\n1,2\n"), ("b.csv", b"A,B\n1,2\n"), mapping)
    answer = empty.post(at, data={"csrf": secret, "do": "bring"})
    assert "the table is not there" in text_of(answer.text).lower()


def test_names_and_cells_of_a_catalogue_are_text(empty: TestClient, secret: str) -> None:
    script = "<script>alert(1)</script>"
    data = f"Code,{script},Bore mm\nA1,{script},100\nA2,=1+1,120\n".encode()
    at = sent(empty, secret, ("../../etc/<b>.csv", data), ("m.toml", b'format = 1\nsupplier = "<b>x</b>"\n'))
    for page in (empty.get(at).text, empty.get("/catalogues").text):
        assert script not in page
        assert "<b>x</b>" not in page
    assert list(empty.app.state.desk.catalogue(at.rpartition("/")[2]).files) == ["_b_.csv"]  # type: ignore[attr-defined]
    text = empty.get(f"{at}/mapping.toml").text
    assert text.startswith("format = 1")
    assert empty.post(at, data={"csrf": secret, "do": "text", "text": "[fields"}).status_code == 422
    assert empty.post(f"{at}/close", data={"csrf": secret}).status_code == 303
    assert empty.get(at).status_code == 404
