"""A mapping proposed for a table that nobody has seen before: what is sure, what is asked, what is left to people."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from halfbore.domain.survey import Thing
from halfbore.errors import InputError
from halfbore.intake.survey.headings import SURE, matches
from halfbore.intake.survey.mapping import read_mapping_text
from halfbore.intake.survey.propose import propose
from halfbore.intake.survey.read import read_survey
from halfbore.intake.survey.words import meaning_of
from tests.intake.survey_files import GOOD, HEADINGS, TITLE, data, write


def proposed(
    tmp_path: Path, text: str, encoding: str = "utf-8", name: str = "s.csv"
) -> tuple[dict[str, Any], tuple[str, ...]]:
    path = tmp_path / name
    path.write_bytes(text.encode(encoding))
    found = propose(path)
    return tomllib.loads(found.text), found.open


def fields(table: dict[str, Any]) -> dict[str, str]:
    return {heading: column["field"] for heading, column in table["columns"].items()}


@pytest.mark.parametrize(
    ("heading", "path"),
    [
        ("Bearing", "tag.position"),
        ("LAGERSTELLE", "tag.position"),
        ("Repère palier", "tag.position"),
        ("Rodamiento", "tag.position"),
        ("Welle Ø [mm]", "seat.diameter"),
        ("Wellendurchmesser in mm", "seat.diameter"),
        ("shaft dia (in)", "seat.diameter"),
        ("Shaft_Diameter", "seat.diameter"),
        ("shaftDiameter", "seat.diameter"),
        ("Diamètre de l'arbre (mm)", "seat.diameter"),
        ("DIÁMETRO EJE mm", "seat.diameter"),
        ("Waelzlager", ""),
        ("Drehzahl 1/min", "condition.speed"),
        ("Vitesse de rotation (tr/min)", "condition.speed"),
        ("Fest-/Loslager", "role"),
        ("Fixe/Libre", "role"),
        ("Achshoehe [mm]", "base.centre_height"),
        ("centre height", "base.centre_height"),
        ("Hauteur d’axe", "base.centre_height"),
        ("Überstand Stehbolzen", "base.stud_stick_out"),
        ("Motorleistung (kW)", "machine.name_plate.power"),
        ("Puissance", "machine.name_plate.power"),
        ("Letzter Ausfall", "failure.on"),
        ("Schadensbild", "failure.why"),
        ("Plain left", "room.plain_left"),
        ("Largeur libre", "room.beside"),
        ("shaft temp. at bearing", "shaft_temperature"),
        ("Shaft temperature [°F]", "shaft_temperature"),
        ("Wellentemperatur am Lager", "shaft_temperature"),
        ("Bearing temperature [°C]", "condition.housing_temperature"),
        ("Machine type", "machine.kind"),
        ("Kind", "machine.kind"),
        ("Bauart", "machine.kind"),
    ],
)
def test_headings_in_four_languages(heading: str, path: str) -> None:
    found = matches(heading, Thing.POSITION)
    assert (found[0].path if found and found[0].score >= SURE else "") == path


def test_betrieb_is_a_plant_or_what_goes_on_in_it_and_no_shaft_line() -> None:
    assert {m.path for m in matches("Betrieb", Thing.POSITION) if m.score >= SURE} == {
        "machine.plant",
        "condition.name",
    }
    assert matches("Betrieb", Thing.CONDITION)[0].path == "name"


def test_a_unit_in_the_heading_tells_fields_apart() -> None:
    assert matches("Lager", Thing.POSITION)[0].score == 1.0
    assert not [
        m for m in matches("Lager [mm]", Thing.POSITION) if m.path == "tag.position" and m.score >= SURE
    ]


def test_a_german_file_with_semicolons_and_commas(tmp_path: Path) -> None:
    text = (
        "Aufnahme 2.3.2026;;;;;;;;\n"
        "Maschine;Lagerstelle;Abstand AS mm;Fest-/Loslager;Wellen-Ø [mm];Achshöhe;Schrauben;Kran;Einbaudatum\n"
        "F1;F1-A;0;Festlager;159,98;250 mm;M30;ja;03/04/2025\nF1;F1-B;3400;Loslager;159,95;250 mm;M30;nein;11/04/2025\n"
        "Summe;;3400;;;;;;\n"
    )
    found, left = proposed(tmp_path, text, "cp1252")
    table = found["table"][0]
    assert found["csv"] == {"encoding": "cp1252", "delimiter": ";"}
    assert found["cells"]["decimal"] == ","
    assert found["cells"]["dates"] == "?"
    assert (table["rows"], table["header"], table["skip"]) == ("position", 2, ["Summe"])
    assert fields(table) == {
        "Maschine": "tag.machine",
        "Lagerstelle": "tag.position",
        "Abstand AS mm": "x",
        "Fest-/Loslager": "role",
        "Wellen-Ø [mm]": "seat.diameter",
        "Achshöhe": "base.centre_height",
        "Schrauben": "base.bolt_size",
        "Kran": "room.hoist",
        "Einbaudatum": "in_service_since",
    }
    assert table["columns"]["Schrauben"]["words"] == {"M30": "30 mm"}
    assert table["columns"]["Fest-/Loslager"]["words"] == {
        "Festlager": "locating",
        "Loslager": "non-locating",
    }
    assert "unit" not in table["columns"]["Achshöhe"]
    assert left == ('s.csv: order in dates such as 03/04/2025: "dmy", "mdy" or "ymd"',)


def test_two_rows_of_headings_and_units(tmp_path: Path) -> None:
    found, _ = proposed(
        tmp_path, "Bearing,Shaft dia,Fixed/Free\n,(in),\nF2-A,3 15/16,free\nF2-B,3 15/16,fixed\n"
    )
    table = found["table"][0]
    assert table["header"] == [1, 2]
    assert table["columns"]["Shaft dia (in)"] == {"field": "seat.diameter", "unit": "in"}
    assert table["machine"] == {"from": "position", "before": "-"}


def test_a_unit_that_is_nowhere_is_asked_and_the_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "s.csv"
    path.write_text(
        "Palier;Fixe/Libre;Diamètre arbre\nC1-A;fixe;150,8\nC1-B;libre;150,8 mm\n", encoding="utf-16"
    )
    found = propose(path)
    assert found.open == ("s.csv, column 'Diamètre arbre': in which unit?",)
    assert 'unit = "?"' in found.text
    with pytest.raises(InputError, match="is not settled"):
        read_mapping_text(found.text)
    settled = read_mapping_text(found.text.replace('unit = "?"', 'unit = "mm"'))
    assert data(read_survey(path, settled)) == [
        {"role": "locating", "seat": {"diameter": "150,8 mm"}},
        {"role": "non-locating", "seat": {"diameter": "150,8 mm"}},
    ]


@pytest.mark.parametrize(
    ("cells", "signs"),
    [
        (("112,7", "99,95"), {"decimal": ","}),
        (("112.7", "99.95"), {"decimal": "."}),
        (("112,7", "4.4375"), {"decimal": "."}),
        (("112,7", "1.250"), {"decimal": ",", "thousands": "?"}),
        (("112.7", "1,250"), {"decimal": ".", "thousands": "?"}),
        (("1.250", "99"), {"decimal": "?"}),
        (("112,7", "4.4375", "1,250"), {"decimal": "?"}),
        (("112", "99"), {"decimal": "."}),
    ],
)
def test_the_decimal_sign_is_found_or_asked(
    tmp_path: Path, cells: tuple[str, ...], signs: dict[str, str]
) -> None:
    rows = "\n".join(f"P-{i};{cell}" for i, cell in enumerate(cells))
    found, _ = proposed(tmp_path, f"Bearing;Shaft dia [mm]\n{rows}\n")
    assert {key: found["cells"].get(key) for key in signs} == signs
    assert found["cells"].get("thousands") == signs.get("thousands")


@pytest.mark.parametrize(
    ("days", "order"),
    [
        (("03/04/2025", "25/04/2025"), "dmy"),
        (("03/04/2025", "04/25/2025"), "mdy"),
        (("03/04/2025", "04/05/2025"), "?"),
        (("25/04/2025", "04/25/2025"), "?"),
        (("03.04.2025", "04.05.2025"), "dmy"),
        (("2025-04-03",), None),
    ],
)
def test_the_order_of_dates_is_found_or_asked(
    tmp_path: Path, days: tuple[str, ...], order: str | None
) -> None:
    rows = "\n".join(f"P-{i};fixed;{day}" for i, day in enumerate(days))
    found, _ = proposed(tmp_path, f"Bearing;Fixed/free;Installed\n{rows}\n")
    assert found["cells"].get("dates") == order


def test_two_columns_never_fill_one_field(tmp_path: Path) -> None:
    found, _ = proposed(tmp_path, "Bearing;Fixed/free;Shaft dia [mm];Shaft diameter [mm]\nA;fixed;100;101\n")
    table = found["table"][0]
    assert table["ignored"] == ["Shaft diameter [mm]"]
    assert fields(table)["Shaft dia [mm]"] == "seat.diameter"


def test_what_is_not_understood_is_listed_and_what_is_unsure_is_asked(tmp_path: Path) -> None:
    found, left = proposed(tmp_path, "Bearing;Fixed/free;Colour;Remarks;\nF1;fixed;red;x;stray\n")
    table = found["table"][0]
    assert table["ignored"] == ["Colour", "column E"]
    assert table["columns"]["Remarks"] == {"field": "?"}
    assert "s.csv, column 'Remarks': which field is it? seat.note, or none" in left


def test_words_that_nobody_knows_are_asked(tmp_path: Path) -> None:
    found, left = proposed(tmp_path, "Bearing;Last failure;Cause\nF1;2020-01-02;eau\nF2;2020-01-02;grimaud\n")
    words = found["table"][0]["columns"]["Cause"]["words"]
    assert words == {"eau": "moisture corrosion", "grimaud": "?"}
    assert left == ("s.csv, column 'Cause': what do these words mean? grimaud",)


@pytest.mark.parametrize(
    ("text", "thing"),
    [
        ("Bearing,Date,Cause,Downtime [h]\nF1-A,2020-01-02,water,22\n", "failure"),
        ("Machine,Part,Name,Distance (in),Weight (lb)\nF1,wheel,wheel,67,5700\n", "part"),
        ("Machine,Shaft line,Length [mm],Diameter [mm]\nE1,head,500,160\n", "segment"),
        ("Machine,Condition,Share [%],Speed [rpm]\nF1,loaded,85,990\n", "condition"),
        ("Machine,Machine type,Motor power [kW],Ratio\nF1,fan,250,1\n", "machine"),
    ],
)
def test_what_the_rows_are_about(tmp_path: Path, text: str, thing: str) -> None:
    found, left = proposed(tmp_path, text)
    assert found["table"][0]["rows"] == thing
    assert left == ()
    assert found["table"][0].get("ignored") is None
    mapping = read_mapping_text(propose(tmp_path / "s.csv").text)
    reading = read_survey(tmp_path / "s.csv", mapping)
    assert reading.rejects == () and [t.thing.value for t in reading.told] == [thing]


def test_a_speed_in_a_table_of_positions_makes_one_condition(tmp_path: Path) -> None:
    found, _ = proposed(tmp_path, "Bearing;Fixed/free;Speed rpm\nF1-A;fixed;990\nF1-B;free;990\n")
    table = found["table"][0]
    assert table["fixed"] == {"condition.name": "running", "condition.share": "1"}
    assert table["columns"]["Speed rpm"] == {"field": "condition.speed", "unit": "rpm"}


def test_a_failure_without_a_date_is_not_mapped(tmp_path: Path) -> None:
    path = tmp_path / "s.csv"
    path.write_text("Bearing;Fixed/free;Cause\nF1;fixed;water\n")
    found = propose(path)
    assert tomllib.loads(found.text)["table"][0]["ignored"] == ["Cause"]
    assert '"Cause",  # failure.why, but no column gives its date; such as water' in found.text


def test_a_table_without_tags_asks_for_them(tmp_path: Path) -> None:
    found, left = proposed(tmp_path, "Which;Fixed/free;Shaft dia [mm];Centre height [mm]\nF1;fixed;100;250\n")
    assert "s.csv: which column fills tag.position?" in left
    assert found["table"][0]["ignored"] == ["Which"]


def test_a_workbook_of_several_sheets(tmp_path: Path) -> None:
    path = tmp_path / "s.xlsx"
    with xlsxwriter.Workbook(str(path), {"date_1904": True}) as made:
        made.add_worksheet("Cover").write(0, 0, "Survey of 2026")
        made.add_worksheet("Empty")
        sheet = made.add_worksheet("Lager")
        sheet.merge_range(0, 0, 0, 2, "Ostrindale Lime (invented)")
        sheet.write_row(3, 0, ["Lagerstelle", "Welle Ø [mm]", "Einbaudatum"])
        sheet.write_row(4, 0, ["F1-A", 160, 44000])
        sheet.write_row(5, 0, ["F1-B"])
        sheet.merge_range(4, 1, 5, 1, 160)
        parts = made.add_worksheet("Teile")
        parts.write_row(0, 0, ["Maschine", "Bauteil", "Benennung", "Masse kg"])
        parts.write_row(1, 0, ["F1", "Laufrad", "Rad", "2600"])
        parts.hide()
    found = propose(path)
    read = tomllib.loads(found.text)
    assert read["not_read"] == ["Cover"]
    assert [(t["sheet"], t["rows"], t["header"]) for t in read["table"]] == [
        ("Lager", "position", 4),
        ("Teile", "part", 1),
    ]
    assert read["cells"]["serials"] == "1904"
    assert read["cells"]["merged"] == "?"
    assert "# the sheet is hidden" in found.text


def test_a_proposal_that_leaves_nothing_open_reads_its_own_file(tmp_path: Path) -> None:
    path = write(tmp_path / "s.xlsx", (*TITLE, HEADINGS, *GOOD))
    found = propose(path)
    assert found.open == ()
    reading = read_survey(path, read_mapping_text(found.text))
    assert reading.rejects == ()
    assert [d.get("seat") for d in data(reading)] == [
        {"diameter": f"{d} mm"} for d in ("160", "159,98", "112,7")
    ]


@pytest.mark.parametrize(
    "name", ['"; import os #', "a\nb\tc", "x" * 300, "\u202eabc", "Ø\u00a0mm", "#", "[table]"]
)
def test_headings_cannot_break_out_of_the_file(tmp_path: Path, name: str) -> None:
    path = write(tmp_path / "s.xlsx", (("Bearing", "Fixed/Free", name), ("F1-A", "fixed", name)))
    read = tomllib.loads(propose(path).text)
    assert " ".join(name.split()) in read["table"][0]["ignored"]


def test_what_is_no_table_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="nothing in the file looks like a table of a survey"):
        proposed(tmp_path, "some,words\nand,more\n")
    with pytest.raises(InputError, match="there is nothing in the file"):
        proposed(tmp_path, "\n\n")
    with pytest.raises(InputError, match="no such file"):
        propose(tmp_path / "none.xlsx")


GROUPS = (
    "Machine;Shaft line;Bearing;Shaft dia mm;Fixed/free\n"
    "F1;;F1-A;160;fixed\n;;F1-B;160;free\n"
    "E1;head;E1-A;180;fixed\n;;E1-B;180;free\n;boot;E1-C;140;fixed\n;;E1-D;140;free\n"
    "TOTAL;;;960;\n"
)


def test_a_machine_named_in_the_first_row_of_its_group_is_carried_down_and_counted(tmp_path: Path) -> None:
    found, left = proposed(tmp_path, GROUPS)
    assert left == ()
    assert found["table"][0]["carry_down"] == ["Machine", "Shaft line"]
    reading = read_survey(tmp_path / "s.csv", read_mapping_text(propose(tmp_path / "s.csv").text))
    assert [t.tags for t in reading.told if t.thing is Thing.POSITION] == [
        ("F1", None, "F1-A"),
        ("F1", None, "F1-B"),
        ("E1", "head", "E1-A"),
        ("E1", "head", "E1-B"),
        ("E1", "boot", "E1-C"),
        ("E1", "boot", "E1-D"),
    ]
    assert "s.csv, column 'Machine': 4 rows take the value above, rows 3, 5 to 7" in reading.remarks
    assert "s.csv, column 'Shaft line': 2 rows take the value above, rows 5, 7" in reading.remarks


def test_a_shaft_line_that_is_not_in_the_first_row_of_its_machine_is_not_carried(tmp_path: Path) -> None:
    found, _ = proposed(tmp_path, GROUPS.replace(";;F1-B", ";rotor;F1-B"))
    assert found["table"][0]["carry_down"] == ["Machine"]


def test_a_shaft_line_ends_with_its_machine(tmp_path: Path) -> None:
    text = "Machine;Shaft line;Bearing\nE1;head;E1-A\nF1;;F1-A\n;;F1-B\n"
    (tmp_path / "s.csv").write_text(text)
    mapping = read_mapping_text(
        'format=1\n[[table]]\nrows="position"\ncarry_down=["Machine","Shaft line"]\n[table.columns]\n"Machine"='
        '{field="tag.machine"}\n"Shaft line"={field="tag.shaft_line"}\n"Bearing"={field="tag.position"}\n'
    )
    told = read_survey(tmp_path / "s.csv", mapping).told
    assert [t.tags for t in told] == [("E1", "head", "E1-A"), ("F1", None, "F1-A"), ("F1", None, "F1-B")]


@pytest.mark.parametrize("cell", ["-", "n/a", "?"])
def test_a_machine_that_is_said_to_be_unknown_is_not_carried(tmp_path: Path, cell: str) -> None:
    found, _ = proposed(
        tmp_path, f"Machine;Bearing;Fixed/free\nF1;F1-A;fixed\n;F1-B;free\n{cell};X-A;fixed\n"
    )
    assert "carry_down" not in found["table"][0]


def test_a_merged_machine_is_carried_down_and_nothing_is_asked_of_it(tmp_path: Path) -> None:
    path = tmp_path / "s.xlsx"
    with xlsxwriter.Workbook(str(path)) as made:
        sheet = made.add_worksheet("Lager")
        sheet.write_row(0, 0, ["Maschine", "Lagerstelle", "Fest/Los"])
        sheet.merge_range(1, 0, 2, 0, "F1")
        sheet.write_row(1, 1, ["F1-A", "fest"])
        sheet.write_row(2, 1, ["F1-B", "los"])
    found = propose(path)
    assert found.open == ()
    reading = read_survey(path, read_mapping_text(found.text))
    assert [t.tags[0] for t in reading.told] == ["F1", "F1"]


@pytest.mark.parametrize("marks", [("x", ""), ("X", "X"), ("✓", ""), ("✔", "-"), ("ja", "nein")])
def test_a_column_of_marks_under_a_heading_that_nobody_knows_is_asked_about(
    tmp_path: Path, marks: tuple[str, str]
) -> None:
    text = f"Bearing;Fixed/free;Heater\nF1-A;fixed;{marks[0]}\nF1-B;free;{marks[1]}\n"
    found, left = proposed(tmp_path, text)
    assert found["table"][0]["columns"]["Heater"] == {
        "field": "?",
        "words": {mark: {"nein": "no"}.get(mark, "yes") for mark in marks if mark not in ("", "-")},
    }
    assert left[0].startswith("s.csv, column 'Heater': which field is it? convert or old_is_seized or ")


def test_marks_are_read_as_yes(tmp_path: Path) -> None:
    found, _ = proposed(tmp_path, "Bearing;Fixed/free;Crane\nF1-A;fixed;✓\nF1-B;free;✔\nF1-C;free;X\n")
    assert found["table"][0]["columns"]["Crane"]["words"] == {"✓": "yes", "✔": "yes", "X": "yes"}


def test_a_kind_of_which_no_cell_is_a_kind_of_machine_is_asked_about(tmp_path: Path) -> None:
    found, _ = proposed(tmp_path, "Bearing;Fixed/free;Bauart\nF1-A;fixed;22 C\nF1-B;free;23 C\n")
    assert found["table"][0]["columns"]["Bauart"] == {"field": "?"}
    found, _ = proposed(
        tmp_path, "Machine;Bearing;Fixed/free;Bauart\nF1;F1-A;fixed;Gebläse\nF1;F1-B;free;Gebläse\n"
    )
    assert found["table"][0]["columns"]["Bauart"] == {"field": "machine.kind", "words": {"Gebläse": "fan"}}


@pytest.mark.parametrize(
    "second", ["No;dia [mm];left [mm];right [mm];", ";mm;mm;mm;", "tag;in mm;in mm;in mm;F or L"]
)
def test_two_rows_of_headings_under_a_title(tmp_path: Path, second: str) -> None:
    text = f"Ostrindale Lime;;;;\nBearing;Shaft;Room left;Room right;Fixed/free\n{second}\nF1-A;160;9;9;F\n"
    found, _ = proposed(tmp_path, text)
    assert found["table"][0]["header"] == [2, 3]


def test_three_rows_of_headings_the_third_of_units(tmp_path: Path) -> None:
    text = "Bearing;Shaft;Room;Room\ntag;diameter;left;right\n;mm;mm;mm\nF1-A;160;9;9\nF1-B;160;9;9\n"
    found, left = proposed(tmp_path, text)
    assert found["table"][0]["header"] == [1, 2, 3] and left == ()
    assert fields(found["table"][0])["Room left mm"] == "room.plain_left"


def test_totals_ask_for_no_unit(tmp_path: Path) -> None:
    path = tmp_path / "s.csv"
    path.write_text("Bearing;Fixed/free;Shaft dia\nF1;fixed;160 mm\nTOTAL;;1\n* the shaft was cold\n")
    found = propose(path)
    assert found.open == ()
    assert "# what a row is about: 1 of them" in found.text and "such as F1\n" in found.text


@pytest.mark.parametrize("sign", ["#", "!", "→"])
def test_a_sign_that_is_no_mark_means_nothing(sign: str) -> None:
    assert meaning_of(sign, bool) == ""
    assert meaning_of(" ✓ ", bool) == "yes"
