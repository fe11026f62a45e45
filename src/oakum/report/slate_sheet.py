"""Sheets for the slate: pairs to tape, marks to read the depth of; A5 or A4, for waterproof film.

Black only, words of at least 14 points, values of at least 20, boxes at least 12 mm high. The entry page asks for the
same four fields in the same order.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from oakum.report.pdf import SheetError, compile_pdf

ROWS = {"a5": 10, "a4": 16}
"""How many readings a page has room for."""

LONGEST_NAME = 12
MOST_ROWS = 200


@dataclass(frozen=True, slots=True)
class TapeLine:
    """A pair to tape. `about_m` is the length to expect, so that a diver sees a slip at once; None: not known."""

    a: str = ""
    b: str = ""
    about_m: float | None = None


def tape_sheet_pdf(
    lines: Sequence[TapeLine],
    *,
    date: datetime.date,
    paper: str = "a5",
    title: str = "",
    expected: bool = False,
    demo: bool = False,
) -> bytes:
    """Return the tape sheet: a line a pair, empty lines to the end of the page.

    With `expected` the length to expect stands small beside the pair: a diver then notices a misread metre, but may
    also read what is written there; without it every reading is blind. `date` is that of the print.
    """
    columns = [
        {"label": "from", "width": "2.5fr"},
        {"label": "to", "width": "2.5fr"},
        {"label": "reading", "width": "2.8fr"},
        {"label": "tape", "width": "1.2fr"},
    ]
    cells = []
    for line in lines:
        about = f"about {line.about_m:.1f}" if expected and line.about_m is not None else ""
        cells.append([{"value": _name(line.a)}, {"value": _name(line.b)}, {"hint": about}, {}])
    return _sheet("Tape sheet", title, columns, cells, date, paper, demo)


def depth_sheet_pdf(
    marks: Sequence[str],
    *,
    date: datetime.date,
    paper: str = "a5",
    title: str = "",
    bench: str = "",
    demo: bool = False,
) -> bytes:
    """Return the depth sheet: a line a mark; the bench mark, where there is one, stands first and last."""
    columns = [
        {"label": "mark", "width": "2.6fr"},
        {"label": "depth", "width": "2.4fr"},
        {"label": "time", "width": "2fr"},
        {"label": "gauge", "width": "1.6fr"},
    ]
    names = [bench, *(name for name in marks if name != bench), bench] if bench else list(marks)
    cells: list[list[dict[str, str]]] = [[{"value": _name(name)}, {}, {}, {}] for name in names]
    return _sheet("Depth sheet", title, columns, cells, date, paper, demo)


def _sheet(
    kind: str,
    title: str,
    columns: list[dict[str, str]],
    cells: list[list[dict[str, str]]],
    date: datetime.date,
    paper: str,
    demo: bool,
) -> bytes:
    if paper not in ROWS:
        raise SheetError(f"sheets for the slate are printed on {' or '.join(ROWS)}, not {paper!r}")
    if len(cells) > MOST_ROWS:
        raise SheetError(f"{len(cells)} lines are more than {MOST_ROWS}; print several sheets")
    rows = ROWS[paper]
    blank: list[dict[str, str]] = [{} for _ in columns]
    pages = [cells[at : at + rows] for at in range(0, len(cells), rows)] or [[]]
    data: dict[str, Any] = {
        "kind": kind,
        "title": title,
        "paper": paper,
        "columns": columns,
        "pages": [page + [blank] * (rows - len(page)) for page in pages],
        "demo": "Invented: practice only." if demo else "",
    }
    return compile_pdf("slate_sheet", data, date=date)


def _name(text: str) -> str:
    if len(text) > LONGEST_NAME:
        raise SheetError(f"the mark {text!r} has more than {LONGEST_NAME} characters; it does not fit a slate")
    return text
