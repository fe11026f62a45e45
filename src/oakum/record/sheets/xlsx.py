"""XLSX workbooks: values as a reader sees them, merged cells filled, formulas named instead of computed.

A workbook is a zip of XML files. Before it is opened the sizes are looked at, and what could blow up a reader
is refused: much more content than the file pretends, declared entities, merges over a whole sheet.
"""

from __future__ import annotations

import datetime as dt
import io
import re
import warnings
import zipfile
import zlib
from collections.abc import Callable
from typing import Any

import openpyxl
from openpyxl.utils import range_boundaries

from oakum.record.sheets.rows import (
    COLUMN_LIMIT,
    ROW_LIMIT,
    Cell,
    Sheet,
    SheetChoice,
    SheetError,
    formula_problem,
    make_sheet,
    too_big,
)

UNPACKED_LIMIT = 100 * 1024**2
RATIO_LIMIT = 150
PART_LIMIT = 2000
MERGED_LIMIT = 200_000

_MERGE = re.compile(rb"<(?:\w+:)?mergeCell\b[^>]*?\bref\s*=\s*[\"']([^\"']{1,40})")
_PADDED = re.compile(r"0+")
_PROGRESS_ROWS = 200
Progress = Callable[[int, int], None]


def read_xlsx(data: bytes, name: str, sheet: str | None = None, progress: Progress | None = None) -> Sheet:
    """The named sheet of a workbook, or the only one that holds something.

    Raises `SheetChoice` if several hold something and none was named, `SheetError` for a file that is no
    workbook, is larger than it pretends, or has no such sheet.
    """
    _check_zip(data, name)
    book = _workbook(data, name)
    try:
        grid = _chosen(book, name, sheet)
        return make_sheet(f"{name}, sheet {grid.title}", _cells(grid, name, progress), "XLSX")
    finally:
        book.close()


def _check_zip(data: bytes, name: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = archive.infolist()
            unpacked = sum(part.file_size for part in parts)
            if (
                len(parts) > PART_LIMIT
                or unpacked > UNPACKED_LIMIT
                or unpacked > RATIO_LIMIT * len(data) + 10**6
            ):
                raise SheetError(
                    f"{name} unpacks to {unpacked // 10**6:,} MB in {len(parts)} parts, far more than a "
                    "register needs, and is not opened. Copy the register into a new workbook, values only, "
                    "and save that."
                )
            if "xl/workbook.xml" not in archive.namelist():
                raise SheetError(
                    f"{name} is no XLSX workbook. Save the register as XLSX or CSV and try again."
                )
            for part in parts:
                if part.filename.endswith((".xml", ".rels")):
                    _check_part(archive.read(part), name)
    except (zipfile.BadZipFile, zlib.error, NotImplementedError, RuntimeError, EOFError, OSError) as error:
        raise SheetError(_damaged(name, error)) from error


def _check_part(content: bytes, name: str) -> None:
    head = content[:4096].replace(b"\x00", b"").upper()
    if b"<!DOCTYPE" in head or b"<!ENTITY" in head:
        raise SheetError(f"{name} carries declarations no spreadsheet writes and is not opened.")
    merged = sum(_area(found[1].decode("ascii", "replace")) for found in _MERGE.finditer(content))
    if merged > MERGED_LIMIT:
        raise SheetError(
            f"{name} merges {merged:,} cells, far more than a register needs. "
            "Take the merge over whole rows or columns apart, save, and try again."
        )


def _area(coordinates: str) -> int:
    try:
        left, top, right, bottom = range_boundaries(coordinates)
    except (ValueError, TypeError):
        return 0
    return int((right - left + 1) * (bottom - top + 1)) if None not in (left, top, right, bottom) else 10**9


def _workbook(data: bytes, name: str) -> Any:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about print settings and the like, of no use to the reader
            return openpyxl.load_workbook(io.BytesIO(data), data_only=False, keep_links=False)
    except Exception as error:  # a damaged part makes the reader fail in any way it likes
        raise SheetError(_damaged(name, error)) from error


def _damaged(name: str, error: Exception) -> str:
    return (
        f"{name} cannot be read as a workbook ({error}). It may be damaged or locked by a password: open it "
        "in the spreadsheet program, save it again as XLSX or CSV, and try with that."
    )


def _chosen(book: Any, name: str, sheet: str | None) -> Any:
    names = tuple(grid.title for grid in book.worksheets)
    if sheet is not None:
        if sheet not in names:
            raise SheetError(f"{name} has no sheet called {sheet!r}. It has: {', '.join(names)}.")
        return book[sheet]
    holding = [grid for grid in book.worksheets if _holds_something(grid)]
    if len(holding) > 1:
        raise SheetChoice(tuple(grid.title for grid in holding))
    if not holding:
        raise SheetError(
            f"{name}: there is nothing in it. Expected a row of column names and finds below it."
        )
    return holding[0]


def _holds_something(grid: Any) -> bool:
    if grid.max_row > ROW_LIMIT or grid.max_column > COLUMN_LIMIT:
        return True
    return any(value is not None for row in grid.iter_rows(values_only=True) for value in row)


def _cells(grid: Any, name: str, progress: Progress | None) -> list[list[Cell]]:
    if grid.max_row > ROW_LIMIT or grid.max_column > COLUMN_LIMIT:
        raise SheetError(too_big(f"{name}, sheet {grid.title}", grid.max_row, grid.max_column))
    merges = {
        (row, column): (merge.coord, (merge.min_row, merge.min_col))
        for merge in grid.merged_cells.ranges
        for row in range(merge.min_row, merge.max_row + 1)
        for column in range(merge.min_col, merge.max_col + 1)
    }
    rows = []
    for number, row in enumerate(grid.iter_rows(), start=1):
        rows.append([_merged(grid, cell, merges) for cell in row])
        if progress and (number % _PROGRESS_ROWS == 0 or number == grid.max_row):
            progress(number, grid.max_row)
    return rows


def _merged(grid: Any, cell: Any, merges: dict[tuple[int, int], tuple[str, tuple[int, int]]]) -> Cell:
    merge = merges.get((cell.row, cell.column))
    if merge is None:
        return _cell(cell, cell.coordinate, None)
    return _cell(grid.cell(*merge[1]), cell.coordinate, merge[0])


def _cell(source: Any, address: str, merged: str | None) -> Cell:
    value, kind = source.value, source.data_type
    if kind == "f":
        return Cell(address, _formula_text(value), "formula", formula_problem(source.coordinate), merged)
    if kind == "e":
        problem = f"cell {source.coordinate} holds the error {value}; correct it in the sheet"
        return Cell(address, str(value), "error", problem, merged)
    text = _text(value, source.number_format)
    if not text:
        return Cell(address, "", "blank", None, merged)
    if isinstance(value, dt.date | dt.time | dt.timedelta):
        return Cell(address, text, "date", None, merged)
    number = isinstance(value, int | float) and not isinstance(value, bool)
    return Cell(address, text, "number" if number else "text", None, merged)


def _formula_text(value: Any) -> str:
    return str(getattr(value, "text", value))


def _text(value: Any, number_format: str) -> str:
    """What a reader sees: no more than 15 figures, leading zeros of a format such as 000 kept."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int) or (isinstance(value, float) and value.is_integer() and abs(value) < 1e15):
        whole = int(value)
        return f"{whole:0{len(number_format)}d}" if _PADDED.fullmatch(number_format) else str(whole)
    if isinstance(value, float):
        return f"{value:.15g}"
    if isinstance(value, dt.datetime):
        return value.date().isoformat() if value.time() == dt.time() else value.isoformat(timespec="minutes")
    if isinstance(value, dt.date | dt.time):
        return value.isoformat()
    return str(value).replace("\r\n", "\n").replace("_x000D_", "").strip()
