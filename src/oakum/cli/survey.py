"""`oakum survey ...`: readings in, the plan out, what to doubt, what to tape next."""

from __future__ import annotations

import time
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.where import By, Project, opened

if TYPE_CHECKING:
    from oakum.desk.seabed.bringing import Brought
    from oakum.record import Logbook

Accept = Annotated[bool, Parameter(help="Enter the readings that are ready. Without it nothing is entered.")]
Look = Annotated[bool, Parameter(help="With --accept: also those marked 'look', each with its doubt beside it.")]
OneMark = Annotated[
    dict[str, str] | None,
    Parameter(name="--one-mark", help="Spellings that are one mark: --one-mark.A1 'a1, A 1'."),
]


def enter(
    *lines: str,
    file: Annotated[Path | None, Parameter(help="A page of lines to read instead.")] = None,
    day: Annotated[str, Parameter(help="The day it was read, as 2026-06-12.")] = "",
    read_by: Annotated[str, Parameter(help="Who read it: a person's id or a role.")] = "diver",
    dive: str = "",
    one_mark: OneMark = None,
    accept: Accept = False,
    look: Look = False,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Read lines as they stand in a notebook and hold each against what is known.

    A tape is 'A1 B2 12.34' or '12,34 a1-b2', a depth 'B2 d 13.2 10:42', a level 'A1 B2 level -0.12', a bearing
    'A1 B2 bearing 123'.

    Parameters
    ----------
    lines
        One reading each.
    dive
        Its number or name.
    """
    from oakum.cli.paper import read_text
    from oakum.desk.seabed.bringing import bring_page, join
    from oakum.desk.seabed.typed import Slate

    text = read_text(file) if file is not None else "\n".join(lines)
    slate = Slate(day=day, zone=_zone(), dive=dive, seen_by=read_by, seen_from="slate")
    with opened(project, read_only=not accept) as logbook:
        brought = bring_page(logbook, text, slate)
        if one_mark:
            brought = join(logbook, brought, _joined(one_mark))
        _take(logbook, brought, accept=accept, look=look, by=by, unit="line")


def import_(
    file: Path,
    *,
    sheet: str | None = None,
    unit: Annotated[str, Parameter(help="Unit of bare lengths in columns without one: m or ft.")] = "",
    one_mark: OneMark = None,
    accept: Accept = False,
    look: Look = False,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Read the club's spreadsheet of readings (CSV or XLSX) and show a message a row.

    Parameters
    ----------
    file
        The spreadsheet.
    sheet
        Which sheet of a workbook.
    """
    from oakum.cli.paper import read_bytes
    from oakum.desk.seabed.bringing import bring_sheet, join
    from oakum.desk.seabed.typed import Slate

    data = read_bytes(file)
    with opened(project, read_only=not accept) as logbook:
        slate = Slate(zone=_zone(), seen_from="sheet")
        brought = bring_sheet(logbook, data, file.name, slate, unit=unit, sheet=sheet)
        if one_mark:
            brought = join(logbook, brought, _joined(one_mark))
        _take(logbook, brought, accept=accept, look=look, by=by, unit="row")


def show(*, project: Project = None) -> None:
    """Show the places with their ellipses, what holds them, which readings to doubt, and what is open."""
    from rich.console import Console

    from oakum.desk.seabed.survey import survey_of
    from oakum.report.survey_terminal import render_survey

    with opened(project, read_only=True) as logbook:
        render_survey(survey_of(logbook), Console())


def reject(id: str, because: str, *, by: By, project: Project = None) -> None:
    """Set one reading aside, as a named person. It stays on every list and no longer counts.

    Parameters
    ----------
    id
        The reading, such as hut-17; `oakum survey show` names those in doubt.
    because
        Why; the reason stays in the logbook.
    """
    from oakum.desk.seabed.rejecting import reject as set_aside

    with opened(project) as logbook:
        set_aside(logbook, id, because, author=by)
    print(f"Reading {id} is rejected; it stays in the logbook. oakum survey restore {id} takes it back in.")


def restore(id: str, because: str, *, by: By, project: Project = None) -> None:
    """Take one rejected reading back in, as a named person.

    Parameters
    ----------
    id
        The reading.
    because
        Why it counts again.
    """
    from oakum.desk.seabed.rejecting import restore as take_back

    with opened(project) as logbook:
        take_back(logbook, id, because, author=by)
    print(f"Reading {id} counts again.")


def next_(
    *marks: str,
    count: Annotated[int, Parameter(help="How many tapes, 1 to 60.")] = 12,
    longest: Annotated[float, Parameter(help="Longest tape in metres.")] = 15.0,
    project: Project = None,
) -> None:
    """Rank the pairs not taped yet by what they would gain a diver-minute.

    Parameters
    ----------
    marks
        The marks to know better; all where none is given.
    """
    from rich.console import Console

    from oakum.desk.seabed.next_tapes import tapes_for_tomorrow
    from oakum.report.survey_terminal import render_next

    with opened(project, read_only=True) as logbook:
        render_next(tapes_for_tomorrow(logbook, marks=marks, count=count, longest_m=longest), Console())


def sheet(
    file: Path,
    *marks: str,
    kind: Annotated[str, Parameter(help="tape, depth, or empty (a tape sheet without pairs).")] = "tape",
    count: Annotated[int, Parameter(help="How many tapes, 1 to 60.")] = 12,
    longest: Annotated[float, Parameter(help="Longest tape in metres.")] = 15.0,
    paper: Annotated[str, Parameter(help="a5 or a4.")] = "a5",
    expected: Annotated[bool, Parameter(help="Print the length to expect beside each pair.")] = False,
    bench: Annotated[str, Parameter(help="Of a depth sheet: the bench mark, read first and last.")] = "",
    project: Project = None,
) -> None:
    """Write a sheet for the slate as PDF, for waterproof film: tomorrow's pairs, or marks to read the depth of.

    Parameters
    ----------
    file
        The PDF to write.
    marks
        Of a tape sheet the marks to know better, of a depth sheet the marks to read.
    """
    from oakum.cli.paper import write_pdf
    from oakum.desk.demo.project import is_demo
    from oakum.desk.seabed.next_tapes import marks_without_depth, tapes_for_tomorrow
    from oakum.ground.errors import OakumError
    from oakum.report import TapeLine, depth_sheet_pdf, tape_sheet_pdf

    if kind not in ("tape", "depth", "empty"):
        raise OakumError(f"--kind {kind}: expected tape, depth or empty.")
    today = date.today()
    with opened(project, read_only=True) as logbook:
        title, demo = logbook.name, is_demo(logbook)
        if kind == "depth":
            names = marks or marks_without_depth(logbook)
            data = depth_sheet_pdf(names, date=today, paper=paper, title=title, bench=bench, demo=demo)
        else:
            wanted = count if kind == "tape" else 0
            plan = tapes_for_tomorrow(logbook, marks=marks, count=wanted, longest_m=longest) if wanted else None
            lines = [TapeLine(one.a, one.b, one.length_m) for one in plan.tapes] if plan else []
            data = tape_sheet_pdf(lines, date=today, paper=paper, title=title, expected=expected, demo=demo)
    write_pdf(file, data)
    print(f"Wrote {file}. Print it on waterproof film; test the ink by soaking it.")


def _take(logbook: Logbook, brought: Brought, *, accept: bool, look: bool, by: str, unit: str) -> None:
    from rich.console import Console

    from oakum.desk.seabed.bringing import accept as take
    from oakum.report.survey_terminal import render_proposal

    render_proposal(brought.proposal, Console(soft_wrap=True), unit=unit)
    if not accept:
        print("Nothing was entered. Add --accept to enter the readings that are ready.")
        return
    entries = take(logbook, brought, author=by, sure=look)
    print(f"Entered {len(entries)} readings.")


def _joined(one_mark: dict[str, str]) -> dict[str, str]:
    """The name that stands for each spelling."""
    return {spelt.strip(): name for name, several in one_mark.items() for spelt in several.split(",") if spelt.strip()}


def _zone() -> str:
    text = time.strftime("%z")
    return f"{text[:3]}:{text[3:5]}" if len(text) >= 5 else "Z"
