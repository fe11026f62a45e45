"""`oakum gear ...`: the gear register with its papers."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

from oakum.cli.where import By, Project, opened


def list_(
    *,
    on: Annotated[date | None, Parameter(help="The day of use; default today.")] = None,
    project: Project = None,
) -> None:
    """List every piece: WLL, papers, where it is, and why it may not be used."""
    from rich.console import Console
    from rich.table import Table

    from oakum.desk.gear.standing import gear_standing

    with opened(project, read_only=True) as logbook:
        held = gear_standing(logbook, on or date.today())
    table = Table(
        "identity", "kind", "WLL", "certificate until", "inspect by", "where", box=None, pad_edge=False
    )
    for one in held:
        item = one.item
        texts = (item.wll_text, item.certificate_until, item.inspection_until, item.where)
        table.add_row(item.key, item.kind, *(text or "not known" for text in texts))
    Console().print(table if held else "No gear is listed.")
    for objection in (said for one in held for said in one.objections):
        print(f"objection: {objection}")


def add(
    identity: str,
    kind: str,
    *,
    fields: Annotated[
        dict[str, str] | None,
        Parameter(name="--set", help="More fields: --set.wll '2 t' --set.inspect-by 2027-05-01"),
    ] = None,
    certificate: Annotated[
        Path | None, Parameter(help="A scan of the certificate, kept with the piece.")
    ] = None,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """List a piece of gear.

    Parameters
    ----------
    identity
        What stands on its tag.
    kind
        What it is: shackle, hook, bag, webbing sling ...
    """
    from oakum.cli.paper import read_bytes
    from oakum.desk.gear.entering import list_piece

    typed = {"identity": identity, "kind": kind} | {k.replace("-", "_"): v for k, v in (fields or {}).items()}
    scan = (certificate.name, read_bytes(certificate)) if certificate else None
    with opened(project) as logbook:
        print(f"Listed {list_piece(logbook, typed, author=by, certificate=scan).name}.")


def change(
    identity: str, field: str, value: str, *, reason: str = "", by: By = "recorder", project: Project = None
) -> None:
    """Say something new about a piece; what stood there stays in the logbook.

    Parameters
    ----------
    identity
        The piece, by its tag, or kind and tag.
    field
        Which field: wll, certificate_until, inspect_by, where ...
    value
        What holds now; empty for "not known".
    reason
        Why the old value no longer holds; needed where there was one.
    """
    from oakum.desk.gear.entering import change_piece

    with opened(project) as logbook:
        piece = logbook.piece(identity)
        entry = change_piece(
            logbook, piece.id, field.replace("-", "_").replace(" ", "_"), value, author=by, reason=reason
        )
        print("Nothing changed." if entry is None else f"Entered {entry.id}.")


def withdraw(identity: str, why: str, *, by: By = "recorder", project: Project = None) -> None:
    """Take a piece out of use; every plan that uses it objects from now on.

    Parameters
    ----------
    identity
        The piece.
    why
        What is wrong with it.
    """
    from oakum.desk.gear.entering import withdraw as take_out

    with opened(project) as logbook:
        piece = logbook.piece(identity)
        take_out(logbook, piece.id, why, author=by)
        print(f"{piece.name} is withdrawn.")


def bring_back(
    identity: str,
    *,
    passed_by: Annotated[str, Parameter(help="The id of the person who passed it (p-...).")],
    reason: str,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Bring a withdrawn piece back into use, passed by a named person.

    Parameters
    ----------
    identity
        The piece.
    reason
        What was done, and why it may be used again.
    """
    from oakum.desk.gear.entering import bring_back as put_back

    with opened(project) as logbook:
        piece = logbook.piece(identity)
        put_back(logbook, piece.id, passed_by=passed_by, reason=reason, author=by)
        print(f"{piece.name} is in use again.")


def import_list(
    file: Path,
    *,
    sheet: str | None = None,
    accept: Annotated[
        bool, Parameter(help="List the pieces that are ready. Without it nothing is entered.")
    ] = False,
    look: Annotated[bool, Parameter(help="With --accept: also list rows marked 'look'.")] = False,
    by: By = "recorder",
    project: Project = None,
) -> None:
    """Read a hire firm's list (CSV or XLSX) and show a message a row; nothing enters without --accept.

    Parameters
    ----------
    file
        The list.
    sheet
        Which sheet of a workbook.
    """
    from oakum.cli.paper import read_bytes
    from oakum.desk.gear.list_import import accept_gear, propose_gear

    data = read_bytes(file)
    with opened(project, read_only=not accept) as logbook:
        proposal = propose_gear(logbook, data, file.name, on=date.today(), sheet=sheet)
        for row in proposal.rows:
            if row.messages:
                print(f"row {row.row}: {row.status}: {'; '.join(row.messages)}")
        for note in proposal.notes:
            print(note)
        print(proposal.words())
        if not accept:
            print("Nothing was entered. Add --accept to list the pieces that are ready.")
            return
        entries = accept_gear(logbook, proposal, data, file.name, author=by, with_look=look)
        print(f"Listed {sum(entry.kind == 'gear.listed' for entry in entries)} pieces.")
