"""`oakum dig ...`: squares, spits with their levels, hours, what was taken out, and the size of an airlift."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.where import By, Project, opened

if TYPE_CHECKING:
    from oakum.desk.seabed.dig import SquareAnswer
    from oakum.record import Logbook
    from oakum.seabed.dig import Sizing

Corner = Annotated[
    list[str],
    Parameter(
        name="--corner", help='A corner, once each in order round it: --corner "A 0 0" or "A mark D4".'
    ),
]
Read = Annotated[
    list[str],
    Parameter(
        name="--level", help='A place and how far down: --level "A 1.25", "middle 1.31", "0.5, 1.2 1.40".'
    ),
]


def square(
    name: str,
    *,
    corner: Corner,
    planned_depth: Annotated[str, Parameter(help="How deep it is to go, as '60 cm'.")] = "",
    note: str = "",
    reason: Annotated[str, Parameter(help="Why it changes, where the square is there already.")] = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Set out a square.

    Parameters
    ----------
    name
        As on its label.
    """
    from oakum.desk.seabed.dig_entering import enter_square

    typed = {"name": name, "corners": "\n".join(corner), "planned_depth": planned_depth, "note": note}
    with opened(project) as logbook:
        entry = enter_square(logbook, typed, author=by, reason=reason)
        print("Nothing changed." if entry is None else f"Square {name} is set out. Entry {entry.id}.")


def spit(
    square: str,
    spit: str,
    stage: str,
    *,
    level: Read,
    down_from: Annotated[
        str, Parameter(name="--from", help="What they were read down from: a datum, or water.")
    ] = "",
    zero: Annotated[str, Parameter(help="Its height on the site, as '-12.40 m'.")] = "",
    sd: Annotated[str, Parameter(help="± of one level, as '1 cm'.")] = "",
    bias: Annotated[str, Parameter(help="± that all levels share between before and after, as '5 cm'.")] = "",
    on: Annotated[str, Parameter(help="The day, as 2026-06-12.")] = "",
    read_by: Annotated[str, Parameter(help="Who read them: a person's id or a role.")] = "",
    note: str = "",
    reason: Annotated[str, Parameter(help="Why it changes, where this was entered before.")] = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Enter the levels before or after a spit.

    Parameters
    ----------
    square
        The square, by its name.
    spit
        The spit, counted from the top.
    stage
        "before" or "after" it was dug.
    """
    from oakum.desk.seabed.dig_entering import enter_levels

    typed = {
        "square": square,
        "spit": spit,
        "stage": {"before": "top", "after": "bottom"}.get(stage, stage),
        "from": down_from,
        "zero": zero,
        "on": on,
        "by": read_by,
        "levels": "\n".join(level),
        "sd": sd,
        "bias": bias,
        "note": note,
    }
    with opened(project) as logbook:
        entry = enter_levels(logbook, typed, author=by, reason=reason)
        said = (
            f"{len(level)} levels {stage} spit {spit} of {square}. Entry {entry.id}."
            if entry
            else "Nothing changed."
        )
        print(said)


def hours(
    on: str,
    hours: str,
    *,
    dive: str = "",
    square: str = "",
    spit: str = "",
    divers: str = "",
    buckets: str = "",
    litres: Annotated[str, Parameter(help="What one bucket holds.")] = "",
    task: str = "",
    note: str = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Enter the diver-hours of a dive, and its buckets.

    Parameters
    ----------
    on
        The day, as 2026-06-12.
    hours
        All divers together: 1.67, or "100 min".
    """
    from oakum.desk.seabed.dig_entering import enter_hours

    typed = {"on": on, "hours": hours, "dive": dive, "square": square, "spit": spit, "divers": divers}
    typed |= {"buckets": buckets, "litres": litres, "task": task, "note": note}
    with opened(project) as logbook:
        entry = enter_hours(logbook, typed, author=by)
        print(f"{entry.body['hours']} diver-hours on {on}. Entry {entry.id}.")


def show(
    square: str = "",
    *,
    as_json: Annotated[bool, Parameter(name="--json", help="As plain data, SI units in its keys.")] = False,
    svg: Annotated[Path | None, Parameter(help="Write the plan of the square into this file.")] = None,
    project: Project = None,
) -> None:
    """Show what was taken out of every square, or of one; the season; what is open.

    Parameters
    ----------
    square
        One square, by its name; without it all.
    """
    from oakum.cli.dig_terminal import print_season, print_square
    from oakum.desk.seabed.dig import dig_of
    from oakum.desk.seabed.dig_json import dig_dict, square_dict
    from oakum.ground.errors import OakumError

    with opened(project, read_only=True) as logbook:
        answer = dig_of(logbook)
        one = answer.square(square) if square else None
        if square and one is None:
            names = ", ".join(each.name for each in answer.squares) or "none yet"
            raise OakumError(f"There is no square {square}; there are: {names}.")
        if svg is not None:
            if one is None:
                raise OakumError("Say which square is to be drawn: oakum dig show SQUARE --svg FILE.")
            _write_plan(logbook, one, svg)
        if as_json:
            print(json.dumps(square_dict(one) if one else dig_dict(answer), indent=2, ensure_ascii=False))
            return
        if not answer.squares:
            print("No square is set out. Next: oakum dig square NAME --corner ...")
            return
        for each in (one,) if one else answer.squares:
            print_square(each)
        if one is None:
            print_season(answer.season)
        spits = one.spits if one else ()
        for objection in answer.objections if one is None else [said for s in spits for said in s.objections]:
            print(f"objection: {objection}")
        for question in (
            answer.open_questions if one is None else [said for s in spits for said in s.open_questions]
        ):
            print(f"open question: {question}")
        for caution in answer.cautions:
            print(caution)


def strike(entry: str, reason: str, *, by: By = "recorder", project: Project = None) -> None:
    """Strike out an entry of the dig; it stays in the logbook with the reason.

    Parameters
    ----------
    entry
        Its id, as `oakum dig show --json` and the pages give it.
    reason
        Why it no longer counts.
    """
    from oakum.desk.seabed.dig_entering import strike as strike_out

    with opened(project) as logbook:
        strike_out(logbook, entry, reason, author=by)
        print(f"Struck out {entry}.")


def airlift(
    bore: str,
    depth: str,
    *,
    freeboard: Annotated[
        str, Parameter(help="Outlet above water; 0 where it discharges under water.")
    ] = "0 m",
    air: Annotated[str, Parameter(help="Free air of the compressor, m3 a minute.")] = "",
    pressure: Annotated[str, Parameter(help="Its pressure over atmosphere, as '7 bar'.")] = "",
    as_json: Annotated[bool, Parameter(name="--json", help="As plain data.")] = False,
) -> None:
    """Size an airlift as an order of magnitude.

    Parameters
    ----------
    bore
        Of the pipe, with its unit: "110 mm".
    depth
        Of the injector under water: "14 m".
    """
    from oakum.desk.seabed.dig_tools import airlift_typed

    typed = {"bore": bore, "depth": depth, "freeboard": freeboard, "air": air, "pressure": pressure}
    _sized(airlift_typed(typed), as_json)


def dredge(
    bore: str,
    hose: str,
    pump: str,
    *,
    rise: Annotated[str, Parameter(help="From mouth to outlet.")] = "0 m",
    freeboard: Annotated[
        str, Parameter(help="Outlet above water; 0 where it discharges under water.")
    ] = "0 m",
    delivers: Annotated[str, Parameter(help="Delivery of the pump at that pressure, m3 an hour.")] = "",
    as_json: Annotated[bool, Parameter(name="--json", help="As plain data.")] = False,
) -> None:
    """Size a water dredge as an order of magnitude.

    Parameters
    ----------
    bore
        Of the hose, with its unit: "100 mm".
    hose
        Suction and discharge together: "20 m".
    pump
        Pressure of the pump at the nozzle: "6 bar".
    """
    from oakum.desk.seabed.dig_tools import dredge_typed

    typed = {
        "bore": bore,
        "hose": hose,
        "rise": rise,
        "pump": pump,
        "freeboard": freeboard,
        "delivers": delivers,
    }
    _sized(dredge_typed(typed), as_json)


def _sized(sizing: Sizing, as_json: bool) -> None:
    from oakum.cli.dig_terminal import print_sizing
    from oakum.desk.seabed.dig_json import sizing_dict

    if as_json:
        print(json.dumps(sizing_dict(sizing), indent=2, ensure_ascii=False))
    else:
        print_sizing(sizing)


def _write_plan(logbook: Logbook, square: SquareAnswer, path: Path) -> None:
    from oakum.cli.paper import write_pdf
    from oakum.desk.seabed.dig_drawn import beds_of, contours_of, zero_of
    from oakum.desk.seabed.dig_facts import marks_of
    from oakum.draw.dig_square import Depths, square_plan
    from oakum.draw.theme import PRINT
    from oakum.ground.errors import OakumError

    if square.where is None:
        raise OakumError(f"Square {square.name} cannot be drawn: {square.refused}.")
    beds = beds_of(square, marks_of(logbook))
    lines, words = contours_of(beds[-1], square, None) if beds else ((), "")
    depths = Depths(beds[0].levels if beds else (), beds[-1].levels if len(beds) > 1 else (), zero_of(square))
    drawn = square_plan(square.name, square.where, depths, lines, theme=PRINT, said=words)
    write_pdf(path, drawn.encode())
