"""CSV as spreadsheets write it: the encoding and the separator are found, not asked."""

from __future__ import annotations

import codecs
import csv
import io
import re
from itertools import islice

from oakum.record.sheets.rows import (
    ROW_LIMIT,
    Cell,
    CellKind,
    Sheet,
    SheetError,
    column_letters,
    formula_problem,
    make_sheet,
    too_big,
)

SEPARATORS = {";": "semicolons", ",": "commas", "\t": "tabs", "|": "bars"}

_SAMPLE_ROWS = 200
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")
_ERROR = re.compile(r"#(REF|N/A|VALUE|DIV/0|NAME|NULL|NUM)[!?]?")


def read_csv(data: bytes, name: str) -> Sheet:
    """Rows of a CSV file. Raises `SheetError` if it is no text, or a quotation mark is never closed."""
    text, encoding = _decoded(data, name)
    text, separator = _separator(text)
    rows = _rows(text, separator, name)
    read_as = f"CSV in {encoding}, columns set apart by {SEPARATORS.get(separator, repr(separator))}"
    return make_sheet(name, rows, read_as)


def _decoded(data: bytes, name: str) -> tuple[str, str]:
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encodings = {"utf-16": "UTF-16"}
    else:
        encodings = {"utf-8-sig": "UTF-8", "cp1252": "Windows-1252"}
    for encoding, words in encodings.items():
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            return text, words
    raise SheetError(
        f"{name} is no text in UTF-8 or Windows-1252, so it cannot be read as CSV. "
        'Save it from the spreadsheet as "CSV UTF-8" or as XLSX.'
    )


def _separator(text: str) -> tuple[str, str]:
    """The text without a ``sep=`` line, and the separator: the one that makes the most rows equally wide."""
    first, _, rest = text.partition("\n")
    if found := re.fullmatch(r'"?sep=(.)"?\r?', first):
        return rest, found[1]
    return text, max(SEPARATORS, key=lambda mark: _evenness(text, mark))


def _evenness(text: str, mark: str) -> tuple[float, int]:
    sample = islice(csv.reader(io.StringIO(text, newline=""), delimiter=mark), _SAMPLE_ROWS)
    try:
        widths = [len(row) for row in sample if row]
    except csv.Error:
        return (0.0, 0)
    wide = [width for width in widths if width > 1]
    if not wide:
        return (0.0, 0)
    usual = max(set(wide), key=wide.count)
    return (wide.count(usual) / len(widths), usual)


def _rows(text: str, separator: str, name: str) -> list[list[Cell]]:
    rows: list[list[Cell]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    began = 0
    try:
        for number, row in enumerate(reader, start=1):
            if number > ROW_LIMIT:
                raise SheetError(too_big(name, number, len(row)))
            rows.append([_cell(f"{column_letters(at)}{number}", value) for at, value in enumerate(row)])
            spans, began = reader.line_num - began, reader.line_num
    except csv.Error as error:
        raise SheetError(
            f"{name}, line {reader.line_num}: {error}. Save it as XLSX and try again."
        ) from error
    if rows and spans > 1 and not text.rstrip().endswith('"') and text.count('"') % 2:
        raise SheetError(
            f"{name}: the quotation mark that opens in row {len(rows)} is never closed, so {spans} lines run "
            "into one. Close it, or save the register as XLSX."
        )
    return rows


def _cell(address: str, value: str) -> Cell:
    text = value.replace("\r\n", "\n").strip()
    kind: CellKind = "text"
    problem = None
    if not text:
        kind = "blank"
    elif _NUMBER.fullmatch(text):
        kind = "number"
    elif text.startswith("=") and len(text) > 1:
        kind, problem = "formula", formula_problem(address)
    elif _ERROR.fullmatch(text):
        kind, problem = "error", f"cell {address} holds the error {text}; correct it in the sheet"
    return Cell(address, text, kind, problem)
