"""Which project a command means: `--project`, else OAKUM_PROJECT, else the only project in this folder."""

from __future__ import annotations

import os
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

if TYPE_CHECKING:
    from collections.abc import Iterator

    from oakum.record import Logbook

Project = Annotated[
    Path | None, Parameter(help="Project folder; else OAKUM_PROJECT, else the only one here.")
]
By = Annotated[
    str,
    Parameter(name="--by", help="Who enters it: a person's id (p-...) or a role such as director, recorder."),
]


def project_folder(project: Path | None) -> Path:
    """Return the folder that is meant; `Logbook.open` says what is wrong with it."""
    return project or Path(os.environ.get("OAKUM_PROJECT", "."))


@contextmanager
def opened(project: Path | None, *, read_only: bool = False) -> Iterator[Logbook]:
    """Open the project for the length of a command."""
    from oakum.record import Logbook

    with Logbook.open(project_folder(project), read_only=read_only) as logbook:
        yield logbook
