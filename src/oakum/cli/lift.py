"""`oakum lift ...`: weigh a body file or a find, start from a starting body, enter a load-cell reading."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.paper import read_text, write_pdf
from oakum.cli.where import By, Project, opened

if TYPE_CHECKING:
    from oakum.lift import WeightReport


def weigh(
    target: str,
    *,
    reading: Annotated[
        str | None, Parameter(help="With a body file: a load-cell reading, '445 ± 12 kg'.")
    ] = None,
    json: Annotated[bool, Parameter(help="Print the report as JSON.")] = False,
    pdf: Annotated[Path | None, Parameter(help="Write the weight sheet to this file.")] = None,
    draws: Annotated[int, Parameter(help="How many cases to draw, 1,000 to 1,000,000.")] = 20_000,
    seed: Annotated[int, Parameter(help="Seed of the draws; the same seed gives the same sheet.")] = 1670,
    project: Project = None,
) -> None:
    """Weigh a body file (.toml), or a find of the project by its number, in all its states.

    Parameters
    ----------
    target
        A body file, or the number of a find.
    """
    from oakum.ground.errors import OakumError

    if not 1_000 <= draws <= 1_000_000:
        raise OakumError(f"--draws {draws}: expected 1,000 to 1,000,000.")
    report = (
        _weigh_file(Path(target), reading, draws, seed)
        if target.endswith(".toml")
        else _weigh_find(target, reading, draws, seed, project)
    )
    if pdf is not None:
        from oakum.report import weight_sheet_pdf

        write_pdf(pdf, weight_sheet_pdf(report, date=date.today()))
    if json:
        from json import dumps

        from oakum.lift import report_dict

        print(dumps(report_dict(report), indent=2, ensure_ascii=False))
    else:
        from rich.console import Console

        from oakum.report.terminal import render_terminal

        render_terminal(report, Console())


def _weigh_file(path: Path, reading: str | None, draws: int, seed: int) -> WeightReport:
    from oakum.desk.finds.measures import cell_reading
    from oakum.desk.lifts.weigh import weigh_text
    from oakum.lift import mesh_names

    text = read_text(path)
    meshes = {
        name: (path.parent / name).read_bytes() for name in mesh_names(text) if (path.parent / name).is_file()
    }
    readings = (cell_reading(reading),) if reading else ()
    return weigh_text(text, name=path.name, files=meshes, readings=readings, draws=draws, seed=seed)


def _weigh_find(
    number: str, reading: str | None, draws: int, seed: int, project: Path | None
) -> WeightReport:
    from oakum.desk.lifts.weigh import weigh_find
    from oakum.ground.errors import OakumError

    if reading:
        raise OakumError(
            "A reading of a find is entered in its logbook: oakum lift reading NUMBER 'READING'."
        )
    with opened(project, read_only=True) as logbook:
        return weigh_find(logbook, number, draws=draws, seed=seed).report


def bodies(name: str | None = None) -> None:
    """List the starting bodies, or print one as a body file to edit.

    Parameters
    ----------
    name
        Print this one; redirect it into a file and edit it there.
    """
    from oakum.ground.errors import OakumError
    from oakum.lift import starting_bodies

    held = starting_bodies()
    if name is None:
        for key, one in held.items():
            print(f"{key:18} {one.title} ({one.mark}: {one.source})")
    elif name in held:
        print(held[name].toml, end="")
    else:
        raise OakumError(f"There is no starting body {name!r}; there are: {', '.join(held)}.")


def describe(
    number: str, file: Path, *, reason: str = "", by: By = "director", project: Project = None
) -> None:
    """Give a find its body from a body file; over the one it has, with a reason.

    Parameters
    ----------
    number
        The find.
    file
        The body file. Meshes it names are read from beside it and kept with the find.
    reason
        Why the body changes, where the find has one.
    """
    from oakum.desk.finds.attach import attach_file
    from oakum.desk.lifts.bodies import keep_body
    from oakum.lift import mesh_names

    text = read_text(file)
    with opened(project) as logbook:
        find = logbook.find(number)
        held = {entry.body["name"] for entry in find.files}
        for name in mesh_names(text):
            beside = file.parent / name
            if name not in held and beside.is_file():
                attach_file(logbook, find.id, name, beside.read_bytes(), author=by)
        entry = keep_body(logbook, logbook.find(find.id), text, author=by, reason=reason)
        print(f"Entered {entry.id}. Weigh it: oakum lift weigh {find.number or find.id}")


def reading(
    number: str,
    text: str,
    *,
    instrument: str = "",
    gear: str = "",
    frame: bool | None = None,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Enter a load-cell reading: the object hanging free of the bottom under water, bags empty.

    Parameters
    ----------
    number
        The find.
    text
        What the cell showed and how sure that is, such as '445 ± 12 kg'.
    instrument
        Which load cell.
    gear
        What slings and shackles between cell and object weigh under water, such as '22 ± 2 kg'; taken off.
    frame
        Whether the frame of its cradle hung there too. Left out it is not known, which a find with a cradle needs.
    """
    from oakum.desk.finds.measures import reading_of
    from oakum.desk.lifts.weigh import HOOK_LOAD, UNDER_WATER

    body = reading_of(
        text,
        "mass",
        quantity=HOOK_LOAD,
        state=UNDER_WATER,
        instrument=instrument,
        gear=gear,
        frame=frame,
    )
    with opened(project) as logbook:
        entry = logbook.append("reading", logbook.find(number).id, body, author=by)
        print(f"Entered {entry.id}.")
        if "sd" not in body:
            print(
                "No spread was given: the reading stands in the logbook but cannot be used. Write '445 ± 12 kg'."
            )


def card(
    file: Path,
    *,
    shape: Annotated[str, Parameter(help="Which shape the card asks for: box, cylinder, ring ...")] = "box",
    number: Annotated[str, Parameter(help="The find number to print on it.")] = "",
    paper: Annotated[str, Parameter(help="a4 or a5.")] = "a4",
) -> None:
    """Write the measuring card for an object as a PDF to print on waterproof film.

    Parameters
    ----------
    file
        The PDF to write.
    """
    from oakum.report import measuring_card_pdf

    write_pdf(file, measuring_card_pdf(shape, date=date.today(), number=number, paper=paper))
    print(f"Wrote {file}. Print it on waterproof film; test the ink by soaking it.")
