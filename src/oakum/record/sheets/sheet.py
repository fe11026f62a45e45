"""Spreadsheets in and out: one way to read CSV and XLSX, and the guard for cells that are written.

Reading never computes: a formula is named with its address, because what it would show depends on a program
that is not here.
"""

from __future__ import annotations

import re

from oakum.record.sheets.csv_text import read_csv
from oakum.record.sheets.rows import BYTE_LIMIT, Cell, Row, Sheet, SheetChoice, SheetError, column_letters
from oakum.record.sheets.xlsx import Progress, read_xlsx

__all__ = [
    "Cell",
    "Row",
    "Sheet",
    "SheetChoice",
    "SheetError",
    "cell_safe_for_sheet",
    "column_letters",
    "read_sheet",
]

_OLD_OFFICE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
_PLAIN_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?([eE][+-]?\d+)?")


def read_sheet(
    data: bytes, name: str, *, sheet: str | None = None, progress: Progress | None = None
) -> Sheet:
    """Rows of a CSV or XLSX file called `name`; the bytes, not the name, decide which it is.

    `sheet` names one of several sheets. Raises `SheetError` (and `SheetChoice` where a sheet must be chosen)
    with a sentence that says what to do. `progress(done, total)` counts rows.
    """
    if len(data) > BYTE_LIMIT:
        raise SheetError(
            f"{name} has {len(data) // 10**6:,} MB; a register may have {BYTE_LIMIT // 10**6}. "
            "Take out pictures and other sheets, save, and try again."
        )
    if not data.strip():
        raise SheetError(f"{name} is empty. Save the register again as XLSX or CSV.")
    if data.startswith(_OLD_OFFICE):
        raise SheetError(
            f"{name} is an old XLS workbook or locked by a password. Open it, save it as XLSX without a "
            "password (or as CSV), and try again."
        )
    if data.startswith(b"PK"):
        return read_xlsx(data, name, sheet, progress)
    if data.startswith(b"%PDF"):
        raise SheetError(f"{name} is a PDF, not a table. Bring the register as XLSX or CSV.")
    return read_csv(data, name)


def cell_safe_for_sheet(text: str) -> str:
    """`text` as it may stand in a CSV cell: what a spreadsheet would run as a formula gets an apostrophe.

    Guards texts that begin (after spaces) with = + - @, their wide forms, tab or line break. Plain numbers
    such as -14.2 stay numbers.
    """
    if text.lstrip(" ").startswith(_DANGEROUS) and not _PLAIN_NUMBER.fullmatch(text):
        return "'" + text
    return text
