"""docs/how-to/survey.md: its table read by its mapping gives what it says, and the proposal is the one that it shows."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

from halfbore.intake.survey.mapping import read_mapping_text
from halfbore.intake.survey.propose import propose
from halfbore.intake.survey.read import read_survey

PAGE = (Path(__file__).parents[2] / "docs" / "how-to" / "survey.md").read_text(encoding="utf-8")


def block(language: str) -> str:
    """Return the first block of a language on the page."""
    found = re.search(rf"```{language}\n(.*?)```", PAGE, re.DOTALL)
    assert found is not None
    return found[1]


def test_the_table_is_read_as_the_page_says(tmp_path: Path) -> None:
    path = tmp_path / "mill.csv"
    path.write_text(block("csv"), encoding="utf-8")
    reading = read_survey(path, read_mapping_text(block("toml")))
    assert [t.tags[-1] for t in reading.told if t.thing.value == "position"] == ["M1-A", "M1-B"]
    (reject,) = reading.rejects
    assert reject.problems[0].sentence() == block("text").strip()


def test_the_proposal_is_the_one_on_the_page(tmp_path: Path) -> None:
    path = tmp_path / "mill.csv"
    path.write_text(block("csv"), encoding="utf-8")
    proposed, shown = tomllib.loads(propose(path).text), tomllib.loads(block("toml"))
    assert proposed["cells"]["dates"] == "?"
    assert proposed["table"][0]["columns"]["Wellen-Ø"].pop("unit") == "?"
    assert proposed["table"][0]["columns"]["Ursache"]["words"].pop("Fett alt") == "?"
    assert shown["table"][0]["columns"]["Wellen-Ø"].pop("unit") == "mm"
    assert shown["table"][0]["columns"]["Ursache"]["words"].pop("Fett alt") == "surface initiated fatigue"
    assert proposed["table"] == shown["table"]
    assert proposed["csv"] == shown["csv"]


def test_everything_that_the_page_names_is_known() -> None:
    extra = (
        'carry_down = ["Maschine"]\n[table.cells]\nmerged = "repeat"\nthousands = "."\nserials = "1904"\n'
        '[table.fixed]\n"machine.kind" = "fan"\n"condition.name" = "running"\n"condition.speed" = "990 r/min"\n[table.columns]'
    )
    table = read_mapping_text(
        f'not_read = ["Cover"]\n{block("toml")}'.replace("[table.columns]", extra)
    ).tables[0]
    assert [text for _, text in table.fixed] == ["fan", "running", "990 r/min"]
    for line in re.findall(r"`(words = .*?|machine = .*?)`", PAGE):
        assert tomllib.loads(line)
