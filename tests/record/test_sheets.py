"""Spreadsheets: what is read from CSV and XLSX, what is refused, and what may be written into a cell."""

from __future__ import annotations

import csv
import datetime as dt
import io
import random
import zipfile

import openpyxl
import pytest

from oakum.record.sheets.sheet import SheetChoice, SheetError, cell_safe_for_sheet, column_letters, read_sheet


def texts(sheet):
    return [[cell.text for cell in row.cells] for row in sheet.rows]


def xlsx(fill, *titles):
    """A workbook whose sheets are filled by `fill(*sheets)`."""
    book = openpyxl.Workbook()
    sheets = [book.active]
    sheets[0].title = titles[0] if titles else "Finds"
    sheets += [book.create_sheet(title) for title in titles[1:]]
    fill(*sheets)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def rezipped(data, change):
    """The workbook with `change(name, content)` applied to each of its parts."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            new.writestr(part, change(part, old.read(part)))
    return out.getvalue()


@pytest.mark.parametrize(("separator", "words"), [(";", "semicolons"), (",", "commas"), ("\t", "tabs")])
def test_the_separator_of_a_csv_is_found(separator, words):
    rows = [["No", "Name", "Weight (kg)"], ["14", "Bell, bronze; cracked", "61,5"], ["15", "Shot", "4.1"]]
    out = io.StringIO()
    csv.writer(out, delimiter=separator).writerows(rows)
    sheet = read_sheet(out.getvalue().encode(), "finds.csv")
    assert texts(sheet) == rows
    assert sheet.read_as == f"CSV in UTF-8, columns set apart by {words}"


def test_commas_inside_quotes_do_not_mislead_the_search_for_the_separator():
    data = b'No;Name\n1;"a, b, c"\n2;"d, e, f"\n3;"g, h, i"\n'
    assert texts(read_sheet(data, "a.csv"))[1] == ["1", "a, b, c"]


@pytest.mark.parametrize(
    ("encoding", "words"),
    [("utf-8", "UTF-8"), ("utf-8-sig", "UTF-8"), ("cp1252", "Windows"), ("utf-16", "UTF-16")],
)
def test_the_encoding_of_a_csv_is_found(encoding, words):
    sheet = read_sheet("No;Name\n1;Krügerl, façade “A”\n".encode(encoding), "a.csv")
    assert texts(sheet)[1] == ["1", "Krügerl, façade “A”"]
    assert words in sheet.read_as


def test_a_line_that_names_the_separator_is_obeyed_and_left_out():
    assert texts(read_sheet(b"sep=;\nNo;Name\n1;Bell, small\n", "a.csv")) == [
        ["No", "Name"],
        ["1", "Bell, small"],
    ]


def test_blank_rows_are_dropped_and_counted_and_addresses_stay_those_of_the_file():
    sheet = read_sheet(b"No,Name\n\n1,Bell\n,,\n \n2,Shot\n,\n", "a.csv")
    assert [row.number for row in sheet.rows] == [1, 3, 6]
    assert sheet.blank_rows == 3
    assert sheet.rows[2].cells[1].address == "B6"
    assert all(len(row.cells) == sheet.width == 2 for row in sheet.rows)


def test_quotes_and_line_breaks_inside_a_cell_are_kept():
    sheet = read_sheet(b'No,Name,Length\r\n1,"oak ""knee""\r\nworn","3 1/2"""\r\n', "a.csv")
    assert texts(sheet)[1] == ["1", 'oak "knee"\nworn', '3 1/2"']


def test_a_quotation_mark_that_is_never_closed_is_told():
    with pytest.raises(SheetError, match="opens in row 2 is never closed, so 3 lines"):
        read_sheet(b'No,Name\n1,"Bell\n2,Shot\n3,Jar\n', "a.csv")


def test_inches_inside_a_cell_are_no_open_quotation():
    assert texts(read_sheet(b'No,Length\n1,3 1/2"\n2,4\n', "a.csv"))[1] == ["1", '3 1/2"']


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "is empty"),
        (b"\n\n,,\n", "nothing in it"),
        (b"\x00\x01\x02\x03", "no text in UTF-8"),
        (b"\x81\x8d\x8f", "no text in UTF-8"),
        (b"%PDF-1.7", "is a PDF"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1rest", "old XLS workbook or locked by a password"),
        (b"PK\x03\x04 broken", "cannot be read as a workbook"),
        (b"x" * (21 * 1024**2), "has 22 MB; a register may have 20"),
        (b"a,b\n" * 50_001, "reaches to row 50001"),
        (b"," * 300 + b"x\n", "column KO"),
    ],
)
def test_what_is_no_sheet_is_refused_with_what_to_do(data, told):
    with pytest.raises(SheetError, match=told):
        read_sheet(data, "register")


def test_a_zip_that_is_no_workbook_is_refused():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("photo.jpg", b"...")
    with pytest.raises(SheetError, match="is no XLSX workbook"):
        read_sheet(out.getvalue(), "a.xlsx")


def test_values_of_a_workbook_are_what_a_reader_sees():
    def fill(grid):
        grid.append(["No", "Found", "Weight", "Share", "Sure", "Name"])
        grid.append([14, dt.date(1998, 6, 3), 0.1 + 0.2, 2.0, True, "  Bell "])
        grid.append([dt.datetime(1998, 6, 3, 14, 5), dt.time(9, 30), None, 1e20, 7, "=no formula"])
        grid["A2"].number_format = "000"
        grid["F3"].data_type = "s"

    sheet = read_sheet(xlsx(fill), "a.xlsx")
    assert texts(sheet)[1] == ["014", "1998-06-03", "0.3", "2", "yes", "Bell"]
    assert texts(sheet)[2] == ["1998-06-03T14:05", "09:30:00", "", "1e+20", "7", "=no formula"]
    assert [cell.kind for cell in sheet.rows[1].cells] == [
        "number",
        "date",
        "number",
        "number",
        "text",
        "text",
    ]
    assert sheet.rows[2].cells[5].kind == "text"
    assert sheet.name == "a.xlsx, sheet Finds"


def test_each_cell_of_a_merge_carries_its_value_and_says_so():
    def fill(grid):
        grid.append(["No", "Place"])
        for number in (1, 2, 3):
            grid.append([number, "C4" if number == 1 else None])
        grid.merge_cells("B2:B4")

    sheet = read_sheet(xlsx(fill), "a.xlsx")
    assert texts(sheet)[1:] == [["1", "C4"], ["2", "C4"], ["3", "C4"]]
    assert [row.cells[1].address for row in sheet.rows[1:]] == ["B2", "B3", "B4"]
    assert {row.cells[1].merged for row in sheet.rows[1:]} == {"B2:B4"}


def test_a_formula_is_named_with_its_address_and_never_computed():
    def fill(grid):
        grid.append(["No", "a", "b", "Sum"])
        for row in range(2, 14):
            grid.append([row, 1, 2, 3])
        grid["D14"] = "=B2+C2"

    cell = read_sheet(xlsx(fill), "a.xlsx").rows[-1].cells[3]
    assert cell.kind == "formula"
    assert cell.problem == "cell D14 holds a formula; paste values and try again"
    cell = read_sheet(b"No,Sum\n1,=A2*2\n", "a.csv").rows[1].cells[1]
    assert cell.problem == "cell B2 holds a formula; paste values and try again"


def test_an_error_cell_is_named():
    def fill(grid):
        grid.append(["No", "#REF!"])

    assert read_sheet(xlsx(fill), "a.xlsx").rows[0].cells[1].problem == (
        "cell B1 holds the error #REF!; correct it in the sheet"
    )
    assert read_sheet(b"No,#DIV/0!\n", "a.csv").rows[0].cells[1].kind == "error"


def test_several_sheets_are_asked_about_and_empty_ones_are_not():
    def fill(finds, empty, dives):
        finds.append(["No"])
        dives.append(["Dive"])

    data = xlsx(fill, "Finds", "Sheet2", "Dives")
    with pytest.raises(SheetChoice, match="2 sheets") as choice:
        read_sheet(data, "a.xlsx")
    assert choice.value.names == ("Finds", "Dives")
    assert texts(read_sheet(data, "a.xlsx", sheet="Dives")) == [["Dive"]]
    with pytest.raises(SheetError, match=r"no sheet called 'Fints'. It has: Finds, Sheet2, Dives"):
        read_sheet(data, "a.xlsx", sheet="Fints")
    assert texts(read_sheet(xlsx(lambda a, b: a.append(["No"]), "A", "B"), "a.xlsx")) == [["No"]]


def test_a_workbook_that_unpacks_to_far_more_than_it_weighs_is_not_opened():
    def bomb(part, content):
        return content + b" " * (120 * 1024**2) if part.endswith("sheet1.xml") else content

    data = rezipped(xlsx(lambda grid: grid.append(["No"])), bomb)
    assert len(data) < 500_000
    with pytest.raises(SheetError, match=r"unpacks to 12\d MB"):
        read_sheet(data, "a.xlsx")


def test_declarations_of_entities_are_not_opened():
    def entity(part, content):
        if not part.endswith("sheet1.xml"):
            return content
        return b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "ha">]>' + content

    with pytest.raises(SheetError, match="declarations no spreadsheet writes"):
        read_sheet(rezipped(xlsx(lambda grid: grid.append(["No"])), entity), "a.xlsx")


def test_a_merge_over_a_whole_sheet_is_refused_before_it_fills_the_memory():
    def merged(part, content):
        ref = b'<mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>'
        return content.replace(b"</sheetData>", b"</sheetData>" + ref)

    with pytest.raises(SheetError, match="merges 17,179,869,184 cells"):
        read_sheet(rezipped(xlsx(lambda grid: grid.append(["No"])), merged), "a.xlsx")


def test_a_sheet_that_reaches_far_down_is_told_how_far():
    def fill(grid):
        grid["A1"] = "No"
        grid["A60000"] = "end"

    with pytest.raises(SheetError, match="reaches to row 60000"):
        read_sheet(xlsx(fill), "a.xlsx")


def test_a_damaged_workbook_is_told_wherever_the_damage_lies():
    chance = random.Random(3)
    data = xlsx(lambda grid: [grid.append(["No", n, n / 7, "bell"]) for n in range(30)])
    refused = 0
    for _ in range(80):
        damaged = bytearray(data)
        for _ in range(chance.randint(1, 8)):
            damaged[chance.randrange(len(damaged))] = chance.randrange(256)
        try:
            read_sheet(bytes(damaged), "a.xlsx")
        except SheetError as error:
            refused += 1
            assert "a.xlsx" in str(error)
    assert refused > 40


def test_progress_counts_rows_to_the_last():
    calls = []
    data = xlsx(lambda grid: [grid.append([n]) for n in range(450)])
    read_sheet(data, "a.xlsx", progress=lambda done, total: calls.append((done, total)))
    assert calls == [(200, 450), (400, 450), (450, 450)]


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+44 1632", "'+44 1632"),
        ("-lead-", "'-lead-"),
        ("@home", "'@home"),
        ("\t=1", "'\t=1"),
        ("  =1", "'  =1"),
        ("\uff1d1", "'\uff1d1"),
        ("-14.2", "-14.2"),
        ("+3", "+3"),
        ("-1e3", "-1e3"),
        ("bell = bronze", "bell = bronze"),
        ("", ""),
    ],
)
def test_what_a_spreadsheet_would_run_is_written_as_text(text, written):
    assert cell_safe_for_sheet(text) == written


def test_columns_are_lettered_as_spreadsheets_do():
    assert [column_letters(at) for at in (0, 25, 26, 701, 702)] == ["A", "Z", "AA", "ZZ", "AAA"]
    assert all(column_letters(at) == openpyxl.utils.get_column_letter(at + 1) for at in range(1000))
