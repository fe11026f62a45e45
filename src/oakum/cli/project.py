"""`oakum new` and `oakum serve`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from oakum.cli.where import Project, project_folder


def new(
    name: str,
    *,
    folder: Path = Path("."),
    station: str = "hut",
    prefix: str | None = None,
) -> None:
    """Make a new project NAME.oakum with an empty logbook.

    Parameters
    ----------
    name
        What the project is called.
    folder
        Where its folder is made.
    station
        What this place of writing is called, such as hut or laboratory.
    prefix
        The letters that begin its find numbers; default: the first letter of the name.
    """
    from oakum.record import Logbook

    with Logbook.create(folder, name, station=station, prefix=prefix) as logbook:
        print(f"Made {logbook.folder}. Next: oakum find add TITLE --project {logbook.folder}")


def serve(
    project: Project = None,
    *,
    port: Annotated[int, Parameter(help="Port on 127.0.0.1; 0 takes a free one.")] = 0,
    open_browser: Annotated[bool, Parameter(help="Also open the link in the browser.")] = False,
) -> None:
    """Serve the pages on this computer only, at a link that works once."""
    from oakum.record import Logbook
    from oakum.web.serve import serve as serve_pages

    with Logbook.open(project_folder(project)) as logbook:
        folder = logbook.folder
    serve_pages(folder, port=port, open_browser=open_browser)
