"""`oakum plan ...`: the plan of a find's lift, its sheets and its stages."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.where import By, Project, opened

if TYPE_CHECKING:
    from oakum.lift.raising import RaisingPlan
    from oakum.lift.vessel import VesselPapers

On = Annotated[
    date | None,
    Parameter(help="The day of the lift, YYYY-MM-DD: papers are looked at for it; today if left out."),
]


def show(
    target: str,
    *,
    body: Annotated[Path | None, Parameter(help="With a rig file instead of a find: the body file.")] = None,
    vessel: Annotated[
        Path | None, Parameter(help="With a rig file: the vessel file, its tables beside it.")
    ] = None,
    cradle: Annotated[Path | None, Parameter(help="With a rig file: the cradle file.")] = None,
    on: On = None,
    json: Annotated[bool, Parameter(help="Print the plan as JSON.")] = False,
    deck: Annotated[Path | None, Parameter(help="Write the deck sheet to this file.")] = None,
    cards: Annotated[Path | None, Parameter(help="Write the card of every role to this file.")] = None,
    file: Annotated[Path | None, Parameter(help="Write the file of the plan to this file.")] = None,
    project: Project = None,
) -> None:
    """Plan the lift of a find, or of a body file with a rig file, and print the plan.

    Parameters
    ----------
    target
        The number of a find, or a rig file (.toml) with --body.
    """
    from oakum.cli.paper import write_pdf
    from oakum.desk.demo.project import is_demo
    from oakum.desk.lifts.plan import plan_find
    from oakum.desk.lifts.sea_run_kept import kept_run
    from oakum.ground.errors import OakumError

    day = on or date.today()
    names: dict[str, str] = {}
    demo = fit = False
    seas = None
    if target.endswith(".toml"):
        if body is None:
            raise OakumError("A rig file needs its body: oakum plan show rig.toml --body capstan.toml")
        plan = _plan_files(Path(target), body, day, vessel, cradle)
    elif body or vessel or cradle:
        raise OakumError(
            "A find has its body, vessel and cradle in the logbook: leave out --body, --vessel and --cradle."
        )
    else:
        with opened(project, read_only=True) as logbook:
            answer = plan_find(logbook, target, on=day)
            plan = answer.plan
            seas = kept_run(logbook.folder, answer)
            fit = seas is not None and seas.fits(answer)
            names = {person.id: person.name for person in logbook.people()}
            demo = is_demo(logbook)
    if deck or cards or file:
        from oakum.report import deck_sheet_pdf, plan_file_pdf, role_cards_pdf

        today = date.today()
        if deck:
            write_pdf(deck, deck_sheet_pdf(plan, date=today, demo=demo))
        if cards:
            write_pdf(cards, role_cards_pdf(plan, date=today, names=names, demo=demo))
        if file:
            pdf = plan_file_pdf(plan, date=today, names=names, seas=seas, seas_fit=fit, demo=demo)
            write_pdf(file, pdf)
    if json:
        from json import dumps

        from oakum.lift.raising import plan_dict

        print(dumps(plan_dict(plan), indent=2, ensure_ascii=False))
    else:
        from rich.console import Console

        from oakum.report import render_plan

        render_plan(plan, Console(), names=names, demo=demo)


def _plan_files(
    rig_path: Path, body_path: Path, day: date, vessel: Path | None, cradle: Path | None
) -> RaisingPlan:
    from oakum.cli.paper import read_text
    from oakum.desk.lifts.weigh import weighing_text
    from oakum.lift.cradle import parse_cradle
    from oakum.lift.raising import PlanContext, parse_rig, raising_plan

    rig = parse_rig(read_text(rig_path), name=rig_path.name)
    carries = None if cradle is None else parse_cradle(read_text(cradle), name=cradle.name)
    weighing = weighing_text(read_text(body_path), name=body_path.name, cradle=carries)
    papers = None if vessel is None else _papers(vessel)
    return raising_plan(weighing, rig, PlanContext(on=day.isoformat(), vessel=papers, cradle=carries))


def _papers(path: Path) -> VesselPapers:
    from oakum.cli.paper import read_bytes, read_text
    from oakum.lift.vessel import parse_vessel, vessel_files

    text = read_text(path)
    beside = {name: path.parent / name for name in vessel_files(text)}
    tables = {name: read_bytes(place) for name, place in beside.items() if place.is_file()}
    return parse_vessel(text, tables, path.name)


def rig(number: str, file: Path, *, reason: str = "", by: By = "director", project: Project = None) -> None:
    """Give a find its rig from a rig file; over the one it has, with a reason.

    Parameters
    ----------
    number
        The find.
    file
        The rig file.
    reason
        Why the rig changes, where the find has one. A change withdraws a release.
    """
    from oakum.cli.paper import read_text
    from oakum.desk.lifts.rigs import keep_rig

    text = read_text(file)
    with opened(project) as logbook:
        find = logbook.find(number)
        entry = keep_rig(logbook, find.id, text, author=by, reason=reason)
        print(f"Entered {entry.id}. Plan it: oakum plan show {find.number or find.id}")


def role(
    number: str,
    name: str,
    person: str,
    *,
    confirmed: bool | None = None,
    in_water: bool | None = None,
    reason: str = "",
    by: By = "director",
    project: Project = None,
) -> None:
    """Say who holds a role of the lift. What is left out is not known, and the plan objects.

    Parameters
    ----------
    number
        The find.
    name
        The role, such as lift leader.
    person
        The id of the person (p-...).
    confirmed
        Whether the person has confirmed it.
    in_water
        Whether the role is in the water before the crossing of the surface.
    reason
        Why, where somebody else held it.
    """
    from oakum.desk.people import give_role

    with opened(project) as logbook:
        find = logbook.find(number)
        entry = give_role(
            logbook, find.id, name, person, author=by, confirmed=confirmed, in_water=in_water, reason=reason
        )
        print("Nothing changed." if entry is None else f"Entered {entry.id}.")


def hazard(
    number: str,
    key: str,
    answer: str,
    *,
    person: Annotated[str | None, Parameter(help="The named competent person who says so (p-...).")] = None,
    said_on: Annotated[date | None, Parameter(help="When they said so, YYYY-MM-DD.")] = None,
    note: str = "",
    paper: Annotated[Path | None, Parameter(help="Their report, kept with the find.")] = None,
    reason: str = "",
    by: By = "director",
    project: Project = None,
) -> None:
    """Keep what a named competent person says of a hazard: charge, pressure, gas, remains, venerated.

    Parameters
    ----------
    number
        The find.
    key
        Which hazard.
    answer
        excluded, present, authorised, not known, does not apply.
    note
        What it rests on.
    reason
        Why, where something else was said before.
    """
    from oakum.cli.paper import read_bytes
    from oakum.desk.lifts.hazards import answer_hazard

    report = (paper.name, read_bytes(paper)) if paper else None
    day = said_on.isoformat() if said_on else None
    with opened(project) as logbook:
        find = logbook.find(number)
        entry = answer_hazard(
            logbook,
            find.id,
            key,
            answer,
            author=by,
            by=person,
            on=day,
            note=note,
            paper=report,
            reason=reason,
        )
        print("Nothing changed." if entry is None else f"Entered {entry.id}.")


def decide(
    number: str,
    because: str,
    *,
    person: Annotated[str, Parameter(help="The named person who decided (p-...).")],
    decided_on: Annotated[date, Parameter(help="When, YYYY-MM-DD.")],
    alternatives: str = "",
    reason: str = "",
    by: By = "director",
    project: Project = None,
) -> None:
    """Record why a find is not left where it is.

    Parameters
    ----------
    number
        The find.
    because
        Why it is raised.
    alternatives
        What else was considered.
    reason
        Why, where something else was decided before.
    """
    from oakum.desk.lifts.hazards import decide_to_raise

    with opened(project) as logbook:
        entry = decide_to_raise(
            logbook,
            logbook.find(number).id,
            because,
            by=person,
            on=decided_on.isoformat(),
            author=by,
            alternatives=alternatives,
            reason=reason,
        )
        print("Nothing changed." if entry is None else f"Entered {entry.id}.")
