"""`oakum plan seas ...`: the plan's sea run through many times, step by step in time."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.where import Project, opened

if TYPE_CHECKING:
    from oakum.desk.lifts.sea_run import SeaRun


def seas(
    number: str,
    *,
    members: Annotated[int, Parameter(help="Seas for each operation; more narrow the odds.")] = 500,
    seed: Annotated[int, Parameter(help="The same seed gives the same seas.")] = 20_260_612,
    on: Annotated[date | None, Parameter(help="The day of the lift, YYYY-MM-DD; today if left out.")] = None,
    out: Annotated[Path | None, Parameter(help="Write the result to this file, as JSON.")] = None,
    keep: Annotated[
        bool, Parameter(help="Keep the result in the project folder, where the pages find it.")
    ] = True,
    project: Project = None,
) -> None:
    """Hoist a find through the surface and hold it at its worst height in many seas; print the odds.

    Nothing is entered in the logbook. Takes some minutes; Ctrl-C ends it and nothing is kept.

    Parameters
    ----------
    number
        The find.
    """
    from oakum.cli.paper import write_pdf as write_whole
    from oakum.cli.progress import progress
    from oakum.desk.lifts.plan import plan_find
    from oakum.desk.lifts.sea_run import NoSeaError, cannot_run, cores, process_pool, run_seas
    from oakum.desk.lifts.sea_run_kept import keep_run, run_text

    if out is not None and not out.absolute().parent.is_dir():
        raise NoSeaError(f"There is no folder {out.parent} to write the result to.")
    with opened(project, read_only=True) as logbook:
        plan = plan_find(logbook, number, on=on or date.today(), with_helps=False)
        folder = logbook.folder
    why_not = cannot_run(plan)
    if why_not is not None:
        raise NoSeaError(why_not)
    with progress(f"{members:,} seas, seed {seed}") as step, process_pool() as pool:
        run = run_seas(
            plan,
            members=members,
            seed=seed,
            executor=pool,
            workers=cores(),
            progress=lambda share, _: step(round(1000 * share), 1000),
        )
    _print(run)
    if out is not None:
        write_whole(out, run_text(run).encode())
        print(f"Wrote {out}.")
    if keep:
        keep_run(folder, run)


def _print(run: SeaRun) -> None:
    from oakum.draw.splash_time import extreme_lines

    print(f"{run.number}: {run.words}.")
    for mass in run.masses:
        if mass.title:
            print(f"\n{mass.title[:1].upper()}{mass.title[1:]}")
        for what, found in mass.operations:
            print(f"\n{what}:")
            for line in extreme_lines(found, run.bears_kg, run.cell_unit):
                print(f"  {line}")
        print(f"\n{mass.steps}.")
    print()
    for objection in run.objections:
        print(f"objection: {objection}")
    if not run.objections:
        print("No objection found in these seas, under these assumptions.")
    for caution in dict.fromkeys(c for mass in run.masses for c in mass.cautions):
        print(f"Caution: {caution}.")
