"""`oakum survey ...`: marks and their spellings, and what is held as known: places, instruments, water, north."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from oakum.cli.where import By, Project, opened

Reason = Annotated[str, Parameter(help="Why it changes; needed where something was said before.")]


def marks(*, project: Project = None) -> None:
    """List the marks with their spellings and what is held of them, and ask about names spelt alike."""
    from rich.console import Console
    from rich.table import Table

    from oakum.desk.seabed.marks import mark_lines, two_names

    with opened(project, read_only=True) as logbook:
        lines, groups = mark_lines(logbook), two_names(logbook)
    table = Table("mark", "also", "what", "readings", "held", box=None, pad_edge=False)
    for line in lines:
        held = " ".join(f"{axis} {line.held[axis]}" for axis in ("x", "y", "z", "sd") if axis in line.held)
        table.add_row(line.name, ", ".join(line.also), line.what or "not said", str(line.readings), held)
    Console().print(table if lines else "No mark is named or read yet.")
    for group in groups:
        first = group.names[0][0]
        rest = ", ".join(name for name, _ in group.names[1:])
        print(f"{group.words()}. If so: oakum survey name '{first}' --also '{rest}'")


def name(
    mark: str,
    *,
    also: Annotated[str, Parameter(help="Other spellings that are this mark, with commas.")] = "",
    what: Annotated[str, Parameter(help="datum, detail or find.")] = "",
    find: Annotated[str, Parameter(help="The find the mark is on, by number.")] = "",
    reason: Reason = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Name a mark, or say more of one: other spellings, what it is, its find.

    Parameters
    ----------
    mark
        The name that stands for the others.
    """
    from oakum.desk.seabed.marks import name_mark

    with opened(project) as logbook:
        entry = name_mark(
            logbook, mark, also=also.split(","), what=what, find=find, reason=reason, author=by
        )
    spelt = ", ".join(entry.body.get("also", ()))
    print(f"{entry.body['name']} is named{f'; also written {spelt}' if spelt else ''}.")


def hold(
    mark: str,
    *,
    x: str = "",
    y: str = "",
    z: str = "",
    sd: Annotated[str, Parameter(help="± of x and y, one standard deviation; without one they are held fast.")] = "",
    sd_z: Annotated[str, Parameter(help="± of z.")] = "",
    source: Annotated[str, Parameter(help="How the place is known.")] = "",
    reason: Reason = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Take the place of a mark as known. A negative number is written --z=-14.2.

    Parameters
    ----------
    mark
        The mark.
    x
        Site east, metres.
    y
        Site north, metres.
    z
        Up, metres: a depth of 14.2 m is -14.2.
    """
    from oakum.desk.seabed.marks import hold_mark

    typed = {"x": x, "y": y, "z": z, "sd": sd, "sd_z": sd_z, "source": source}
    with opened(project) as logbook:
        hold_mark(logbook, mark, typed, reason=reason, author=by)
    print(f"{mark} is held.")


def instrument(
    name: str,
    kind: str,
    *,
    fields: Annotated[
        dict[str, str] | None,
        Parameter(name="--set", help="longest, sd, sd_per_m, scale (per thousand), zero, solve, offset_sd, note."),
    ] = None,
    reason: Reason = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Describe a tape, a gauge or a compass: --set.sd '20 mm' --set.longest '30 m' --set.solve scale.

    Parameters
    ----------
    name
        As on its label, T1.
    kind
        tape, gauge or compass.
    """
    from oakum.desk.seabed.held import describe_instrument

    with opened(project) as logbook:
        describe_instrument(logbook, name, kind, fields or {}, reason=reason, author=by)
    print(f"{name} is described.")


def water(
    *,
    bench: Annotated[str, Parameter(help="The mark read at the beginning and end of a dive.")] = "",
    levels: Annotated[Path | None, Parameter(help="Lines of time and height: 2026-06-12 10:20 0.42.")] = None,
    zone: Annotated[str, Parameter(help="Zone of the times: Z, +01:00, Europe/London.")] = "Z",
    source: str = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Give the water level: a bench mark, or a typed series in heights of the site.

    Parameters
    ----------
    source
        What it was read on: tide pole, logger.
    """
    from oakum.cli.paper import read_text
    from oakum.desk.seabed.held import add_levels, levels_in, set_bench
    from oakum.ground.errors import OakumError

    if bool(bench) == (levels is not None):
        raise OakumError("Give either --bench with a mark or --levels with a file.")
    pairs = levels_in(read_text(levels)) if levels is not None else ()
    with opened(project) as logbook:
        if bench:
            set_bench(logbook, bench, author=by)
        else:
            add_levels(logbook, pairs, zone=zone, source=source, author=by)
    print(f"{bench} is a bench mark." if bench else f"{len(pairs)} levels are kept.")


def north(
    declination: str,
    *,
    turn: Annotated[str, Parameter(help="Degrees from true to site north, added to a true bearing.")] = "",
    source: Annotated[str, Parameter(help="Chart, or model and year.")] = "",
    reason: Reason = "",
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Give the declination, degrees, east positive.

    Parameters
    ----------
    declination
        Degrees; west is negative, written after --: oakum survey north -- -2.5
    """
    from oakum.desk.seabed.held import set_north

    with opened(project) as logbook:
        set_north(logbook, declination, turn_deg=turn, source=source, reason=reason, author=by)
    print("The north is kept.")


def way_round(first: str, second: str, third: str, *, by: By = "recorder", project: Project = None) -> None:
    """Say which three marks run anticlockwise, seen from above: it tells the plan from its mirror image.

    Parameters
    ----------
    first
        A mark.
    second
        The next one, anticlockwise.
    third
        The one after it.
    """
    from oakum.desk.seabed.held import set_way_round

    with opened(project) as logbook:
        set_way_round(logbook, (first, second, third), author=by)
    print(f"{first}, {second}, {third} run anticlockwise.")
