"""`oakum backup`, `oakum restore` and `oakum check`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from oakum.cli.where import Project, opened


def backup(target: Path, *, project: Project = None) -> None:
    """Copy the whole project into a new folder and check the copy.

    Parameters
    ----------
    target
        Folder to put the copy in; it must not hold a project of that name yet.
    """
    with opened(project, read_only=True) as logbook:
        made = logbook.backup(target)
        print(f"Backed up to {made}; the copy was checked. Keep one copy away from the vessel and the hut.")


def restore(backup: Path, folder: Path, *, station: str = "restored") -> None:
    """Restore a backup into a new folder, as a new station with a chain of its own.

    Parameters
    ----------
    backup
        The backup, a NAME.oakum folder.
    folder
        Where the restored project is made; nothing that stands there is touched.
    station
        What the new place of writing is called.
    """
    from oakum.record import restore as restore_backup

    with restore_backup(backup, folder, station=station) as logbook:
        print(
            f"Restored to {logbook.folder} as station {logbook.station}. "
            "It has no find numbers yet: give it a block before finds are entered."
        )


def check(
    *,
    project: Project = None,
    files: Annotated[bool, Parameter(help="Also read every photograph and file again.")] = True,
) -> int:
    """Walk every chain, compare the views with the log, read the files again; name the first entry that fails."""
    with opened(project, read_only=True) as logbook:
        report = logbook.check()
        print(report.words())
        broken = False
        if files:
            audit = logbook.check_files()
            print(audit.words())
            broken = not audit.whole
    return 0 if report.ok and not broken else 1
