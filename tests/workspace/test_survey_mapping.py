"""A mapping that a person works on: sheet by sheet, column by column, and what stands open of it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from halfbore import store
from halfbore.demo import survey
from halfbore.domain.survey import Plain, Thing
from halfbore.errors import InputError, LimitError
from halfbore.intake.book import Book, Page
from halfbore.intake.mapping_file import mapping_data
from halfbore.workspace import survey_changes, survey_view
from halfbore.workspace import survey_mapping as mapping
from halfbore.workspace.mending import bad_cells, book_of_rows, mended
from halfbore.workspace.survey import bring_in, import_survey, preview
from halfbore.workspace.uploads import book_of, kept, shown_name

CSV = """Lager;Maschine;x [mm];Fest/Los;eingebaut am;Bemerkung
P1-A;P1;1.250;fest;03.04.2025;gut
P1-B;P1;2.400;los;;<script>alert(1)</script>
P2-A;P2;100,5;frei;;"=HYPERLINK(""http://example.com"";""x"")"
"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Book:
    """Return the survey of the demo plant."""
    path, _ = survey.write_survey(tmp_path_factory.mktemp("survey"))
    return book_of(path, path.name)


@pytest.fixture(scope="module")
def settled(demo: Book) -> Plain:
    """Return the mapping of the demo survey as its engineer has settled it."""
    return mapping.settled_down(mapping_data(survey.mapping_text(), "mapping"), demo)


@pytest.fixture
def small(tmp_path: Path) -> Book:
    """Return a small survey in a CSV file."""
    return book_of(kept(tmp_path, 1, CSV.encode()), "Liste <b>.csv")


def given(view: survey_view.SheetView, **fields: str) -> survey_changes.SheetGiven:
    """Return what a form gives that changes nothing but the fields of some columns, by heading."""
    columns = [
        survey_changes.ColumnGiven(c.at, fields.get(c.heading, c.field), c.unit, c.separator, dict(c.words))
        for c in view.columns
    ]
    return survey_changes.SheetGiven(
        tuple(columns), view.cells, view.skip, view.carry_down, view.before, dict(view.fixed)
    )


def test_what_a_proposal_leaves_open_is_counted_by_sheet(demo: Book) -> None:
    data = mapping.proposed(demo)
    opened = mapping.open_in(data)
    assert {sheet for sheet, _ in opened} >= {"Bearings", "History", "Machines"}
    assert [sheet for sheet, p in opened if "merged" in p.what] == ["Lagerstellen"]
    states = {state.name: state for state in survey_view.states(demo, data)}
    assert sum(state.open for state in states.values()) == len(opened)
    assert not states["Notes"].read
    with pytest.raises(InputError) as error:
        mapping.mapping_of(data)
    assert len(error.value.problems) == len([p for _, p in opened if "which column fills" not in p.what])
    assert ("History", "which column fills on?") in [(sheet, p.what) for sheet, p in opened]


def test_keeping_a_sheet_as_it_stands_changes_nothing(demo: Book, settled: Plain) -> None:
    data = settled
    for page in demo.pages:
        view = survey_view.view(demo, data, page.name)
        if view.read:
            data = survey_changes.set_sheet(demo, data, page.name, given(view))
    assert mapping.mapping_of(data) == replace(
        mapping.mapping_of(settled), tables=mapping.mapping_of(data).tables
    )
    for ours, theirs in zip(mapping.mapping_of(data).tables, mapping.mapping_of(settled).tables, strict=True):
        assert ours.columns == theirs.columns
        assert ours.cells == theirs.cells
        assert (ours.header, ours.skip, ours.fixed, ours.machine_before) == (
            theirs.header,
            theirs.skip,
            theirs.fixed,
            theirs.machine_before,
        )


def test_a_column_that_gets_a_field_gets_its_unit_words_and_signs(demo: Book) -> None:
    data = mapping.proposed(demo)
    history = survey_view.view(demo, data, "History")
    assert "dates" not in data["table"][2]["cells"]
    data = survey_changes.set_sheet(demo, data, "History", given(history, **{"Out on": "on"}))
    assert survey_view.view(demo, data, "History").cells["dates"] == "mdy"
    bearings = survey_view.view(demo, data, "Bearings")
    fields = {"Held?": "role", "Shaft temp. [°C]": "shaft_temperature", "x from drive end [mm]": "x"}
    data = survey_changes.set_sheet(demo, data, "Bearings", given(bearings, **fields))
    by_heading = {c.heading: c for c in survey_view.view(demo, data, "Bearings").columns}
    assert dict(by_heading["Held?"].words) == {"fixed": "locating", "float": "non-locating"}
    assert by_heading["Shaft temp. [°C]"].unit == "°C"
    assert by_heading["x from drive end [mm]"].unit == "mm"


def test_a_field_that_is_not_known_is_refused_with_the_nearest(demo: Book) -> None:
    data = mapping.proposed(demo)
    view = survey_view.view(demo, data, "Bearings")
    with pytest.raises(InputError) as error:
        survey_changes.set_sheet(demo, data, "Bearings", given(view, Bearing="seat.diametre"))
    assert "column 'Bearing'" in error.value.problems[0].where
    assert "seat.diameter" in error.value.problems[0].accepted


def test_a_sheet_is_read_anew_left_and_read_again(demo: Book) -> None:
    data = survey_changes.read_sheet(demo, mapping.proposed(demo), "Betrieb", Thing.CONDITION, (1,))
    view = survey_view.view(demo, data, "Betrieb")
    assert view.thing is Thing.CONDITION
    assert {c.heading: c.field for c in view.columns}["Drehzahl [1/min]"] == "speed"
    gone = survey_changes.leave_sheet(demo, data, "Betrieb")
    assert not survey_view.view(demo, gone, "Betrieb").read
    assert "Betrieb" in gone["not_read"]
    again = survey_changes.read_sheet(demo, gone, "Betrieb", Thing.CONDITION, (1,))
    assert [t["sheet"] for t in again["table"]] == [t["sheet"] for t in data["table"]]
    with pytest.raises(InputError):
        survey_changes.read_sheet(demo, data, "Betrieb", Thing.CONDITION, (4000,))
    with pytest.raises(InputError):
        survey_view.view(demo, data, "nowhere")


def test_rows_mended_in_place_come_in_as_from_a_file_of_rejects(
    demo: Book, settled: Plain, tmp_path: Path
) -> None:
    path, how_file = survey.write_survey(tmp_path)
    how = mapping.mapping_of(settled)
    with (
        store.create(tmp_path / "a.halfbore", "a") as ours,
        store.create(tmp_path / "b.halfbore", "b") as other,
    ):
        first = import_survey(other, path, how_file, "t")
        survey.write_mended(tmp_path / "mended.xlsx", first.reading, how)
        import_survey(other, tmp_path / "mended.xlsx", how_file, "t")

        found = preview(ours, demo, how)
        assert not ours.tree()
        done = bring_in(ours, demo, how, "t", "x")
        assert done.new == found.new == first.new
        rows = []
        for reject in done.reading.rejects:
            cells, drop = {}, False
            for at, heading in enumerate(reject.headings):
                place = (reject.sheet, heading, reject.cells[at])
                if place in survey.MENDS:
                    mend = survey.MENDS[place]
                    drop = mend is None
                    cells[at] = mend or ""
            rows += [] if drop else [mended(reject, cells)]
        assert any(bad_cells(reject) for reject in done.reading.rejects)
        again = bring_in(ours, *book_of_rows(demo, how, rows), "t", "mended")
        assert again.reading.rejects == ()
        assert ours.contents() == other.contents() | {(): ours.contents()[()]}
        assert preview(ours, *book_of_rows(demo, how, rows)).edits == ()
        assert bring_in(ours, demo, how, "t", "again").batch is None


def test_a_mended_row_that_is_still_wrong_keeps_its_place(small: Book, tmp_path: Path) -> None:
    data = mapping.proposed(small)
    view = survey_view.view(small, data, "")
    data = survey_changes.set_sheet(small, data, "", given(view, Bemerkung="seat.note"))
    data["table"][0]["cells"] |= {"decimal": ",", "thousands": "."}
    del data["table"][0]["columns"]["Fest/Los"]["words"]["frei"]
    with store.create(tmp_path / "a.halfbore", "a") as workspace:
        done = bring_in(workspace, small, mapping.mapping_of(data), "t", "x")
        (reject,) = done.reading.rejects
        assert reject.row == 4
        ((at, problem),) = bad_cells(reject)
        assert reject.headings[at] == "Fest/Los"
        book, how = book_of_rows(small, mapping.mapping_of(data), [mended(reject, {at: "halb"})])
        (still,) = bring_in(workspace, book, how, "t", "x").reading.rejects
        assert (still.row, still.cells[at]) == (4, "halb")
        assert "row 4" in still.problems[0].where
        assert problem.where.startswith("Liste <b>.csv")
        book, how = book_of_rows(small, mapping.mapping_of(data), [mended(still, {at: "los"})])
        assert bring_in(workspace, book, how, "t", "x").new == ("P2-A",)
        assert workspace.document(("P2", "", "P2-A"))["seat"]["note"].startswith("=HYPERLINK")


@pytest.mark.parametrize(
    ("name", "shown"),
    [("../../etc/passwd", "passwd"), ("C:\\x\\a.xlsx", "a.xlsx"), ("a\nb\x00.csv", "a b .csv"), ("", "file")],
)
def test_a_file_name_is_only_ever_text(name: str, shown: str) -> None:
    assert shown_name(name) == shown
    assert len(shown_name("x" * 5000)) == 120


def test_what_is_no_file_of_a_survey_is_refused(tmp_path: Path) -> None:
    with pytest.raises(LimitError):
        kept(tmp_path, 1, b"x" * 20_000_001)
    with pytest.raises(InputError):
        kept(tmp_path, 1, b"")
    with pytest.raises(InputError) as error:
        book_of(kept(tmp_path, 1, b"PK\x03\x04 no workbook"), "mine.xlsx")
    assert "mine.xlsx" in error.value.problems[0].where
    for data in ({"table": 3}, {"table": [{"columns": {"a": 1}}]}, {"cells": 1}, {"table": [{"sheet": 1}]}):
        with pytest.raises(InputError):
            mapping.refuse_malformed(data)


def test_a_column_that_becomes_the_machine_of_a_group_is_carried_down() -> None:
    rows = (("Which", "Lagerstelle", "Fest/Los"), ("F1", "F1-A", "fest"), ("", "F1-B", "los"))
    book = Book("s.xlsx", (Page("s.xlsx", "Lager", rows),))
    data = mapping.proposed(book)
    sheet = survey_view.view(book, data, "Lager")
    changed = survey_changes.set_sheet(book, data, "Lager", given(sheet, Which="tag.machine"))
    assert changed["table"][0]["carry_down"] == ["Which"]
    assert survey_view.view(book, changed, "Lager").carry_down == "Which"
    again = survey_changes.set_sheet(
        book, changed, "Lager", replace(given(survey_view.view(book, changed, "Lager")), carry_down="")
    )
    assert "carry_down" not in again["table"][0]
