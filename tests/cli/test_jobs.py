"""Job files through the command line: every stage as text and as JSON, what is required, what is explained."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import halfbore
from halfbore.cli import jobs
from halfbore.cli.main import main
from halfbore.domain.check import Verdict
from halfbore.domain.study import Study
from halfbore.intake.jobfile import read_job_text
from halfbore.present.formula import number, readable
from halfbore.present.plain import plain_data, to_json
from halfbore.selection.checks.every import CHECKS
from halfbore.units import Span
from halfbore.workspace.toml_text import toml_text
from tests.cli.record_schema import schema_of
from tests.estimate.machines import MACHINES

DEMO = Path(halfbore.__file__).parent / "demo" / "jobs"
FAN, HEAD, LINE = (DEMO / f"{name}.toml" for name in ("fan", "head_shaft", "line_shaft"))
Said = Callable[..., str]


@pytest.fixture
def said(capsys: pytest.CaptureFixture[str]) -> Said:
    def run(*arguments: str | Path, exit_code: int = 0) -> str:
        assert main([str(a) for a in arguments]) == exit_code
        return capsys.readouterr().out

    return run


@pytest.mark.parametrize("stage", jobs.STAGES)
def test_every_stage_reads_well_in_80_columns(stage: str, said: Said) -> None:
    text = said(stage, HEAD)
    assert max(map(len, text.splitlines())) <= 80
    assert "C1-A" in text
    assert "nan" not in text.split()
    assert "This is a calculation aid." in " ".join(text.split())


METRIC = re.compile(r"\d\s(?:mm|µm|kN|N|kg|°C|kW|MPa|m/s|kN·m|N·mm)(?![\w·/²])")
NAMED = re.compile(r"step to \d+ mm|(?:Units|Rollerworks|bore) \d+ mm\b")
"""What was typed, and the size of a unit as its supplier writes it."""


@pytest.mark.parametrize("stage", jobs.STAGES)
def test_inches_reach_every_sentence_of_the_terminal(stage: str, said: Said) -> None:
    inch, metric = (" ".join(said(stage, HEAD, *more).split()) for more in (["--inch"], []))
    assert METRIC.findall(NAMED.sub("", inch)) == []
    assert not re.search(r"\d (?:lbf|lb|°F|psi|ksi)\b", metric)
    assert stage == "value" or re.search(r"\d (?:in|lbf|lb|°F)\b", inch)


def test_a_command_in_inches_leaves_the_next_one_as_it_was(said: Said) -> None:
    before = said("check", HEAD)
    said("check", HEAD, "--inch")
    assert said("check", HEAD) == before


@pytest.mark.parametrize("stage", ["loads", "value"])
def test_json_is_the_whole_record(stage: str, said: Said) -> None:
    found = json.loads(said(stage, FAN, "--json"), parse_constant=pytest.fail)
    jsonschema.validate(found, schema_of(Study))
    assert found["reading"]["job"]["machine"]["name"] == "F1"
    assert len(found["positions"]) == (0 if stage == "loads" else 2)


def test_loads_say_direction_standing_and_balance(said: Said) -> None:
    text = " ".join(said("loads", HEAD).split())
    assert "shaft, drive and torque arm as one body balance" in text
    assert "C1-A" in text
    assert "right" in text
    assert "given or measured" in text


def test_run_answers_first_and_says_what_to_open(said: Said, tmp_path: Path) -> None:
    text = said("run", FAN, "--out", tmp_path)
    lines = [line for line in text.splitlines() if line]
    assert "F1-A" in lines[0]
    assert f"Written: {tmp_path / 'fan-proposal.pdf'}" in " ".join(text.split())
    assert (tmp_path / "fan-proposal.pdf").read_bytes().startswith(b"%PDF-")
    assert "invented" in text


def test_no_pdf_writes_nothing(said: Said, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    said("run", FAN, "--no-pdf")
    said("run", FAN, "--json")
    assert list(tmp_path.iterdir()) == []


def test_why_prints_the_clauses_with_their_numbers(said: Said) -> None:
    text = said("run", FAN, "--no-pdf", "--why", "rating life")
    assert "Why, F1-A: rating life" in text
    assert "ISO 281:2007, 7.3 (published)" in text
    assert "= (C_r/P_r)^p" in text
    assert "C_r in N; P_r in N" in text
    assert "C_r from the catalogue" in text
    assert "14 values" not in text
    assert "a 1 formula" not in text


@pytest.mark.parametrize("check", ["rating life", "modified life"])
@pytest.mark.parametrize("reliability", ["90 %", "95 %"])
def test_the_life_that_is_told_ends_its_own_working(
    check: str, reliability: str, said: Said, tmp_path: Path
) -> None:
    job = tmp_path / "job.toml"
    text = FAN.read_text(encoding="utf-8").replace('"90 %"', f'"{reliability}"', 1)
    job.write_text(text, encoding="utf-8")
    words = " ".join(said("check", job, "--why", f"F1-A:{check}").split())
    study = json.loads(said("check", job, "--json"))
    finding = next(f for f in study["positions"][0]["choice"]["findings"] if f["check"] == check)
    for end in ("low", "high"):
        assert f"= {number(finding['value'][end])} h" in words
    assert "turns an hour" in words
    assert "Why, F1-B" not in words


def test_json_brings_the_working_that_was_asked_for(said: Said) -> None:
    found = json.loads(said("check", FAN, "--why", "rating life", "--json"), parse_constant=pytest.fail)
    assert [w["position"] for w in found["working"]] == ["F1-A", "F1-B"]
    assert found["working"][0]["working"][-1]["name"] == "life_in_hours"


def test_a_check_without_a_clause_says_so(said: Said) -> None:
    assert "No clause is worked out here" in said("check", FAN, "--why", "delivery")


def test_why_all_opens_every_check(said: Said) -> None:
    text = said("run", FAN, "--no-pdf", "--why", "all")
    for check in CHECKS:
        assert f"Why, F1-A: {check.name}" in text


@pytest.mark.parametrize("name", ["beauty", "F9-A:rating life", "F1-A:beauty", "F1-A:"])
@pytest.mark.parametrize("command", ["run", "check"])
def test_an_unknown_check_or_position_is_refused_before_anything_runs(
    name: str, command: str, said: Said, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(jobs, "studied", pytest.fail)
    assert said(command, FAN, "--why", name, exit_code=2) == ""
    assert json.loads(said(command, FAN, "--why", name, "--json", exit_code=2))["error"] == "input"


def test_explain_prints_a_file_that_reads_as_the_same_job(said: Said) -> None:
    text = said("run", FAN, "--explain")
    assert "# assumed:" in text
    assert read_job_text(text).job == halfbore.read_job(FAN).job
    assert not [a for a in read_job_text(text).assumptions if a.value != "not given"]
    assert "# ports is left out; assumed: the supplier's standard" in text
    assert 'note = ""' not in text
    assert "expansion = 11.7  # assumed" in text
    assert 'inclination = "0°"  # assumed' in text


@pytest.fixture
def hopeless(tmp_path: Path) -> Path:
    """A job whose first position no unit can serve: a shaft of an odd size."""
    text = FAN.read_text(encoding="utf-8")
    file = tmp_path / "odd.toml"
    file.write_text(
        text.replace('"159.945 mm to 159.955 mm"', '"147.0 mm"').replace(
            'nominal = "160 mm"', 'nominal = "147 mm"', 1
        ),
        encoding="utf-8",
    )
    return file


def test_no_is_an_answer_unless_a_unit_is_required(
    hopeless: Path, said: Said, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "no unit" in said("select", hopeless).casefold()
    assert main(["select", str(hopeless), "--require"]) == 3
    told = capsys.readouterr()
    assert "no unit holds" in told.err
    assert "F1-A" in told.err
    document = json.loads(said("select", hopeless, "--require", "--json", exit_code=3))
    assert document["error"] == "nothing holds"
    assert document["problems"][0]["where"] == "F1-A"
    said("run", hopeless, "--no-pdf", "--require", exit_code=3)
    said("loads", hopeless, "--require")


@pytest.mark.parametrize("command", ["check", "order", "run"])
def test_where_no_unit_holds_the_next_command_is_named(command: str, hopeless: Path, said: Said) -> None:
    text = said(command, hopeless, *(["--no-pdf"] if command == "run" else []))
    assert f"  halfbore select {hopeless}" in text.splitlines()
    assert "The nearest unit is " in text
    assert "fails" in text
    assert "halfbore select" not in said("check", HEAD)


def test_open_questions_are_shown_where_an_answer_may_let_a_unit_in(said: Said, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    text = HEAD.read_text(encoding="utf-8")
    assert "\n[lubricant]\n" in text
    before, _, after = text.partition("\n[lubricant]\n")
    job.write_text(f"{before}\n{after[after.index('[') :]}", encoding="utf-8")
    words = " ".join(said("check", job).split())
    assert "Open questions, and how many units wait for each:" in words
    assert "viscosity" in words


def test_a_file_in_the_place_of_a_folder_is_told_before_anything_runs(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(jobs, "studied", pytest.fail)
    (tmp_path / "file").write_text("")
    for command in (["run"], ["write", "proposal"]):
        assert main([*command, str(FAN), "--out", str(tmp_path / "file")]) == 2
        assert "a folder is wanted" in capsys.readouterr().err


def test_the_value_says_payback_and_its_percentiles(said: Said) -> None:
    words = " ".join(said("value", FAN).split())
    found = json.loads(said("value", FAN, "--json"))["positions"][1]["value"]
    assert "payback P50 at once" in words
    assert f"chance that it pays {found['chance']:.0%}".replace("%", " %") in words.replace("\u00a0", " ")
    assert "present value P50" in words
    assert "(P10 to P90:" in words


def test_the_choice_says_that_its_codes_are_of_the_standard_build(said: Said) -> None:
    assert "standard build; halfbore order writes the code" in " ".join(said("select", HEAD).split())


def test_where_units_hold_nothing_more_is_required(said: Said) -> None:
    said("select", HEAD, "--require")


def test_a_broken_job_is_told_with_every_problem(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "broken.toml"
    file.write_text(
        FAN.read_text(encoding="utf-8").replace("speed =", "sped =", 1).replace('"2600 kg"', '"2600"', 1),
        encoding="utf-8",
    )
    assert main(["run", str(file)]) == 2
    told = capsys.readouterr().err
    assert "nearest known key: speed" in told
    assert "no unit" in told


@pytest.mark.parametrize(
    ("formula", "values", "written"),
    [
        ("10**6*L/(60*n)", {}, "10^6·L/(60·n)"),
        ("gap + pi/2*deviation", {"deviation": number(-0.045)}, "gap + π/2·(−0.045)"),
        ("2*x", {"x": number(6e-06)}, "2·(6·10^−6)"),
        ("s - d", {"s": number(math.nan)}, "not given − d"),
        ("log(nu + 0.7, 10)", {}, "log10(nu + 0.7)"),
        ("Abs(a)*Max(b, 0)", {}, "|a|·max(b, 0)"),
        ("1 - Piecewise((a, n < 5), (2*a, True))", {}, "1 − (a where n < 5; else 2·a)"),
    ],
)
def test_a_formula_reads_as_in_a_textbook(formula: str, values: dict[str, str], written: str) -> None:
    assert readable(formula, values) == written


def test_a_number_of_a_working_has_the_minus_of_its_formula() -> None:
    assert number((-0.055, 2e-6, -3)) == "(\u22120.055, 2·10^\u22126, \u22123)"


def test_plain_data_of_every_kind() -> None:
    value = {
        "a": math.nan,
        "b": (math.inf, 1.5),
        "c": Verdict.OUTSIDE,
        "d": Span(1.0, 2.0, 3.0),
        "e": Path("x"),
    }
    expected: dict[str, Any] = {
        "a": None,
        "b": [None, 1.5],
        "c": "outside the method",
        "d": {"low": 1.0, "likely": 2.0, "high": 3.0},
        "e": "x",
    }
    assert plain_data(value) == expected
    assert json.loads(to_json(value)) == expected


def test_a_name_plate_is_told_what_to_measure(said: Said, tmp_path: Path) -> None:
    plate = tmp_path / "plate.toml"
    plate.write_text(toml_text(MACHINES["F1"].data("F1")), encoding="utf-8")
    assert "What to measure next" in said("run", plate, "--no-pdf")
    found = json.loads(said("run", plate, "--json"))
    assert {n["position"] for n in found["narrowings"]} == {"F1-A", "F1-B"}
    assert found["sentence"]
