"""The club's finds register: read it, show a message a row, and enter only the rows a person accepts."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping

from oakum.ground.errors import OakumError
from oakum.record import Entry, Logbook
from oakum.record.club_register.proposal import RegisterProposal, Status
from oakum.record.club_register.propose import drafts, known_numbers
from oakum.record.club_register.propose import propose as propose_rows
from oakum.record.files.store import FileStore
from oakum.record.sheets.sheet import read_sheet

Report = Callable[[int, int], None]


class NothingAcceptedError(OakumError):
    """No row was chosen, so there is nothing to enter."""


def propose(
    logbook: Logbook,
    data: bytes,
    name: str,
    *,
    sheet: str | None = None,
    mapping: Mapping[str, str] | None = None,
    report: Report | None = None,
) -> RegisterProposal:
    """Read a register (CSV or XLSX) as finds, beside the numbers the logbook has already; nothing is written.

    `sheet` names one of several sheets; `mapping` gives columns to fields where the guess is wrong;
    `report(done, total)` counts rows. Raises `SheetError`, `SheetChoice`
    or `RegisterError` with what to do.
    """
    known = known_numbers([e for e in logbook.entries() if e.kind in ("find.entered", "find.described")])
    return propose_rows(read_sheet(data, name, sheet=sheet), mapping=mapping, known=known, progress=report)


def accept_rows(
    logbook: Logbook,
    proposal: RegisterProposal,
    data: bytes,
    name: str,
    *,
    author: str,
    with_look: bool = False,
    rows: Collection[int] | None = None,
    report: Report | None = None,
) -> list[Entry]:
    """Enter rows of a proposal, all of them or none, and keep the register itself as a file.

    `rows` are numbers of rows in the sheet; None takes all that are ready, and with `with_look` those to be
    looked at as well. A finder whose name is that of a registered person is entered by that person's id; other
    names stay outside the logbook. Raises `NothingAcceptedError`, or what the logbook refuses.
    """
    if rows is None:
        wanted: tuple[Status, ...] = ("ready", "look") if with_look else ("ready",)
        rows = [row.row for row in proposal.of_status(*wanted)]
    if not rows:
        raise NothingAcceptedError("No row was accepted, so nothing was entered.")
    if report:
        report(0, len(rows))
    people = {person.name: person.id for person in logbook.people()}
    kept = FileStore(logbook.files_folder).put(data, name=name)
    entries = logbook.append_many(
        drafts(proposal, rows, author=author, people=people, file_sha256=kept.sha256)
    )
    if report:
        report(len(rows), len(rows))
    return entries
