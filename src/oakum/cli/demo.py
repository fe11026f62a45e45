"""`oakum demo`: the invented wreck, weighed in the terminal and served as pages."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter


def demo(
    folder: Path = Path("."),
    *,
    serve: Annotated[bool, Parameter(help="Serve the pages after the print; --no-serve ends there.")] = True,
    port: Annotated[int, Parameter(help="Port on 127.0.0.1; 0 takes a free one.")] = 0,
    open_browser: Annotated[bool, Parameter(help="Also open the link in the browser.")] = False,
) -> None:
    """Make the invented Tolmarren project, weigh its capstan, serve the pages.

    Parameters
    ----------
    folder
        Where Tolmarren.oakum is made. A project that stands there is opened and never changed.
    """
    from rich.console import Console

    from oakum.desk.demo.project import CAPSTAN, FOLDER, MARK, make_demo
    from oakum.desk.lifts.weigh import weigh_find
    from oakum.record import Logbook, ProjectExistsError
    from oakum.report.terminal import render_terminal

    try:
        project = make_demo(folder)
        print(f"Made {project}. {MARK}")
    except ProjectExistsError:
        project = folder / FOLDER
        print(f"{project} stands already and is opened as it is. {MARK}")
    with Logbook.open(project, read_only=True) as logbook:
        render_terminal(weigh_find(logbook, CAPSTAN).report, Console(), demo=True)
    if serve:
        from oakum.web.serve import serve as serve_pages

        serve_pages(project, port=port, open_browser=open_browser)
