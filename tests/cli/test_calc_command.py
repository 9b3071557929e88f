"""`halfbore calc` and `halfbore code`: every way in, both ways out."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from halfbore import calc
from halfbore.cli.main import main

VALUE = {
    "type": "object",
    "properties": {
        "value": {"type": ["number", "string", "null", "object"]},
        "unit": {"type": "string"},
        "state": {"enum": ["number", "no value", "without limit"]},
    },
    "required": ["value", "unit"],
    "additionalProperties": False,
}
SOURCE = {
    "type": "object",
    "properties": {name: {"type": "string"} for name in ("title", "place", "status", "note")},
    "required": ["title", "place", "status", "note"],
    "additionalProperties": False,
}
ANSWER = {
    "type": "object",
    "properties": {
        "calculation": {"type": "string"},
        "what": {"type": "string"},
        "result": {"type": "object", "minProperties": 1},
        "status": {"enum": ["inside the method", "outside the method"]},
        "outside": {"type": "array", "items": {"type": "string"}},
        "holds": {"type": "string"},
        "sources": {"type": "array", "items": SOURCE, "minItems": 1},
        "given": {"type": "object"},
        "working": {"type": "array"},
    },
    "required": ["calculation", "what", "result", "status", "sources", "given", "working"],
    "additionalProperties": False,
}


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(["calc", *arguments]) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("name", calc.names())
def test_every_example_answers_as_json_and_as_text(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    given = tmp_path / "input.json"
    given.write_text(said(capsys, name, "--example"), encoding="utf-8")
    answer = json.loads(said(capsys, name, str(given), "--json"), parse_constant=pytest.fail)
    jsonschema.validate(answer, ANSWER)
    for value in answer["result"].values():
        if isinstance(value, dict):
            jsonschema.validate(value, VALUE)
    text = said(capsys, name, str(given), "--working")
    assert all(len(line) <= 80 for line in text.splitlines())
    assert "Source: " in text


def test_the_list_names_every_calculation(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "--list").split()
    assert set(calc.names()) <= set(text)
    listed: dict[str, list[str]] = json.loads(said(capsys, "--list", "--json"))
    assert [name for names in listed.values() for name in names] == list(calc.names())


def test_the_schema_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    schema: dict[str, Any] = json.loads(said(capsys, "rating-life", "--schema"))
    assert schema["required"] == ["C_r", "P_r"]
    assert schema["properties"]["C_r"]["unit"] == "N"


def test_pairs_file_and_stdin_agree(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "life.json"
    file.write_text('{"C_r": 200000, "P_r": "20 kN"}', encoding="utf-8")
    by_pairs = said(capsys, "rating-life", "C_r=200 kN", "P_r=20000", "--json")
    by_file = said(capsys, "rating-life", str(file), "--json")
    monkeypatch.setattr("sys.stdin", io.StringIO(file.read_text()))
    by_stdin = said(capsys, "rating-life", "-", "--json")
    assert by_pairs == by_file == by_stdin


def test_the_working_puts_the_numbers_in(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "rating-life", "C_r=200 kN", "P_r=20 kN", "--working")
    assert "= (C_r/P_r)^p" in text
    assert "= (200000/20000)^3.33333" in text
    assert "ISO 281:2007, 7.3 (published)" in text


def test_outside_a_method_is_an_answer(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "reliability-factor", "S=80 %")
    assert "no value: outside the method" in text
    answer = json.loads(said(capsys, "reliability-factor", "S=80 %", "--json"))
    assert answer["result"]["a_1"] == {"value": None, "unit": "", "state": "no value"}
    assert answer["status"] == "outside the method"


@pytest.mark.parametrize(
    "text", ['{"C_r": }', '{"C_r": "200 kN"', "[" * 100_000, '{"C_r": 1' + "0" * 5000 + "}", "\ufeff"]
)
def test_bad_json_is_told(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "bad.json"
    file.write_text(text, encoding="utf-8")
    assert main(["calc", "rating-life", str(file)]) == 2
    assert "halfbore: " in capsys.readouterr().err


def test_bytes_that_are_no_text_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "bad.json"
    file.write_bytes(b"\xff\xfe\x00")
    assert main(["calc", "rating-life", str(file)]) == 2
    assert "UTF-8" in capsys.readouterr().err


@pytest.mark.parametrize("code", ["d125.w2.n.uP.aJ.bW.g1", "d4+15.w1.l.uVr.aJ.bZ.g2!k"])
def test_a_code_goes_into_words_and_back(
    code: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["code", code, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["code"] == code
    words = tmp_path / "words.json"
    words.write_text(json.dumps(found["specification"]), encoding="utf-8")
    assert main(["code", str(words), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == found
    assert main(["code", code]) == 0
    assert "clearance" in capsys.readouterr().out


def test_a_code_reads_its_own_output(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert main(["code", "d125.w2.n.uP.aJ.bW.g1", "--json"]) == 0
    own = capsys.readouterr().out
    monkeypatch.chdir(tmp_path)
    Path("f").write_text(own, encoding="utf-8")
    assert main(["code", "f", "--json"]) == 0
    assert capsys.readouterr().out == own


@pytest.mark.parametrize(
    ("code", "nearest", "other"),
    [
        ("d125.w2.n.uX.aJ.bW.g1", "Quernvold", "Tolvarden"),
        ("0160-11-1N-001/Y", "Tolvarden", "Quernvold"),
        ("0160-11-1N/Y", "Tolvarden", "Quernvold"),
    ],
)
def test_only_the_scheme_that_fits_best_complains(
    code: str, nearest: str, other: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["code", code]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert f": {nearest}" in line
    assert re.search(f"tried too: {other}", line)


def test_a_code_like_no_others_names_the_suppliers(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["code", "hello"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "no supplier writes codes like this" in line


def test_a_wrong_letter_is_located(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["code", "d125.w2.n.uX.aJ.bW.g1", "--catalogue", "demo:first"]) == 2
    assert "character" in capsys.readouterr().err


def test_a_specification_without_letters_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["code", "d125.w2.n.uP.aJ.bW.g1", "--json"]) == 0
    words = json.loads(capsys.readouterr().out)["specification"]
    file = tmp_path / "words.json"
    for change in ({"support": "hover"}, {"seal_left": "rope"}, {"supplier": "nobody"}, {"row_size": "many"}):
        file.write_text(json.dumps(words | change), encoding="utf-8")
        assert main(["code", str(file)]) == 2
        assert capsys.readouterr().err.startswith("halfbore: ")
