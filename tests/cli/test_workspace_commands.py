"""The workspace by its commands: make, bring in, look, change, take back, copy, write."""

from __future__ import annotations

import json
import os
import shlex
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

from halfbore import store
from halfbore.cli.main import main
from halfbore.demo import plant
from halfbore.demo.suppliers import load
from halfbore.workspace.demo_plant import DemoPlant, make

Run = Callable[..., tuple[str, str]]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> DemoPlant:
    return make(tmp_path_factory.mktemp("plant"))


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in a folder of the test's own; return what it printed, in one line, and its errors."""
    monkeypatch.chdir(tmp_path)

    def call(*arguments: str | Path, exit_code: int = 0) -> tuple[str, str]:
        code = main([str(a) for a in arguments])
        out, err = capsys.readouterr()
        assert code == exit_code, err
        return out, " ".join(err.split())

    return call


@pytest.fixture
def small(run: Run, tmp_path: Path) -> Path:
    """A workspace that holds the tail drum alone, with few draws."""
    (tmp_path / "t1.toml").write_text(
        plant.job_text("T1").replace("[value]", "[value]\ndraws = 1000", 1), encoding="utf-8"
    )
    run("new", "lime.halfbore", "--plant", "Ostrindale Lime (invented)", "--who", "ann")
    run("import", "job", "t1.toml", "--who", "ann")
    run("set", "-", 'catalogues=["demo:second"]', "--who", "ann")
    return tmp_path / "lime.halfbore"


def test_new_makes_one_and_never_writes_over_another(run: Run, small: Path) -> None:
    before = small.read_bytes()
    _, said = run("new", "lime.halfbore", exit_code=2)
    assert "lime.halfbore" in said
    assert small.read_bytes() == before
    _, said = run("new", "lime.db", exit_code=2)
    assert "NAME.halfbore" in said


def test_without_a_workspace_it_says_what_was_found(run: Run, tmp_path: Path) -> None:
    for command in (("list",), ("show",), ("run",), ("history",), ("undo",), ("backup", "b.halfbore")):
        _, said = run(*command, exit_code=2)
        assert "no workspace is in this folder" in said
        assert "halfbore new" in said
    assert list(tmp_path.iterdir()) == []


@pytest.mark.usefixtures("small")
def test_a_survey_without_a_mapping_gets_one_proposed_and_nothing_goes_in(
    run: Run, made: DemoPlant, tmp_path: Path
) -> None:
    survey = tmp_path / "survey.xlsx"
    survey.write_bytes(made.survey.read_bytes())
    _, said = run("import", "survey", "survey.xlsx", exit_code=2)
    proposed = tmp_path / "survey.xlsx.mapping.toml"
    assert "nothing was brought in: a mapping was proposed" in said
    assert proposed.exists()
    text = proposed.read_text(encoding="utf-8")
    assert "seat.diameter" in text
    proposed.write_text("# mine\n", encoding="utf-8")
    _, said = run("import", "survey", "survey.xlsx", exit_code=2)
    assert "a mapping is there" in said
    assert proposed.read_text(encoding="utf-8") == "# mine\n"
    assert len(run("list", "machines")[0].splitlines()) < 6


def test_a_survey_goes_in_and_its_bad_rows_come_back(run: Run, made: DemoPlant, tmp_path: Path) -> None:
    run("new", "lime.halfbore")
    for file in (made.survey, made.mapping):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    arguments = ("import", "survey", made.survey.name, "--mapping", made.mapping.name)
    out, said = run(*arguments, exit_code=2)
    assert "9 not usable as written, 1 passed over" in out
    assert "rows were not brought in" in said
    assert "ca. 60" in said
    rejects = tmp_path / f"{made.survey.stem}.rejects.xlsx"
    assert {"Bearings", "Betrieb"} <= set(CalamineWorkbook.from_path(rejects).sheet_names)
    out, _ = run(*arguments, exit_code=2)
    assert "Nothing changes" in out
    document = json.loads(run(*arguments, "--json", exit_code=2)[0])
    assert len(document["import"]["reading"]["rejects"]) == 9
    assert document["problems"]


def test_a_mended_file_that_is_not_yet_right_gives_the_next_file_of_the_same_survey(
    run: Run, made: DemoPlant, tmp_path: Path
) -> None:
    run("new", "lime.halfbore")
    for file in (made.survey, made.mapping):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    run("import", "survey", made.survey.name, "--mapping", made.mapping.name, exit_code=2)
    first = tmp_path / f"{made.survey.stem}.rejects.xlsx"
    first.write_bytes(made.survey.read_bytes())
    _, said = run("import", "survey", first.name, "--mapping", made.mapping.name, exit_code=2)
    assert f"{made.survey.stem}.rejects-2.xlsx" in said
    assert (tmp_path / f"{made.survey.stem}.rejects-2.xlsx").exists()
    assert first.read_bytes() == made.survey.read_bytes()
    assert not list(tmp_path.glob("*.rejects.rejects*"))


def test_a_large_survey_names_its_first_positions_and_counts_the_others(run: Run, tmp_path: Path) -> None:
    rows = [f"P{i}-A,P{i},100 mm" for i in range(60)]
    (tmp_path / "s.csv").write_text("\n".join(["Position,Machine,Seat diameter", *rows]), encoding="utf-8")
    (tmp_path / "m.toml").write_text(
        'format = 1\n[[table]]\nrows = "position"\nheader = 1\n[table.columns]\n'
        '"Position" = { field = "tag.position" }\n"Machine" = { field = "tag.machine" }\n'
        '"Seat diameter" = { field = "seat.diameter" }\n',
        encoding="utf-8",
    )
    run("new", "lime.halfbore")
    out = " ".join(run("import", "survey", "s.csv", "--mapping", "m.toml")[0].split())
    assert "P39-A and 20 more (--json prints all)" in out
    assert "P40-A" not in out


def test_showing_the_plant_or_a_machine_names_what_stands_under_it(run: Run, small: Path) -> None:
    assert small.exists()
    for tag in ("-", "T1"):
        assert "T1-A, T1-B" in run("show", tag)[0]
    assert "T1-A, T1-B" not in run("show", "T1-A")[0]


@pytest.mark.usefixtures("small")
def test_showing_a_machine_of_one_shaft_line_shows_what_set_reaches_by_its_tag(run: Run) -> None:
    run("set", "T1", "title=Tail of the stone line", "machine.rotation=both")
    out, _ = run("show", "T1")
    assert "Tail of the stone line" in out
    assert "machine.rotation" in out
    assert json.loads(run("show", "T1", "--json")[0])["document"]["title"] == "Tail of the stone line"


def test_set_history_undo(run: Run, small: Path) -> None:
    run("set", "T1-A", "seat.diameter=99.98 mm to 99.99 mm", "room.beside=400 mm", "--who", "bob")
    out, _ = run("history", "T1-A")
    assert "bob" in out
    assert "99.98 mm to 99.99 mm" in out
    changes = json.loads(run("history", "T1-A", "--json")[0])
    assert {change["path"] for change in changes if change["who"] == "bob"} == {
        "seat.diameter",
        "room.beside",
    }
    out, _ = run("undo", "--who", "cid")
    assert "taken back" in out
    with store.open(small) as workspace:
        assert [b.who for b in workspace.batches()][:2] == ["cid", "bob"]
        assert workspace.document(("T1", "", "T1-A")).get("room", {}).get("beside") != "400 mm"


@pytest.mark.parametrize(
    ("values", "says"),
    [
        (("seat.diameter=100",), "unit"),
        (("seat.diametre=100 mm",), "seat.diametre"),
        (("role=sliding",), "locating, non-locating"),
        (("seat.diameter=100 mm", "x=9 km"), "km"),
        (("seat.diameter",), "is no change"),
        (("loads[x].mass=3 kg",), "loads"),
    ],
)
def test_a_bad_value_is_refused_whole(values: tuple[str, ...], says: str, run: Run, small: Path) -> None:
    with store.open(small) as workspace:
        before = workspace.contents()
    _, said = run("set", "T1-A", *values, exit_code=2)
    assert says in said
    with store.open(small) as workspace:
        assert workspace.contents() == before


def test_a_part_is_added_and_taken_away(run: Run, small: Path) -> None:
    part = 'loads[+]={kind = "point load", name = "guard", x = "200 mm", mass = "12 kg"}'
    run("set", "T1", part)
    run("set", "T1", "loads[guard].mass=14 kg")
    with store.open(small) as workspace:
        loads = workspace.job_data(("T1", ""))["loads"]
    assert loads[-1]["mass"] == "14 kg"
    run("set", "T1", "loads[guard]=")
    with store.open(small) as workspace:
        assert [entry["name"] for entry in workspace.job_data(("T1", ""))["loads"]] == [
            e["name"] for e in loads[:-1]
        ]


@pytest.mark.usefixtures("small")
def test_an_unknown_tag_names_those_that_there_are(run: Run) -> None:
    for command in (
        ("show", "X9"),
        ("set", "X9", "x=1 mm"),
        ("run", "X9"),
        ("loads", "X9"),
        ("write", "job", "X9"),
    ):
        _, said = run(*command, exit_code=2)
        assert "X9" in said
        assert "T1" in said


@pytest.mark.usefixtures("small")
def test_run_shows_one_machine_keeps_it_and_list_ranks_it(run: Run) -> None:
    assert "Not run yet: T1" in run("list")[0]
    out, _ = run("run")
    assert "T1-A" in out
    listed = json.loads(run("list", "--json")[0])
    assert [row["position"] for row in listed["worths"]] in (["T1-A", "T1-B"], ["T1-B", "T1-A"])
    assert listed["not_run"] == []
    run("set", "T1-A", "room.beside=400 mm")
    assert "*" in run("list")[0]
    assert "Not of today's inputs" in run("show", "T1-A")[0]


@pytest.mark.usefixtures("small")
def test_a_word_that_is_like_no_choice_gets_no_suggestion(run: Run) -> None:
    _, said = run("set", "T1", "machine.kind=Ventilator", exit_code=2)
    assert "accepted: fan, " in said
    assert "did you mean" not in said
    assert "did you mean 'tail drum'?" in run("set", "T1", "machine.kind=taildrum", exit_code=2)[1]


@pytest.mark.usefixtures("small")
def test_a_job_file_runs_alone_and_it_says_what_runs_together(run: Run) -> None:
    _, said = run("run", "t1.toml", "T1", exit_code=2)
    assert "one job is wanted here; read 't1.toml T1'" in said
    assert "halfbore run TAG TAG" in said


def test_stages_take_a_tag(run: Run, small: Path) -> None:
    assert "T1-A" in run("loads", "T1")[0]
    assert "T1-B" in run("check", "T1-B", "--workspace", small)[0]
    assert json.loads(run("loads", "T1", "--json")[0])["reading"]["job"]["machine"]["name"] == "T1"


def test_documents_are_written_and_kept_whole(run: Run, small: Path, tmp_path: Path) -> None:
    run("write", "proposal", "T1", "--who", "ann")
    run("write", "job", "T1", "--out", "out")
    run("run", "T1")
    run("write", "ranking")
    proposal = tmp_path / "T1-proposal.pdf"
    with store.open(small) as workspace:
        (kept,) = workspace.documents()
        assert workspace.document_bytes(kept.id) == proposal.read_bytes()
        assert kept.who == "ann"
    assert "T1-proposal.pdf" in run("list", "documents")[0]
    assert run("loads", tmp_path / "out" / "T1.toml")[0]
    rows = CalamineWorkbook.from_path(tmp_path / "lime-ranking.xlsx").get_sheet_by_name("ranking").to_python()
    assert [row[0] for row in rows[1:]] in (["T1-A", "T1-B"], ["T1-B", "T1-A"])


def test_backup_opens_as_the_same_plant(run: Run, small: Path, tmp_path: Path) -> None:
    run("backup", "weekly/copies.halfbore-backup")
    with store.open(small) as one, store.open(tmp_path / "weekly" / "copies.halfbore-backup") as other:
        assert one.contents() == other.contents()


@pytest.mark.usefixtures("small")
def test_catalogues_come_in_are_listed_and_shown(run: Run, made: DemoPlant) -> None:
    out, _ = run("import", "catalogue", made.catalogues[1])
    assert "Tolvarden" in out
    assert "Tolvarden" in run("list", "catalogues")[0]
    shown, _ = run("show", "tolvarden")
    assert "1 944" in shown.replace("\u2009", " ").replace("\u202f", " ") or "1944" in shown
    assert "nothing changes" in run("import", "catalogue", made.catalogues[1])[0]


@pytest.mark.usefixtures("small")
def test_a_catalogue_without_a_mapping_gets_one_proposed(run: Run, made: DemoPlant, tmp_path: Path) -> None:
    table = tmp_path / "table.csv"
    table.write_bytes(made.catalogues[0].with_name("quernvold.csv").read_bytes())
    _, said = run("import", "catalogue", "table.csv", exit_code=2)
    assert "a mapping was proposed" in said
    assert (tmp_path / "table.csv.mapping.toml").exists()


@pytest.mark.usefixtures("small")
def test_an_unknown_list_names_the_known_ones(run: Run) -> None:
    _, said = run("list", "pumps", exit_code=2)
    assert "positions, machines, catalogues, documents" in said


def test_survey_sheets_are_written(run: Run, tmp_path: Path) -> None:
    run("write", "survey-sheet", "tail drum", "--tag", "T2", "--out", "sheets")
    assert {path.suffix for path in (tmp_path / "sheets").iterdir()} == {".pdf", ".xlsx"}
    _, said = run("write", "survey-sheet", "pump", exit_code=2)
    assert "tail drum" in said
    out, _ = run("write", "survey-sheet", "tail drum", "--out", "empty")
    assert "--tag" in out
    assert [path.suffix for path in (tmp_path / "empty").iterdir()] == [".pdf"]


@pytest.mark.usefixtures("small")
def test_what_is_neither_a_tag_nor_a_kind_is_told_the_kinds(run: Run) -> None:
    _, said = run("write", "survey-sheet", "pump", exit_code=2)
    assert "tail drum" in said
    assert "neither a tag" in said


def test_several_lines_without_a_catalogue_are_told_in_words(run: Run, small: Path) -> None:
    run("set", "-", "catalogues=")
    for tag in ("T2", "T3"):
        run("write", "job", "T1")
        text = (small.parent / "T1.toml").read_text(encoding="utf-8").replace("T1", tag)
        (small.parent / f"{tag}.toml").write_text(text, encoding="utf-8")
        run("import", "job", f"{tag}.toml")
    run("set", "-", "catalogues=")
    out, said = run("run", exit_code=2)
    assert out == ""
    assert said.endswith("has no catalogue to choose from; halfbore import catalogue FILE")


@pytest.mark.usefixtures("small")
def test_one_machine_as_json_is_one_document(run: Run) -> None:
    assert json.loads(run("run", "T1", "--json")[0])["positions"]


def test_what_is_empty_says_how_it_is_filled(run: Run) -> None:
    run("new", "lime.halfbore")
    for what, step in (
        ("positions", "import survey"),
        ("machines", "import survey"),
        ("catalogues", "import catalogue"),
        ("documents", "write proposal"),
    ):
        assert f"halfbore {step}" in run("list", what)[0]


def test_yes_no_and_lists_are_shown_as_they_are_written(run: Run) -> None:
    run("new", "lime.halfbore")
    run("set", "-", "invented=yes", 'value.stopped_production=[{after = "3 h", rate = "900 EUR/h"}]')
    assert "invented                           yes" in run("show")[0]
    out, _ = run("history")
    assert "after 3 h, rate 900 EUR/h" in " ".join(out.split())
    assert "True" not in out


@pytest.mark.usefixtures("small")
def test_a_copy_beside_the_workspace_is_warned_of(run: Run) -> None:
    assert "Two workspaces" not in run("backup", "copy.backup")[0]
    assert "--workspace lime.halfbore" in run("backup", "copy.halfbore")[0]


@pytest.mark.usefixtures("small")
def test_a_machine_as_json_is_one_document(run: Run) -> None:
    out, _ = run("run", "T1", "--json")
    assert {"sentence", "positions", "narrowings"} <= json.loads(out).keys()


@pytest.mark.usefixtures("small")
def test_several_workspaces_in_a_folder_are_told_alike_by_every_command(run: Run, tmp_path: Path) -> None:
    run("new", "other.halfbore")
    for command in (("show", "T1"), ("write", "survey-sheet", "T1"), ("write", "job", "T1"), ("run",)):
        _, said = run(*command, exit_code=2)
        assert (
            f"{tmp_path}: several workspaces are in this folder; read 'lime.halfbore, other.halfbore'" in said
        )


def test_a_job_that_names_no_catalogue_says_which_are_taken(run: Run, tmp_path: Path) -> None:
    job = plant.job_text("T1").replace("[value]", "[value]\ndraws = 1000", 1)
    (tmp_path / "t1.toml").write_text(job, encoding="utf-8")
    assert "No catalogue is named; assumed: demo:first, demo:second" in run("loads", "t1.toml")[0]
    (tmp_path / "t1.toml").write_text('catalogues = ["demo:second"]\n' + job, encoding="utf-8")
    assert "No catalogue is named" not in run("loads", "t1.toml")[0]


@pytest.mark.usefixtures("small")
def test_a_workspace_s_own_catalogues_go_out_with_its_job_files(run: Run, made: DemoPlant) -> None:
    run("import", "catalogue", made.catalogues[1])
    out, _ = run("write", "job", "T1", "--out", "out")
    assert "mapping.toml" in out
    found, again = (json.loads(run("select", job, "--json")[0]) for job in ("T1", "out/T1.toml"))
    assert [p["choice"]["sentence"] for p in again["positions"]] == [
        p["choice"]["sentence"] for p in found["positions"]
    ]
    assert [c["supplier"] for c in again["provenance"]["catalogues"]] == [load("second").supplier]
    assert "Nothing changes" in run("import", "job", "out/T1.toml")[0]


def test_several_new_entries_in_one_command(run: Run, small: Path) -> None:
    before = json.loads(run("show", "T1-A", "--json")[0])["document"].get("history", [])
    run(
        "set",
        "T1-A",
        "history[+].on=2030-01-02",
        "history[+].why=overload",
        "history[+].stop=9 h",
        "history[+].on=2030-02-03",
        "history[+].why=abrasive wear",
        'history[+]={on="2030-03-04", why="overload"}',
    )
    found = json.loads(run("show", "T1-A", "--json")[0])["document"]["history"]
    assert found == [*before, {"on": "2030-01-02", "why": "overload", "stop": "9 h"},
        {"on": "2030-02-03", "why": "abrasive wear"}, {"on": "2030-03-04", "why": "overload"}]  # fmt: skip
    run("undo")
    assert json.loads(run("show", "T1-A", "--json")[0])["document"].get("history", []) == before
    part = ("loads[+].kind=point load", "loads[+].name=guard", "loads[+].x=200 mm", "loads[+].mass=12 kg")
    run("set", "T1", *part)
    with store.open(small) as workspace:
        loads = workspace.job_data(("T1", ""))["loads"]
    assert loads[-1] == {"kind": "point load", "name": "guard", "x": "200 mm", "mass": "12 kg"}


@pytest.mark.usefixtures("small")
def test_the_examples_of_set_are_taken(run: Run) -> None:
    said, _ = run("set", "--help")
    examples = [
        shlex.split(line)[1:] for line in said.splitlines() if line.strip().startswith("halfbore set")
    ]
    assert len(examples) == 4
    for _, tag, *values in examples:
        run("set", {"F1-A": "T1-A", "F1": "T1"}[tag], *values)


def command(*arguments: str | Path) -> subprocess.Popen[str]:
    """Start a command as a shell does, in a group of processes of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "halfbore", *map(str, arguments)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )


@pytest.mark.slow  # eleven shaft lines are begun by a process of its own, and two or so worked out
def test_what_is_stopped_keeps_what_was_finished(made: DemoPlant, tmp_path: Path) -> None:
    path = Path(shutil.copy(made.workspace, tmp_path / "lime.halfbore"))
    started = command("run", "--workspace", path)
    with store.open(path) as workspace:
        deadline = time.monotonic() + 120
        while not workspace.results() and time.monotonic() < deadline and started.poll() is None:
            time.sleep(0.1)
        os.killpg(started.pid, signal.SIGINT)  # as a terminal does: to the workers too
        _, said = started.communicate(timeout=60)
        kept = len(workspace.results())
    assert started.returncode == 130, said
    assert said == f"halfbore: stopped; {kept} shaft line{'s' if kept > 1 else ''} kept\n"
    assert 0 < kept < 11


@pytest.mark.slow  # shaft lines are begun by a process of its own until one is worked out
def test_workers_end_with_a_command_that_is_killed(made: DemoPlant, tmp_path: Path) -> None:
    path = Path(shutil.copy(made.workspace, tmp_path / "lime.halfbore"))
    started = command("run", "--workspace", path)
    with store.open(path) as workspace:
        deadline = time.monotonic() + 120
        while not workspace.results() and time.monotonic() < deadline and started.poll() is None:
            time.sleep(0.1)
        started.kill()
        started.communicate(timeout=30)  # returns once nobody is left who could write
        assert started.returncode == -signal.SIGKILL
        assert workspace.results()


@pytest.mark.slow  # ten processes, each of which loads the program
def test_ten_commands_at_once_on_one_workspace(made: DemoPlant, tmp_path: Path) -> None:
    path = Path(shutil.copy(made.workspace, tmp_path / "lime.halfbore"))
    tags = ("T1", "S1", "F2", "C1")
    each = [
        *(("run", tag) for tag in tags),
        *(("set", f"{tag}-A", f"seat.note=measured {tag}") for tag in tags),
        ("show", "F1-A"),
        ("list", "machines"),
    ]
    all_of_them = [command(*arguments, "--workspace", path) for arguments in each]
    said = [(one.communicate(timeout=300)[1], one.returncode) for one in all_of_them]
    assert said == [("", 0)] * len(each)
    with store.open(path) as workspace:
        notes = [workspace.document((tag, "", f"{tag}-A"))["seat"]["note"] for tag in tags]
        assert notes == [f"measured {tag}" for tag in tags]
        assert {line[0] for line in workspace.results()} == set(tags)
