"""`oakum plan brief|release|done|abandon`: moving a plan on."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from cyclopts import Parameter

from oakum.cli.plan import On
from oakum.cli.where import Project, opened

Named = Annotated[str, Parameter(name="--by", help="The id of a named person (p-...).")]


def brief(number: str, *, by: Named, on: On = None, note: str = "", project: Project = None) -> None:
    """Enter that the plan of a find was briefed as it stands now.

    Parameters
    ----------
    number
        The find.
    note
        Who was there, what was asked.
    """
    from oakum.desk.lifts.plan_stages import brief as enter

    with opened(project) as logbook:
        enter(logbook, number, on=on or date.today(), author=by, note=note)
        print("Briefed. Two different named people release it: oakum plan release")


def release(
    number: str,
    *,
    by: Named,
    on: On = None,
    despite: Annotated[str, Parameter(help="While objections stand: why it is released all the same.")] = "",
    note: str = "",
    project: Project = None,
) -> None:
    """Release a briefed plan as one of two named people; the second, different one completes it.

    Parameters
    ----------
    number
        The find.
    note
        What else is to be kept with it.
    """
    from oakum.desk.lifts.plan import plan_find
    from oakum.desk.lifts.plan_stages import release as enter

    day = on or date.today()
    with opened(project) as logbook:
        enter(logbook, number, on=day, author=by, despite=despite, note=note)
        stage = plan_find(logbook, number, on=day, with_helps=False).plan.stage
        print(
            "Released by two named people."
            if stage == "released"
            else "Entered; a second named person completes it."
        )


def done(number: str, *, by: Named, on: On = None, note: str = "", project: Project = None) -> None:
    """Enter that the lift was done.

    Parameters
    ----------
    number
        The find.
    note
        Needed where the plan was not released: why it was lifted all the same.
    """
    from oakum.desk.lifts.plan_stages import finish

    with opened(project) as logbook:
        finish(logbook, number, on=on or date.today(), author=by, note=note)
        print("Done. Enter readings, minutes and what broke: oakum plan reading, minutes, event")


def abandon(number: str, why: str, *, by: Named, note: str = "", project: Project = None) -> None:
    """Enter that the lift is given up; a new briefing begins a new one.

    Parameters
    ----------
    number
        The find.
    why
        Why; the next lift wants to know.
    note
        What else is to be kept with it.
    """
    from oakum.desk.lifts.plan_stages import abandon as enter

    with opened(project) as logbook:
        enter(logbook, number, why, author=by, note=note)
        print("Abandoned.")
