"""What comes in as JSON: the same as in the rooms, with the one shape of errors."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from halfbore.demo.suppliers import write_catalogues
from tests.web.intake import MAPPING, SURVEY, bomb
from tests.web.test_api import wrong


@pytest.fixture
def api(empty: TestClient, secret: str) -> TestClient:
    """Return a client of an empty workspace whose posts carry the secret of our forms."""
    empty.headers["x-csrf-token"] = secret
    return empty


def test_a_survey_is_mapped_looked_at_brought_in_and_mended(api: TestClient) -> None:
    came = api.post("/api/import/surveys", files={"file": ("../x.csv", SURVEY.encode())}).json()
    at = f"/api/import/surveys/{came['id']}"
    assert came["file"] == "x.csv"
    new = tomllib.loads(MAPPING)
    (opened,) = api.post(f"{at}/mapping", json={"mapping": new}).json()["open"]
    assert "what does 'float' mean?" in opened["what"]
    wrong(api.get(f"{at}/preview"), 422, "input")
    wrong(api.post(at), 422, "input")
    new["table"][0]["columns"]["Held?"]["words"]["float"] = "non-locating"
    assert api.post(f"{at}/mapping", json={"mapping": new}).json()["open"] == []
    found = api.get(f"{at}/preview").json()
    assert (found["rows"], found["new"], len(found["rejects"])) == (4, ["P1-A", "P1-B"], 2)
    assert api.get("/api/machines").json()["machines"] == []
    done = api.post(at).json()
    assert done["new"] == ["P1-A", "P1-B"]
    assert done["rejects"][1]["cells"]["x [mm]"] == "lots"
    rows = [
        {"row": 4, "aside": True},
        {"row": 5, "cells": {"x [mm]": "900", "Shaft measured [mm]": "99.98"}},
    ]
    wrong(api.post(f"{at}/rows", json={"rows": [{"row": 77}]}), 422, "input")
    wrong(api.post(f"{at}/rows", json={"rows": [{"row": 4, "cells": {"none": "x"}}]}), 422, "input")
    mended = api.post(f"{at}/rows", json={"rows": rows}).json()
    assert (mended["new"], mended["rejects"], len(mended["aside"])) == (["P2-B"], [], 1)
    assert api.get(at).json()["aside"][0]["row"] == 4


def test_a_catalogue_comes_in_by_its_mapping(api: TestClient, tmp_path: Path) -> None:
    write_catalogues(tmp_path)
    table = ("t.xlsx", (tmp_path / "tolvarden.xlsx").read_bytes())
    came = api.post("/api/import/catalogues", files=[("files", table)]).json()
    assert came["open"]
    at = f"/api/import/catalogues/{came['id']}"
    wrong(api.post(at, json={}), 422)
    done = api.post(at, json={"mapping": (tmp_path / "tolvarden.toml").read_text()}).json()
    assert done["coverage"]["units"] == 1944
    (kept,) = api.get("/api/catalogues").json()["catalogues"]
    assert kept["current"]
    assert api.get(f"/api/catalogues/{kept['id']}").json()["coverage"]["blinded"][0]["check"] == "ring joint"
    wrong(api.get("/api/catalogues/9"), 404, "unknown")
    wrong(api.post(at, json={}), 404, "unknown")


def test_a_machine_is_added_and_taken_out(api: TestClient) -> None:
    new = {"tag": "F9", "values": {"machine.kind": "fan"}}
    assert api.post("/api/machines", json=new).json()["line"] == ["F9", ""]
    wrong(api.post("/api/machines", json=new), 422, "input")
    wrong(api.post("/api/machines", json={"tag": "F8", "values": {"machine.nothing": "1"}}), 422)
    assert api.post("/api/remove", json={"tag": "F9-A"}).status_code == 200
    assert api.post("/api/remove", json={"tag": "F9"}).status_code == 200
    wrong(api.post("/api/remove", json={"tag": "F9"}), 404, "unknown")
    assert api.get("/api/machines").json()["machines"] == []


def test_uploads_are_refused_in_the_one_shape(api: TestClient) -> None:
    wrong(api.post("/api/import/surveys", files={"file": ("a.xlsx", bomb())}), 422, "limit")
    wrong(api.post("/api/import/surveys"), 422, "input")
    wrong(api.post("/api/import/surveys", files={"file": ("a.csv", b"x" * 22_000_000)}), 413, "refused")
    wrong(api.post("/api/import/surveys/none/mapping", json={"mapping": {}}), 404, "unknown")
    wrong(api.get("/api/import/surveys/none"), 404, "unknown")
    del api.headers["x-csrf-token"]
    wrong(api.post("/api/import/surveys", files={"file": ("a.csv", SURVEY.encode())}), 403, "refused")
