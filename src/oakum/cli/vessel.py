"""`oakum vessel ...`: the vessels a lift may be made from."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.where import By, Project, opened

if TYPE_CHECKING:
    from collections.abc import Sequence

    from oakum.desk.lifts.vessel_facts import Fact
    from oakum.draw import Rows


def add(
    file: Path,
    *,
    change: Annotated[str, Parameter(help="The vessel whose papers these correct, by its title.")] = "",
    reason: Annotated[str, Parameter(help="Why they change; needed with --change.")] = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Enter a vessel from a vessel file; its tables (CSV) lie beside it.

    Parameters
    ----------
    file
        The vessel file (TOML).
    """
    from oakum.cli.paper import read_bytes
    from oakum.desk.lifts.vessels import enter_vessel
    from oakum.lift.vessel import vessel_files
    from oakum.lift.vessel.file_problems import table_text

    text = table_text(read_bytes(file), file.name)
    beside = {name: file.parent / name for name in vessel_files(text) if Path(name).name == name}
    tables = {name: read_bytes(path) for name, path in beside.items() if path.is_file()}
    with opened(project) as logbook:
        entry = enter_vessel(logbook, text, tables, author=by, reason=reason, over=change or None)
        print(f"Entered {entry.body['title']} with {len(entry.body['files'])} tables. Entry {entry.id}.")


def list_(*, project: Project = None) -> None:
    """List the vessels with what is open about each."""
    from oakum.desk.lifts.vessels import vessel_questions, vessels

    with opened(project, read_only=True) as logbook:
        held = vessels(logbook)
        for one in held:
            count = len(vessel_questions(logbook, one.id))
            print(
                f"{one.title} ({one.id}): {len(one.files)} tables{f'; {count} open questions' if count else ''}"
            )
    if not held:
        print("No vessel is entered. Next: oakum vessel add FILE")


def show(name: str, *, project: Project = None) -> None:
    """Show what the papers of a vessel say, and what they leave open.

    Parameters
    ----------
    name
        Its title, or its id.
    """
    from rich.console import Console

    from oakum.desk.lifts.vessel_facts import book_facts, chart_facts, facts_of, not_known
    from oakum.desk.lifts.vessels import papers_of, vessel_questions
    from oakum.draw.load_chart import load_chart_rows, note_rows
    from oakum.draw.motions import motions_rows
    from oakum.lift.checks import WHO_GOVERNS

    console = Console()
    with opened(project, read_only=True) as logbook:
        papers = papers_of(logbook, name)
        questions = [question.words() for question in vessel_questions(logbook, name)]
    console.print(papers.title, style="bold", markup=False)
    console.print(_facts_table("particulars", facts_of(papers)))
    console.print(_facts_table("stability book", book_facts(papers)))
    for chart in papers.charts:
        console.print(_facts_table(f"load chart: {chart.name}", chart_facts(chart)))
        console.print(_rows_table(load_chart_rows(chart)))
        for row, why in note_rows(chart).lines:
            console.print(f"{row}: {why}", markup=False)
    for motions in papers.motions:
        console.print(_rows_table(motions_rows(motions)))
    for objection in not_known(papers):
        print(f"objection: {objection}")
    for question in (*questions, *papers.questions):
        print(f"open question: {question}")
    if papers.mark:
        print(f"mark: {papers.mark}")
    print(WHO_GOVERNS)


def chart(
    name: str,
    *,
    radius: Annotated[str, Parameter(help="Radius upright, with its unit: '4.5 m', '15 ft'.")],
    project: Project = None,
) -> int:
    """Read every load chart of a vessel at a radius; nothing is read outside a chart or in its gaps.

    Parameters
    ----------
    name
        The vessel.
    """
    from oakum.desk.lifts.vessel_facts import charts_at, head_words
    from oakum.desk.lifts.vessels import papers_of
    from oakum.lift.vessel import VesselError

    with opened(project, read_only=True) as logbook:
        papers = papers_of(logbook, name)
    try:
        found = charts_at(papers, radius)
    except ValueError as error:
        raise VesselError(f"--radius: {error}") from None
    for one in found:
        print(one.words)
    if not found:
        print("objection: no load chart: what crane or derrick bears is not known")
    elif said := head_words(papers, found[0].radius_m):
        print(f"{said[0].upper()}{said[1:]}; a heel makes the radius longer.")
    return 0 if found and all(one.load_kg is not None for one in found) else 1


def strike(name: str, *, reason: str, by: By = "recorder", project: Project = None) -> None:
    """Strike a vessel out; her papers stay in the logbook.

    Parameters
    ----------
    name
        Its title, or its id where two carry one title.
    reason
        Why: entered twice, never used.
    """
    from oakum.desk.lifts.vessels import strike_vessel

    with opened(project) as logbook:
        print(f"Struck out. Entry {strike_vessel(logbook, name, reason, author=by).id}.")


def _facts_table(title: str, facts: Sequence[Fact]) -> object:
    from rich.table import Table
    from rich.text import Text

    table = Table(title, "", box=None, pad_edge=False)
    for fact in facts:
        table.add_row(fact.label, Text(fact.words or "not known"))
    if not facts:
        table.add_row("nothing is quoted", "")
    return table


def _rows_table(rows: Rows) -> object:
    from rich.table import Table
    from rich.text import Text

    table = Table(*rows.head, box=None, pad_edge=False, title=Text(rows.caption), title_justify="left")
    for line in rows.lines:
        table.add_row(*(Text(cell) for cell in line))
    return table
