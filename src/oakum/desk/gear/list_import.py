"""A list of gear: read it, show a message a row, and list only the rows a person accepts."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date

from oakum.desk.finds.register_import import NothingAcceptedError
from oakum.record import Entry, Logbook
from oakum.record.files.store import FileStore
from oakum.record.gear.proposal import GearProposal, drafts
from oakum.record.gear.proposal import propose as propose_rows
from oakum.record.gear.words import identity_key
from oakum.record.sheets.proposals import Status
from oakum.record.sheets.sheet import read_sheet


def propose_gear(
    logbook: Logbook,
    data: bytes,
    name: str,
    *,
    on: date,
    sheet: str | None = None,
    mapping: Mapping[str, str] | None = None,
) -> GearProposal:
    """Read a list (CSV or XLSX) as gear, beside the pieces listed already; nothing is written.

    `on` is the day at which papers are looked at, `sheet` names one of several sheets, `mapping` gives columns
    to fields where the guess is wrong. Raises `SheetError`, `SheetChoice` or `GearListError` with what to do.
    """
    known = {identity_key(piece.kind, piece.identity) for piece in logbook.gear()}
    return propose_rows(read_sheet(data, name, sheet=sheet), on=on.isoformat(), mapping=mapping, known=known)


def accept_gear(
    logbook: Logbook,
    proposal: GearProposal,
    data: bytes,
    name: str,
    *,
    author: str,
    with_look: bool = False,
    rows: Collection[int] | None = None,
) -> list[Entry]:
    """List rows of a proposal, all of them or none, and keep the list itself as a file.

    `rows` are numbers of rows in the sheet; None takes all that are ready, and with `with_look` those to be
    looked at as well. Raises `NothingAcceptedError`, or what the logbook refuses.
    """
    if rows is None:
        wanted: tuple[Status, ...] = ("ready", "look") if with_look else ("ready",)
        rows = [row.row for row in proposal.of_status(*wanted)]
    if not rows:
        raise NothingAcceptedError("No row was accepted, so nothing was entered.")
    drafts(proposal, rows, author=author)  # refused before the file is kept
    kept = FileStore(logbook.files_folder).put(data, name=name)
    return logbook.append_many(drafts(proposal, rows, author=author, file_sha256=kept.sha256))
