"""`oakum cradle ...`: check a cradle file, give a find its cradle, print it and the sheet to build it from."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.paper import read_text, write_pdf
from oakum.cli.where import By, Project, opened

if TYPE_CHECKING:
    from oakum.lift import Weighing
    from oakum.lift.cradle import CradlePlan, CradleReport

Body = Annotated[
    str | None,
    Parameter(help="With a cradle file: the body file of the find it carries, or the name of a starting body."),
]
Depth = Annotated[str | None, Parameter(help="With --body: the depth it is raised from, '14 m'.")]


def start(name: str | None = None) -> None:
    """List the cradles to begin with, or print one as a cradle file to edit.

    Parameters
    ----------
    name
        Print this one; redirect it into a file and edit it there.
    """
    from oakum.lift.cradle import STARTING_CRADLES, starting_cradle

    if name is None:
        for one in STARTING_CRADLES:
            print(f"{one.key:10} {one.title}: {one.words}")
    else:
        print(starting_cradle(name), end="")


def check(file: Path, *, body: Body = None, depth: Depth = None) -> None:
    """Check a cradle file: every mistake with its line and key, cutting list, and under a body what it bears.

    Parameters
    ----------
    file
        The cradle file.
    """
    from rich.console import Console

    from oakum.report import render_cradle

    plan, report = _from_file(file, body, depth)
    render_cradle(plan, report, Console())


def show(number: str, *, project: Project = None) -> None:
    """Show the cradle of a find, what is sawn for it and what it bears.

    Parameters
    ----------
    number
        The find.
    """
    from rich.console import Console

    from oakum.desk.demo.project import is_demo
    from oakum.desk.lifts.cradles import show_cradle
    from oakum.report import render_cradle

    with opened(project, read_only=True) as logbook:
        shown = show_cradle(logbook, number)
        render_cradle(shown.plan, shown.report, Console(), demo=is_demo(logbook), why_not=shown.why_not)


def enter(number: str, file: Path, *, reason: str = "", by: By = "director", project: Project = None) -> None:
    """Give a find its cradle from a cradle file; over the one it has, with a reason.

    Parameters
    ----------
    number
        The find.
    file
        The cradle file.
    reason
        Why the cradle changes, where the find has one.
    """
    from oakum.desk.finds.entering import FieldErrors
    from oakum.desk.lifts.cradles import keep_cradle
    from oakum.ground.errors import OakumError

    text = read_text(file)
    with opened(project) as logbook:
        find = logbook.find(number)
        try:
            entry = keep_cradle(logbook, find.id, text, author=by, reason=reason)
        except FieldErrors as error:
            raise OakumError("; ".join(error.wrong.values()) + ". Add --reason 'WHY'.") from error
        print(f"Entered {entry.id}. Show it: oakum cradle show {find.number or find.id}")


def sheet(
    target: str,
    *,
    output: Annotated[Path, Parameter(name=["--output", "-o"], help="The PDF to write.")],
    body: Body = None,
    depth: Depth = None,
    project: Project = None,
) -> None:
    """Write the sheet to build a cradle from: cutting list, drawing, order of assembly, joints, what it bears.

    Parameters
    ----------
    target
        A cradle file (.toml), or the number of a find.
    """
    from oakum.report import cradle_sheet_pdf

    today = date.today()
    if target.endswith(".toml"):
        plan, report = _from_file(Path(target), body, depth)
        pdf = cradle_sheet_pdf(plan, report, date=today)
    else:
        from oakum.desk.demo.project import is_demo
        from oakum.desk.lifts.cradles import show_cradle

        with opened(project, read_only=True) as logbook:
            shown = show_cradle(logbook, target)
            pdf = cradle_sheet_pdf(
                shown.plan,
                shown.report,
                date=today,
                number=shown.find.number or "",
                demo=is_demo(logbook),
            )
    write_pdf(output, pdf)
    print(f"Wrote {output}.")


def _from_file(file: Path, body: str | None, depth: str | None) -> tuple[CradlePlan, CradleReport | None]:
    from oakum.desk.lifts.cradles import report_under
    from oakum.ground.errors import OakumError
    from oakum.ground.quantities import read
    from oakum.lift.cradle import parse_cradle

    plan = parse_cradle(read_text(file), name=file.name)
    if body is None:
        if depth is not None:
            raise OakumError("--depth goes with --body: without a body nothing presses on the cradle.")
        return plan, None
    weighing = _weighed(body, plan)
    return plan, report_under(weighing, plan, None if depth is None else read(depth, "length").value)


def _weighed(body: str, plan: CradlePlan) -> Weighing:
    """Weigh a body file, or a starting body by its name, with the frame under it."""
    from oakum.desk.lifts.weigh import weighing_text
    from oakum.lift import mesh_names, starting_bodies

    if body in starting_bodies():
        return weighing_text(starting_bodies()[body].toml, name=body, cradle=plan)
    path = Path(body)
    text = read_text(path)
    meshes = {n: (path.parent / n).read_bytes() for n in mesh_names(text) if (path.parent / n).is_file()}
    return weighing_text(text, name=path.name, files=meshes, cradle=plan)
