"""CSV and XLSX of other people: encodings, limits, merged cells, hostile files."""

from __future__ import annotations

import struct
import zipfile
from datetime import datetime
from pathlib import Path

import pytest
import xlsxwriter

from halfbore import limits
from halfbore.errors import HalfboreError, InputError, LimitError
from halfbore.intake import tables
from halfbore.intake.tables import read_csv, read_xlsx
from halfbore.intake.workbook import refuse_hostile, rows_of


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_encodings(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes("Größe;µm\n4 15/16 in;12,5\n".encode(encoding))
    sheet = read_csv(path, "utf-8" if encoding == "utf-8-sig" else encoding, ";")
    assert sheet.rows == (("Größe", "µm"), ("4 15/16 in", "12,5"))


def test_a_wrong_byte_names_its_line(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_bytes("a,b\n1,2\nGröße,3\n".encode("cp1252"))
    with pytest.raises(InputError, match=r"a\.csv, line 3: .*accepted: utf-8, cp1252, utf-16"):
        read_csv(path)


def test_quotes_that_do_not_close_name_their_line(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text('a,b\n1,"2"x\n')
    with pytest.raises(InputError, match=r"a\.csv, line 2: is no CSV"):
        read_csv(path)


def test_one_guarding_apostrophe_is_taken_off(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("'=1+1,''x,'plain,-0.5\n")
    assert read_csv(path).rows == (("=1+1", "''x", "'plain", "-0.5"),)


@pytest.mark.parametrize(
    ("limit", "value", "text", "told"),
    [
        ("FILE_SIZE", 5, "a,b\n1,2\n", "the file is too large"),
        ("ROWS", 2, "a\nb\nc\n", "too many rows"),
        ("COLUMNS", 2, "a,b\na,b,c\n", "row 2: too many columns; read '3'"),
        ("CELLS", 3, "a,b\nc,d\n", "too many cells"),
        ("TEXT_LENGTH", 3, "a,b\nc,long\n", "row 2, column '2': the cell is too long"),
    ],
)
def test_limits(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, limit: str, value: int, text: str, told: str
) -> None:
    path = tmp_path / "a.csv"
    path.write_text(text)
    monkeypatch.setattr(limits, limit, value)
    with pytest.raises(LimitError) as raised:
        read_csv(path)
    assert told in str(raised.value)


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    for read in (read_csv, read_xlsx):
        with pytest.raises(InputError, match="no such file"):
            read(tmp_path / "none.csv")
    with pytest.raises(InputError, match="cannot be read"):
        read_csv(tmp_path)


@pytest.fixture
def workbook(tmp_path: Path) -> Path:
    path = tmp_path / "a.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        book.add_worksheet("Cover").write(0, 0, "nothing")
        sheet = book.add_worksheet("Units")
        sheet.merge_range(0, 1, 0, 2, "Clearance")
        sheet.write_row(1, 0, ["Bore", "min", "max"])
        sheet.write_row(3, 0, [125, 0.1 + 0.2, "0,055"])
        sheet.write(4, 0, True)
        sheet.write_datetime(4, 1, datetime(2025, 4, 7), book.add_format({"num_format": "d mmm"}))
    return path


def test_xlsx_as_text(workbook: Path) -> None:
    sheet = read_xlsx(workbook, "Units", ",")
    assert sheet.name == "a.xlsx, sheet 'Units'"
    assert sheet.rows == (
        ("", "Clearance", "Clearance"),
        ("Bore", "min", "max"),
        ("", "", ""),
        ("125", "0,3", "0,055"),
        ("TRUE", "2025-04-07", ""),
    )
    assert read_xlsx(workbook).rows == (("nothing",),)


def test_an_unknown_sheet_names_those_that_are_there(workbook: Path) -> None:
    with pytest.raises(InputError, match="no such sheet; read 'Unit'; accepted: one of: Cover, Units"):
        read_xlsx(workbook, "Unit")


def test_what_is_no_workbook_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    for content in (b"", b"a,b\n1,2\n", b"PK\x03\x04" + bytes(100)):
        path.write_bytes(content)
        with pytest.raises(InputError, match="is no readable workbook"):
            read_xlsx(path)
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("a.txt", "no workbook")
    with pytest.raises(InputError, match="is no readable workbook"):
        read_xlsx(path)


def test_unpacked_size_is_counted_and_not_believed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", bytes(3_000_000))
    data = bytearray(path.read_bytes())
    lie = data.index(b"PK\x01\x02") + 24
    data[lie : lie + 4] = struct.pack("<I", 10)  # the directory says ten bytes
    path.write_bytes(bytes(data))
    monkeypatch.setattr(limits, "UNPACKED_SIZE", 2_000_000)
    with pytest.raises(LimitError, match="too large when unpacked"):
        refuse_hostile(path)


def test_entities_and_crowds_of_members_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "b">]><x>&a;</x>')
        archive.writestr("xl/other.xml", "<x/>")
    with pytest.raises(InputError, match="defines XML entities"):
        read_xlsx(path)
    monkeypatch.setattr(limits, "MEMBERS", 1)
    with pytest.raises(LimitError, match="too many files"):
        refuse_hostile(path)


def test_a_sheet_too_wide_is_refused(monkeypatch: pytest.MonkeyPatch, workbook: Path) -> None:
    monkeypatch.setattr(limits, "COLUMNS", 2)
    with pytest.raises(LimitError, match="5 rows, 3 columns"):
        rows_of(workbook, "Units")


def test_one_far_cell_ends_within_the_limits(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    with xlsxwriter.Workbook(str(path)) as book:
        sheet = book.add_worksheet()
        sheet.write(0, 0, 1)
        sheet.write(1048575, 16383, 1)
    with pytest.raises(LimitError):
        read_xlsx(path)


def test_reading_that_takes_too_long_is_ended(workbook: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(limits, "READ_SECONDS", 0.001)
    with pytest.raises(LimitError, match="limits of memory and time"):
        read_xlsx(workbook)


def test_every_refusal_is_told_in_one_shape(tmp_path: Path) -> None:
    with pytest.raises(HalfboreError) as raised:
        tables.read_csv(tmp_path / "none.csv")
    assert raised.value.as_dict()["error"] == "input"
