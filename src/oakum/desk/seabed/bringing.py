"""A page or a spreadsheet that was brought: how it was read, so that it can be read again with more said about it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from oakum.desk.seabed.entering import NothingAcceptedError, enter, propose_lines
from oakum.desk.seabed.importing import accept_sheet, propose_sheet
from oakum.desk.seabed.marks import naming_drafts
from oakum.desk.seabed.proposals import SurveyProposal
from oakum.desk.seabed.typed import Slate
from oakum.record import Draft, Entry, Logbook


@dataclass(frozen=True, slots=True)
class Brought:
    """What was brought and what it proposes. `is_page`: lines of a notebook, else a spreadsheet.

    `unit` is that of bare lengths, `joined` gives spellings somebody said are one mark the name that stands for them.
    """

    name: str
    data: bytes
    slate: Slate
    is_page: bool
    proposal: SurveyProposal
    unit: str = ""
    sheet: str | None = None
    joined: Mapping[str, str] = field(default_factory=dict)


def bring_page(logbook: Logbook, text: str, slate: Slate) -> Brought:
    """Read a page typed line by line; nothing is written."""
    proposal = propose_lines(logbook, text, slate)
    if not proposal.rows:
        raise NothingAcceptedError("The page is empty; write one reading a line, as A1 B2 12.34.")
    return Brought("page", text.encode("utf-8"), slate, True, proposal)


def bring_sheet(
    logbook: Logbook, data: bytes, name: str, slate: Slate, *, unit: str = "", sheet: str | None = None
) -> Brought:
    """Read a spreadsheet; nothing is written. Raises `SheetError` or `SheetChoice` with what to do."""
    proposal = propose_sheet(logbook, data, name, slate=slate, sheet=sheet, unit=unit)
    return Brought(name, data, slate, False, proposal, unit, sheet)


def join(logbook: Logbook, brought: Brought, joined: Mapping[str, str]) -> Brought:
    """Read it again, knowing that some spellings are one mark; nothing is written."""
    every = {**brought.joined, **joined}
    if brought.is_page:
        proposal = propose_lines(logbook, brought.data.decode("utf-8"), brought.slate, joined=every)
    else:
        proposal = propose_sheet(
            logbook,
            brought.data,
            brought.name,
            slate=brought.slate,
            sheet=brought.sheet,
            unit=brought.unit,
            joined=every,
        )
    return replace(brought, proposal=proposal, joined=every)


def accept(
    logbook: Logbook,
    brought: Brought,
    *,
    author: str,
    sure: bool = False,
    chosen: Collection[str] | None = None,
) -> list[Entry]:
    """Enter the accepted readings, all or none, and the marks that were said to be one; return the readings.

    `chosen` are keys of rows; None takes those that are ready and, with `sure`, those to be looked at. Of a
    spreadsheet the file itself is kept. Raises `NothingAcceptedError`, or what the logbook refuses.
    """
    first = joining_drafts(logbook, brought.joined, author=author)
    if brought.is_page:
        return enter(
            logbook, brought.proposal.rows, author=author, sure=sure, chosen=chosen, first=first
        )
    return accept_sheet(
        logbook, brought.proposal, brought.data, author=author, sure=sure, chosen=chosen, first=first
    )


def joining_drafts(logbook: Logbook, joined: Mapping[str, str], *, author: str) -> list[Draft]:
    """The entries that say which spellings are one mark."""
    drafts = []
    for name in dict.fromkeys(joined.values()):
        others = [spelt for spelt, one in joined.items() if one == name]
        drafts += naming_drafts(logbook, name, others, {}, author=author)
    return drafts
