"""`oakum find ...`: the register of finds."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from oakum.cli.where import By, Project, opened


def add(
    title: str,
    *,
    by: By = "recorder",
    project: Project = None,
    number: Annotated[
        str | None, Parameter(help="A number of this station's block; else the next one.")
    ] = None,
    fields: Annotated[
        dict[str, str] | None,
        Parameter(name="--set", help="More fields: --set.material oak --set.length '4 ft 3 1/2 in'"),
    ] = None,
) -> None:
    """Enter a find; it gets the next number with a check character.

    Parameters
    ----------
    title
        What it is: jar, plank, concretion.
    """
    from oakum.desk.finds.entering import add_find

    with opened(project) as logbook:
        find = add_find(logbook, {"title": title, **(fields or {})}, author=by, number=number)
        print(f"{find.number}  {find.title}")


def list_(words: str = "", *, project: Project = None, limit: int = 50) -> None:
    """List the finds, all or those that hold every word given."""
    from rich.console import Console
    from rich.table import Table

    with opened(project, read_only=True) as logbook:
        page = logbook.finds(words, limit=limit)
    table = Table("number", "what", "material", "count", box=None, pad_edge=False)
    for line in page.lines:
        table.add_row(
            line.number or "", line.title or "not known", line.material or "not known", str(line.count)
        )
    Console().print(table if page.lines else "No find holds these words.")
    if page.after is not None:
        print(f"... and more; narrow the words or raise --limit ({limit}).")


def show(number: str, *, project: Project = None) -> None:
    """Show what the logbook says of a find, and how it came to say it.

    Parameters
    ----------
    number
        Its number (with or without check character), an earlier number, or its id.
    """
    with opened(project, read_only=True) as logbook:
        find = logbook.find(number)
        print(f"{find.number or find.id}  {find.title}" + ("  (struck out)" if find.is_struck else ""))
        for field, heads in find.heads.items():
            texts = dict.fromkeys(_shown(head.value) for head in heads)
            print(
                f"  {field.replace('_', ' ')}: {' | '.join(texts)}" + ("   <- open" if len(texts) > 1 else "")
            )
        for reading in find.readings:
            by = reading.instrument or "instrument not known"
            print(f"  {reading.quantity}, {reading.state}: {reading.text} ({by})")
        for question in logbook.open_questions(find.id):
            print(f"  open question: {question.words()}")
        print(f"  {len(find.history)} entries; oakum log list --about {find.number or find.id}")


def change(
    number: str, field: str, value: str, *, reason: str = "", by: By = "recorder", project: Project = None
) -> None:
    """Say something new about a find. What stood there stays in the logbook, replaced with a reason.

    Parameters
    ----------
    number
        The find.
    field
        Which field, such as material, length, place.
    value
        What holds now; empty for "not known".
    reason
        Why the old value is wrong; needed where there was one.
    """
    from oakum.desk.finds.entering import change_field

    with opened(project) as logbook:
        find = logbook.find(number)
        entry = change_field(logbook, find.id, field.replace(" ", "_"), value, author=by, reason=reason)
        print("Nothing changed." if entry is None else f"Entered {entry.id} over {len(entry.over)} earlier.")


def import_register(
    file: Path,
    *,
    sheet: str | None = None,
    column: Annotated[
        dict[str, str] | None,
        Parameter(help="Give a column to a field: --column.B number; 'ignore' leaves it out."),
    ] = None,
    accept: Annotated[
        bool, Parameter(help="Enter the rows that are ready. Without it nothing is entered.")
    ] = False,
    look: Annotated[
        bool, Parameter(help="With --accept: also enter rows marked 'look', their text kept.")
    ] = False,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Read the club's finds register (CSV or XLSX) and show a message a row; nothing enters without --accept.

    Parameters
    ----------
    file
        The register.
    sheet
        Which sheet of a workbook.
    """
    from oakum.cli.paper import read_bytes
    from oakum.cli.progress import progress
    from oakum.desk.finds.register_import import accept_rows, propose

    data = read_bytes(file)
    with opened(project, read_only=not accept) as logbook:
        with progress("reading") as step:
            proposal = propose(logbook, data, file.name, sheet=sheet, mapping=column, report=step)
        for row in proposal.rows:
            if row.messages:
                print(f"row {row.row}: {row.status}: {'; '.join(row.messages)}")
        for note in proposal.notes:
            print(note)
        print(proposal.words())
        if not accept:
            print("Nothing was entered. Add --accept to enter the rows that are ready.")
            return
        with progress("entering") as step:
            entries = accept_rows(logbook, proposal, data, file.name, author=by, with_look=look, report=step)
        print(f"Entered {sum(entry.kind == 'find.entered' for entry in entries)} finds.")


def _shown(value: object) -> str:
    if isinstance(value, dict):
        value = value.get("text", value)
    if isinstance(value, list | tuple):
        return "; ".join(str(v) for v in value)
    return "not known" if value is None else str(value)


def slips(
    file: Path,
    *,
    count: Annotated[int, Parameter(help="How many slips, 1 to 200.")] = 6,
    project: Project = None,
) -> None:
    """Write intake slips with the next numbers of this station as a PDF to print on waterproof film.

    The numbers are not taken by printing: enter each find with `--number` from its slip.

    Parameters
    ----------
    file
        The PDF to write.
    """
    from datetime import date

    from oakum.cli.paper import write_pdf
    from oakum.ground.errors import OakumError
    from oakum.report import intake_slip_pdf

    if not 1 <= count <= 200:
        raise OakumError(f"--count {count}: expected 1 to 200.")
    with opened(project, read_only=True) as logbook:
        numbers = logbook.next_numbers(count)
    write_pdf(file, intake_slip_pdf(numbers, date=date.today()))
    print(
        f"Wrote {file}: {numbers[0]} to {numbers[-1]}. Print it on waterproof film; test the ink by soaking it."
    )
