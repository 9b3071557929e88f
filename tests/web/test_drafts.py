"""An upload is found again at its address by the next server, is its user's alone, and goes when it is brought in."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore import store
from halfbore.store import Database
from tests.web.conftest import PASSWORD, TOKEN
from tests.web.intake import MAPPING, SURVEY, form_at, uploaded
from tests.web.test_catalogues import sent
from tests.web.test_rooms import text_of

At = Callable[[store.Place], TestClient]


@pytest.fixture(params=["file", "database"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> store.Place:
    """Return a workspace with nothing in it, in a file and in a database."""
    path: store.Place = tmp_path / "new.halfbore"
    if request.param == "database":
        databases: Callable[[], Database] = request.getfixturevalue("databases")
        path = databases()
    store.create(path, "New plant").close()
    return path


def begun(app_at: At, path: store.Place) -> tuple[TestClient, str]:
    """Return a client of a server that has begun anew, and the secret of its forms; one before it is not told to end."""
    client = app_at(path)
    client.get(f"/?token={TOKEN}")
    secret: str = client.app.state.guard.csrf  # type: ignore[attr-defined]
    return client, secret


def keys(client: TestClient) -> list[str]:
    kept = client.app.state.desk.workspace.uploads.open()  # type: ignore[attr-defined]
    return [f"/{'import' if one.kind == 'survey' else 'catalogues/new'}/{one.key}" for one in kept]


def test_the_next_server_goes_on_where_the_last_one_was_killed(app_at: At, place: store.Place) -> None:
    client, secret = begun(app_at, place)
    at = uploaded(client, secret, SURVEY.encode("utf-16"), "../../etc/plant.csv")
    form = form_at(client.get(at).text, "mapping")
    assert client.post(at, data=form, files={"file": ("m.toml", MAPPING)}).status_code == 303

    client, secret = begun(app_at, place)
    assert "1 question open" in text_of(client.get("/import").text)
    assert "for 30 days after it was changed last" in text_of(client.get("/import").text)
    form = form_at(client.get(at).text, "keep")
    assert client.post(at, data=form | {"c3.m1": "non-locating"}).status_code == 303

    client, secret = begun(app_at, place)
    assert "2 rows would be brought in" in text_of(client.get(f"{at}/preview").text)
    assert client.post(f"{at}/preview", data={"csrf": secret}).status_code == 303
    told = client.get(f"{at}/rows").text

    client, secret = begun(app_at, place)
    page = client.get(f"{at}/rows")
    assert page.text.partition("<main")[2].replace(secret, "") == told.partition("<main")[2].replace(
        form_at(told, "mend")["csrf"], ""
    )
    assert "2 rows to be mended" in text_of(client.get("/import").text)
    form = form_at(page.text, "mend") | {"r0.3": "fixed", "r1.2": "900", "r1.aside": "on"}
    assert client.post(f"{at}/rows", data=form).status_code == 303

    client, secret = begun(app_at, place)
    assert "1 row put aside" in text_of(client.get("/import").text)
    form = form_at(client.get(f"{at}/rows").text, "back")
    assert client.post(f"{at}/rows", data=form).status_code == 303
    form = form_at(client.get(f"{at}/rows").text, "mend") | {"r0.4": "99.98"}
    assert keys(client) == [at]
    assert client.post(f"{at}/rows", data=form).status_code == 303
    assert keys(client) == [], "all of it is brought in"
    assert "Every row is used or put aside." in text_of(client.get(f"{at}/rows").text)
    assert client.get("/positions/P2-B").status_code == 200

    client, _ = begun(app_at, place)
    assert client.get(f"{at}/rows").status_code == 404


def test_what_was_brought_in_may_be_read_in_another_way(app_at: At, place: store.Place) -> None:
    client, secret = begun(app_at, place)
    at = uploaded(client, secret, "\n".join(SURVEY.splitlines()[:2]).encode())
    form = form_at(client.get(at).text, "mapping")
    settled = MAPPING.replace('"?"', '"non-locating"')
    assert client.post(at, data=form, files={"file": ("m.toml", settled)}).status_code == 303
    assert client.post(f"{at}/preview", data={"csrf": secret}).status_code == 303
    assert keys(client) == []
    form = form_at(client.get(at).text, "keep")
    assert client.post(at, data=form).status_code == 303
    assert keys(client) == [at]
    client, _ = begun(app_at, place)
    assert client.get(f"{at}/preview").status_code == 200


def test_a_catalogue_that_comes_in_is_found_again(app_at: At, place: store.Place) -> None:
    client, secret = begun(app_at, place)
    at = sent(client, secret, ("b.csv", b"Code,Bore mm\nA1,100\n"), ("a.csv", b"Code,Mass kg\nA1,3\n"))
    told = client.get(at).text
    form = form_at(told, "fields") | {"top.supplier": "Quernvold (invented)"}
    assert client.post(at, data=form).status_code == 303

    client, secret = begun(app_at, place)
    page = client.get(at).text
    assert 'value="Quernvold (invented)"' in page
    assert form_at(page, "fields").keys() == form.keys()
    assert at in client.get("/catalogues").text
    assert client.post(f"{at}/close", data={"csrf": secret}).status_code == 303
    assert keys(client) == []
    assert client.get(at).status_code == 404


def test_two_servers_on_one_workspace_do_not_overwrite_each_other(app_at: At, place: store.Place) -> None:
    first, secret = begun(app_at, place)
    second, _ = begun(app_at, place)
    at = uploaded(first, secret, SURVEY.encode())
    seen = form_at(first.get(at).text, "keep")
    form = form_at(second.get(at).text, "mapping")
    assert second.post(at, data=form, files={"file": ("m.toml", MAPPING)}).status_code == 303
    assert first.post(at, data=seen).status_code == 409
    assert form_at(first.get(at).text, "keep")["c3.m1"] == "?", "the first sees what the second has done"


def test_an_upload_is_its_users_alone(app_at: At, peopled: Path, tmp_path: Path) -> None:
    path = Path(shutil.copy(peopled, tmp_path / "team.halfbore"))

    def person(name: str) -> tuple[TestClient, str]:
        client = app_at(path)
        login = client.post("/api/login", json={"name": name, "password": PASSWORD}).json()
        client.headers[login["header"]] = login["csrf"]
        return client, login["csrf"]

    (ann, secret), (ed, _) = person("Ann"), person("Ed")
    at = uploaded(ann, secret, SURVEY.encode())
    assert ann.get(at).status_code == 200
    assert at not in ed.get("/import").text
    own = f"/api{at.replace('/import/', '/import/surveys/')}"
    for address in (at, f"{at}/preview", f"{at}/rows", f"{at}/mapping.toml", own):
        assert ed.get(address).status_code == 404, address
    for address in (at, f"{at}/preview", f"{at}/rows", f"{at}/close", own):
        assert ed.post(address, data={"do": "keep"}).status_code == 404, address
    assert ann.get(at).status_code == 200
    assert person("Ann")[0].get(at).status_code == 200, "in another session too"


def test_no_file_of_an_upload_is_left_beside_the_workspace(
    app_at: At, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    beside = tmp_path / "temporary"
    beside.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(beside))
    path = tmp_path / "new.halfbore"
    store.create(path, "New plant").close()
    client, secret = begun(app_at, path)
    at = uploaded(client, secret, SURVEY.encode(), "..\\..\\evil.csv")
    assert client.get(at).status_code == 200
    assert list(beside.iterdir()) == []
    assert {one.name for one in tmp_path.iterdir()} <= {
        "temporary",
        *(f"{path.name}{e}" for e in ("", "-wal", "-shm")),
    }
    client.post(f"{at}/close", data={"csrf": secret})
    with closing(sqlite3.connect(path)) as raw:
        assert raw.execute("SELECT count(*) FROM upload_file").fetchone() == (0,)
