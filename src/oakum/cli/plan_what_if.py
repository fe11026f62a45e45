"""`oakum plan what-if ...`: the plan with one thing changed, beside the one in the logbook."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.where import By, Project, opened

if TYPE_CHECKING:
    from oakum.lift.raising import RaisingPlan


def what_if(
    number: str,
    *,
    hs: Annotated[str | None, Parameter(help="Significant wave height, such as '0.4 m'.")] = None,
    tz: Annotated[str | None, Parameter(help="Mean period of the waves, such as '5 s'.")] = None,
    heading: Annotated[
        str | None, Parameter(help="Heading to the waves, as the vessel's motions name it.")
    ] = None,
    depth: Annotated[str | None, Parameter(help="Depth of the water at the lift, such as '13.2 m'.")] = None,
    radius: Annotated[
        str | None, Parameter(help="Radius the load chart is read at, such as '4.5 m'.")
    ] = None,
    bags: Annotated[int | None, Parameter(help="How many bags.")] = None,
    hook: Annotated[str | None, Parameter(help="Height of the hook over the topmost attachment.")] = None,
    legs: Annotated[str | None, Parameter(help="Mean length of the legs.")] = None,
    on: Annotated[date | None, Parameter(help="The day of the lift, YYYY-MM-DD; today if left out.")] = None,
    full: Annotated[bool, Parameter(help="Print the whole plan that comes of it.")] = False,
    rig: Annotated[Path | None, Parameter(help="Write the rig text that says the same to this file.")] = None,
    keep: Annotated[
        str, Parameter(help="Enter the changed rig in the logbook, for this reason; it withdraws a release.")
    ] = "",
    by: By = "director",
    project: Project = None,
) -> None:
    """Try the plan of a find otherwise: which objections go, which come. Nothing is entered without --keep.

    Parameters
    ----------
    number
        The find.
    """
    from oakum.desk.lifts.plan import plan_find
    from oakum.desk.lifts.rigs import keep_rig
    from oakum.desk.lifts.what_if import Knobs, rig_text_with
    from oakum.desk.lifts.what_if import what_if as tried_with
    from oakum.ground.errors import OakumError

    asked = Knobs(
        bags=bags,
        hook_m=_metres(hook),
        legs_m=_metres(legs),
        hs_m=_metres(hs),
        tz_s=_read(tz, "time", "s"),
        heading=heading,
        depth_m=_metres(depth),
        radius_m=_metres(radius),
    )
    if asked == Knobs():
        raise OakumError("Say what is to be tried, such as --hs '0.4 m' or --radius '4 m'.")
    with opened(project, read_only=not keep) as logbook:
        kept = plan_find(logbook, number, on=on or date.today(), with_helps=False)
        tried = tried_with(kept, asked)
        for title, lines in (
            ("Changed", tried.changes),
            ("Objections that go", tried.gone),
            ("Objections that come", tried.new),
        ):
            print(f"{title}:" if lines else f"{title}: none")
            for line in lines:
                print(f"  {line}")
        print(f"{len(tried.plan.objections)} objections stand then.")
        if full:
            _print_plan(tried.plan, {person.id: person.name for person in logbook.people()})
        if rig or keep:
            text, _ = rig_text_with(kept, asked)
            if rig:
                rig.write_text(text, encoding="utf-8")
                print(f"Wrote {rig}.")
            if keep:
                entry = keep_rig(logbook, kept.find.id, text, author=by, reason=keep)
                print(f"Entered {entry.id}.")


def _print_plan(plan: RaisingPlan, names: dict[str, str]) -> None:
    from rich.console import Console

    from oakum.report import render_plan

    render_plan(plan, Console(), names=names)


def _metres(text: str | None) -> float | None:
    return _read(text, "length", "m")


def _read(text: str | None, dimension: str, unit: str) -> float | None:
    from oakum.ground.quantities import read

    return None if text is None else read(text, dimension, unit=unit).value
