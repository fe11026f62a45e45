"""`oakum plan reading|event|minutes|cell-log|after`: what happened, against the plan."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from oakum.cli.plan import On
from oakum.cli.where import By, Project, opened


def reading(
    number: str,
    load: str,
    *,
    at: Annotated[str, Parameter(help="Local time it was read, such as 2026-07-02T10:20.")],
    zone: Annotated[str, Parameter(help="Z, an offset such as +02:00, or a zone such as Europe/London.")],
    read_by: Annotated[str, Parameter(help="Who read it: a person's id or a role.")],
    height: Annotated[
        str, Parameter(help="Lowest point above the water, '-0.4 m' below it.", allow_leading_hyphen=True)
    ] = "",
    step: str = "",
    instrument: str = "",
    bags_empty: bool | None = None,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Enter what the load cell showed during the lift.

    Parameters
    ----------
    number
        The find.
    load
        What it showed, '452 ± 5 kg'.
    step
        At which step of the plan.
    instrument
        Which load cell.
    bags_empty
        Whether the bags were empty then.
    """
    from oakum.desk.lifts.happening import enter_lift_reading

    with opened(project) as logbook:
        entry = enter_lift_reading(
            logbook,
            logbook.find(number).id,
            load,
            at=at,
            zone=zone,
            by=read_by,
            author=by,
            height=height,
            step=step,
            instrument=instrument,
            bags_empty=bags_empty,
        )
        print(f"Entered {entry.id}.")


def event(
    number: str, text: str, *, step: str = "", gear: str = "", by: By = "recorder", project: Project = None
) -> None:
    """Enter what broke or went otherwise.

    Parameters
    ----------
    number
        The find.
    text
        What happened.
    step
        At which step.
    gear
        With which piece of gear.
    """
    from oakum.desk.lifts.happening import enter_event

    with opened(project) as logbook:
        print(
            f"Entered {enter_event(logbook, logbook.find(number).id, text, author=by, step=step, gear=gear).id}."
        )


def minutes(number: str, step: str, taken: str, *, by: By = "recorder", project: Project = None) -> None:
    """Enter how long a step took; the next plan learns from it.

    Parameters
    ----------
    number
        The find.
    step
        The key of the step, as `oakum plan show --json` names it.
    taken
        How long; a bare number is minutes.
    """
    from oakum.desk.lifts.happening import enter_minutes

    with opened(project) as logbook:
        print(f"Entered {enter_minutes(logbook, logbook.find(number).id, step, taken, author=by).id}.")


def cell_log(
    number: str,
    file: Path,
    *,
    unit: Annotated[str, Parameter(help="The unit of its readings: kg, t, kN, lbf.")],
    instrument: str = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Keep the log of a load cell (CSV); gaps and drift are named, its lines stay in the file.

    Parameters
    ----------
    number
        The find.
    file
        The log.
    instrument
        Which load cell.
    """
    from oakum.cli.paper import read_bytes
    from oakum.desk.lifts.happening import keep_cell_log
    from oakum.lift.raising import log_notes

    data = read_bytes(file)
    with opened(project) as logbook:
        log, entry = keep_cell_log(
            logbook, logbook.find(number).id, file.name, data, unit=unit, author=by, instrument=instrument
        )
        print(f"Entered {entry.id}: {len(log.time_s):,} readings.")
        for note in log_notes(log):
            print(note)


def after(number: str, *, on: On = None, project: Project = None) -> None:
    """Set what happened in the newest lift of a find against the bands of its plan.

    Parameters
    ----------
    number
        The find.
    """
    from oakum.desk.lifts.happened import happened
    from oakum.desk.lifts.plan import plan_find

    with opened(project, read_only=True) as logbook:
        found = happened(
            logbook, plan_find(logbook, number, on=on or date.today(), with_helps=False)
        ).compared
    taken = [row for row in found.minutes if row.taken is not None]
    for line in (*(read.words() for read in found.readings), *(row.words() for row in taken)):
        print(line)
    for broke in found.broke:
        print(f"{broke.step or 'step not known'}: {broke.what}")
    for line in (*found.log_notes, *found.questions):
        print(line)
    if not (found.readings or taken or found.broke or found.log_notes):
        print("Nothing was entered of this lift yet.")
