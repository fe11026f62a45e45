"""`oakum survey export|plan|square|register|tie|release`: what leaves the survey, and what is laid on it."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from oakum.cli.paper import read_bytes, read_text, write_pdf
from oakum.cli.where import By, Project, opened

if TYPE_CHECKING:
    from oakum.seabed.frame import Registration

Output = Annotated[Path, Parameter(name=["--output", "-o"], help="The file to write.")]
Without = Annotated[bool, Parameter(help="Leave the readings in doubt out, to see what the plan would be.")]
Reason = Annotated[str, Parameter(help="Why it changes, where something stands already.")]


def export(
    kind: str,
    *,
    output: Output,
    without_suspects: Without = False,
    project: Project = None,
) -> None:
    """Write the survey as a file in the local grid: marks, readings, about (CSV), svg, dxf or gpkg.

    Parameters
    ----------
    kind
        What to write: marks, readings, about, svg, dxf or gpkg.
    """
    from oakum.desk.seabed.exports import site_export
    from oakum.ground.errors import OakumError
    from oakum.report.site_files import FILE_KINDS

    if kind not in FILE_KINDS:
        raise OakumError(f'There is no file "{kind}"; choose one of {", ".join(FILE_KINDS)}.')
    with opened(project, read_only=True) as logbook:
        made = site_export(logbook, on=date.today(), without_suspects=without_suspects)
        write_pdf(output, FILE_KINDS[kind].write(made))
    print(f"Wrote {output}: {FILE_KINDS[kind].words}, in the local grid.")


def plan(
    *,
    output: Output,
    paper: Annotated[str, Parameter(help="a4 or a3.")] = "a4",
    scale: Annotated[int | None, Parameter(help="50 for 1:50; else the largest round one that fits.")] = None,
    without_suspects: Without = False,
    project: Project = None,
) -> None:
    """Write the plan on paper at a round scale, as PDF."""
    from oakum.desk.demo.project import is_demo
    from oakum.desk.seabed.survey import survey_of
    from oakum.report.site_sheet import SheetAsked, site_sheet_pdf

    with opened(project, read_only=True) as logbook:
        survey = survey_of(logbook)
        other = survey.solution.without_suspects if without_suspects else None
        pdf = site_sheet_pdf(
            logbook,
            survey,
            other or survey.solution,
            SheetAsked(paper.lower(), scale),
            on=date.today(),
            demo=is_demo(logbook),
        )
    write_pdf(output, pdf)
    print(f"Wrote {output}.")


def square(name: str, *, output: Output, project: Project = None) -> None:
    """Write the sheet a diver takes down for one square, for waterproof film.

    Parameters
    ----------
    name
        The square.
    """
    from oakum.desk.demo.project import is_demo
    from oakum.desk.seabed.survey import survey_of
    from oakum.report.site_sheet import square_sheet_pdf

    with opened(project, read_only=True) as logbook:
        pdf = square_sheet_pdf(logbook, survey_of(logbook), name, on=date.today(), demo=is_demo(logbook))
    write_pdf(output, pdf)
    print(f"Wrote {output}.")


def register(
    file: Path,
    control: Path,
    *,
    name: str = "",
    fit: Annotated[str, Parameter(help="similarity, affine or projective.")] = "similarity",
    mosaic: Annotated[bool, Parameter(help="It is a photo mosaic, no drawing.")] = False,
    accept: Annotated[bool, Parameter(help="Lay it on the plan. Without it nothing is entered.")] = False,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Lay the picture of a drawing on the marks seen in it, and show what the fit leaves.

    Parameters
    ----------
    file
        The picture.
    control
        A text with one mark a line: the mark, then how far right and how far down it is seen.
    name
        What the drawing is called; default: the name of the file.
    """
    from oakum.desk.finds.entering import FieldErrors
    from oakum.desk.seabed.registering import control_typed, keep_drawing, laid
    from oakum.desk.seabed.survey import survey_of
    from oakum.ground.errors import OakumError

    content, text = read_bytes(file), read_text(control)
    typed = {"name": name or file.stem, "control": text, "fit": fit, "what": "mosaic" if mosaic else "drawing"}
    with opened(project, read_only=not accept) as logbook:
        try:
            survey = survey_of(logbook)
            _show_fit(laid(control_typed(text, survey), fit, survey.solution))
            if accept:
                entry = keep_drawing(logbook, content, typed, author=by)
                print(f"Entered {entry.id}.")
            else:
                print("Nothing was entered; add --accept to lay it on the plan.")
        except FieldErrors as error:
            raise OakumError("; ".join(error.wrong.values())) from error


def tie(
    epsg: str,
    control: Path,
    *,
    free_scale: Annotated[bool, Parameter(help="Free the scale instead of holding it to the projection's.")] = False,
    vertical: Annotated[str, Parameter(help="What heights are counted from.")] = "",
    reason: Reason = "",
    by: By = "director",
    project: Project = None,
) -> None:
    """Tie the site to a map grid. Nothing is given to anybody by that.

    Parameters
    ----------
    epsg
        The code of a projected grid in metres.
    control
        A text with one mark a line: the mark, then east and north.
    """
    from oakum.desk.finds.entering import FieldErrors
    from oakum.desk.seabed.geo import enter_frame, frame_of
    from oakum.ground.errors import OakumError

    typed = {
        "epsg": epsg,
        "control": read_text(control),
        "fit": "free" if free_scale else "held",
        "vertical": vertical,
    }
    with opened(project) as logbook:
        try:
            enter_frame(logbook, typed, author=by, reason=reason)
        except FieldErrors as error:
            raise OakumError("; ".join(error.wrong.values())) from error
        frame = frame_of(logbook)
    assert frame is not None
    rms = "unchecked" if frame.fit.rms_m is None else f"rms {frame.fit.rms_m:.3f} m"
    print(f"Tied to EPSG:{frame.grid.epsg}, {frame.grid.name}: scale {frame.fit.scale:.6f}, {rms}.")
    for words in frame.fit.cautions:
        print(f"caution: {words}")


def release(
    what: str,
    *,
    to: Annotated[str, Parameter(help="To whom.")],
    because: Annotated[str, Parameter(help="Why; it stays in the logbook.")],
    until: Annotated[str, Parameter(help="The last day, as 2026-09-30.")] = "",
    output: Output,
    by: Annotated[str, Parameter(name="--by", help="The id of the named person who releases them.")],
    project: Project = None,
) -> None:
    """Release positions to somebody, as a named person with a reason, and write them as GeoJSON.

    Parameters
    ----------
    what
        What is given: datums, details, finds, or several with commas.
    """
    from oakum.desk.finds.entering import FieldErrors
    from oakum.desk.seabed import geo
    from oakum.desk.seabed.exports import site_export
    from oakum.ground.errors import OakumError
    from oakum.report.site_files.geojson import site_geojson

    chosen = [word.strip() for word in what.split(",") if word.strip()]
    strange = [word for word in chosen if word not in geo.WHAT]
    if strange:
        raise OakumError(f'"{strange[0]}" is nothing that is given; choose from {", ".join(geo.WHAT)}.')
    today = date.today()
    with opened(project) as logbook:
        typed = {"to": to, "because": because, "until": until}
        made = site_export(logbook, on=today)
        try:
            entry = geo.release(logbook, typed, chosen, author=by)
        except FieldErrors as error:
            raise OakumError(" ".join(error.wrong.values())) from error
        one, frame = geo.released(logbook, entry.id, today)
        write_pdf(output, site_geojson(made, frame, one))
    print(f"Entered {entry.id}; wrote {output} for {to}.")


def _show_fit(registration: Registration) -> None:
    """Print what a fit leaves, and its cautions."""
    from rich.console import Console
    from rich.table import Table

    from oakum.draw.registered import residual_rows

    console = Console()
    rows = residual_rows(registration)
    table = Table(*rows.head, title=rows.caption, title_justify="left")
    for line in rows.lines:
        table.add_row(*line)
    console.print(table)
    for words in registration.cautions:
        console.print(f"caution: {words}")
