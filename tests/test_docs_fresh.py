"""The pages say what the program does: generated ones are up to date, examples run, links lead somewhere."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

import halfbore
from halfbore.cli.main import main
from halfbore.domain.study import Decision
from tests import fields_table, validation_table

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PAGES = sorted([*ROOT.glob("*.md"), *ROOT.glob("docs/**/*.md")])


def test_fields_are_those_of_the_records() -> None:
    page = fields_table.PAGE.read_text(encoding="utf-8")
    assert page == fields_table.text_of(), "run python tests/fields_table.py"


def test_the_first_line_of_the_validation_table_counts() -> None:
    first = validation_table.TABLE.read_text(encoding="utf-8").splitlines()[0]
    assert re.fullmatch(
        r"\d+ read, \d+ confirmed, \d+ from memory; beside them \d+ computed by ourselves\.", first
    )


def test_the_validation_table_is_in_one_order_and_keeps_own_values_apart() -> None:
    row = {"what": "a|b", "tolerance": "", "why": "", "nr": 0}
    outside = {
        **row,
        "source": "Book",
        "status": "read",
        "computed": 1.0 + 1e-9,
        "published": 1.0,
        "test": "x",
    }
    own = {**row, "source": "ours", "status": "computed", "computed": 2.0, "published": 2.1, "test": "y"}
    text = validation_table.text_of([outside, own])
    assert text.startswith("1 read, 0 confirmed, 0 from memory; beside them 1 computed by ourselves.\n")
    book, regression = text.split(validation_table.REGRESSION)
    assert "| a\\|b | 1 | 1 | 0 | read |" in book
    assert "| 2 | 2.1 | -5e-02 |" in regression


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.name)
def test_links_lead_somewhere(page: Path) -> None:
    links = re.findall(r"\]\(([^)#:]+)\)", page.read_text(encoding="utf-8"))
    assert [link for link in links if not (page.parent / link).exists()] == []


def test_the_ten_lines_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (example,) = re.findall(r"```python\n(.*?)```", README, re.S)
    assert len(example.strip().splitlines()) <= 12
    (tmp_path / "halfbore-demo").mkdir()
    job = Path(halfbore.__file__).parent / "demo" / "jobs" / "fan.toml"
    (tmp_path / "halfbore-demo" / "fan.toml").write_bytes(job.read_bytes())
    monkeypatch.chdir(tmp_path)
    exec(example, {})
    said = capsys.readouterr().out
    assert "F1-A" in said
    assert float(said.splitlines()[-1]) == pytest.approx(36269.94, rel=1e-6)


@pytest.mark.parametrize("line", re.findall(r"^halfbore (?:calc|code) .*$", README, re.M))
def test_single_commands_of_the_readme_run(line: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(shlex.split(line)[1:]) == 0
    assert capsys.readouterr().out


def test_the_library_advises_no_more_than_command_line_and_pages_do() -> None:
    job = halfbore.read_job(Path(halfbore.__file__).parent / "demo" / "jobs" / "head_shaft.toml")
    made = [halfbore.load_catalogue(name, ROOT) for name in job.job.catalogues]
    found = halfbore.run_study(job, made)
    assert next(p.decision for p in found.positions if p.position == "C1-A") is Decision.CONVERT_IF
    assert any("C1-A" in one.words and one.fails for one in halfbore.what_to_measure(found))


def test_the_public_names_are_there() -> None:
    assert set(halfbore.__all__) <= set(dir(halfbore))
    for name in halfbore.__all__:
        assert getattr(halfbore, name) is not None
    with pytest.raises(AttributeError):
        halfbore.nothing  # noqa: B018


def test_requirement_files_pin_with_hashes_and_name_no_host() -> None:
    for name in ("requirements.txt", "requirements-test.txt", "scripts/uv.txt"):
        text = (ROOT / name).read_text(encoding="utf-8")
        assert "://" not in text
        assert "--index" not in text
        pins = [line for line in text.splitlines() if line[:1].isalnum()]
        assert pins
        assert all("==" in pin and pin.endswith("\\") for pin in pins)
