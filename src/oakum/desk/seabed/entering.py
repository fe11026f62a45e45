"""Entering readings: proposed from fields, lines or a spreadsheet, asked about at once, entered when accepted."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Any

from oakum.desk.seabed.facts import KeptReading, facts_of
from oakum.desk.seabed.known import Known
from oakum.desk.seabed.lines import read_lines
from oakum.desk.seabed.proposals import ProposedReading, SurveyProposal
from oakum.desk.seabed.survey import SurveyAnswer, survey_lately
from oakum.desk.seabed.typed import Slate, proposed
from oakum.ground.errors import OakumError
from oakum.record import Draft, Entry, Logbook
from oakum.record.log.kinds_seabed import SITE
from oakum.seabed.network.names import alike


class NothingAcceptedError(OakumError):
    """No reading was chosen, or one that cannot be taken; nothing was entered."""


def propose_typed(logbook: Logbook, what: str, typed: Mapping[str, str], slate: Slate) -> ProposedReading:
    """Read the four fields of one reading and hold it against what is known; nothing is written."""
    answer = survey_lately(logbook)
    one = proposed(what, typed, slate)
    known, rename = Known(answer.site, answer), spellings(answer)
    return known.asked(known.named(one, rename), rename)


def propose_lines(
    logbook: Logbook, text: str, slate: Slate, *, joined: Mapping[str, str] | None = None
) -> SurveyProposal:
    """Read a page typed line by line and hold each line against what is known and the other lines.

    `joined` gives spellings somebody said are one mark the name that stands for them.
    """
    answer = survey_lately(logbook)
    known, rename = Known(answer.site, answer), spellings(answer) | dict(joined or {})
    tools = [one.name for one in answer.instruments]
    rows = read_lines(text, slate, known=known.names | set(rename), instruments=tools)
    return ask_all("page", rows, known, rename)


def ask_all(
    name: str,
    rows: Sequence[ProposedReading],
    known: Known,
    rename: Mapping[str, str],
    **more: Any,
) -> SurveyProposal:
    """Hold rows against what is known and against each other, and gather spellings that may be one mark.

    All tapes are laid out first, so that of a triangle that does not close the tape is doubted that closes no other
    one either, wherever it stands on the page.
    """
    named = []
    for row in rows:
        named.append(known.named(row, rename))
        known.add(row, rename)
    page = known.page()
    asked = tuple(known.asked(row, rename, page) for row in named)
    mine = {rename.get(mark, mark) for row in asked for mark in row.marks if not row.faults}
    groups = tuple(group for group in alike(known.names) if mine & set(group))
    return SurveyProposal(name, asked, two_names=groups, **more)


def spellings(answer: SurveyAnswer) -> dict[str, str]:
    """The name that stands for each other spelling a person said is the same mark."""
    return {spelling: mark.name for mark in answer.marks for spelling in mark.also}


def enter(
    logbook: Logbook,
    rows: Sequence[ProposedReading],
    *,
    author: str,
    sure: bool = False,
    chosen: Collection[str] | None = None,
    first: Sequence[Draft] = (),
) -> list[Entry]:
    """Enter proposed readings, all of them or none, and return their entries.

    `chosen` are keys of rows; None takes those that are ready and, with `sure`, those to be looked at. `first` are
    drafts that enter before them. Raises `NothingAcceptedError` naming a chosen row that is refused, or where nothing
    is left to enter.
    """
    wanted = ("ready", "look") if sure else ("ready",)
    if chosen is None:
        taken = [row for row in rows if row.status in wanted]
    else:
        taken = [row for row in rows if row.key in chosen]
        for row in taken:
            if row.faults:
                raise NothingAcceptedError(f"Row {row.row} cannot be entered: {row.faults[0].words}")
    if not taken:
        raise NothingAcceptedError("No reading was accepted, so nothing was entered.")
    before = [*first] if logbook.entries(SITE, limit=1) else [site_draft(logbook, author), *first]
    return logbook.append_many([*before, *(row.draft(author) for row in taken)])[len(before) :]


def site_draft(logbook: Logbook, author: str) -> Draft:
    """The entry that names the site after the project, for its first use."""
    return Draft("site.named", SITE, {"name": logbook.name}, author)


def reading_named(logbook: Logbook, id: str) -> KeptReading:
    """Return a reading by its short id or its subject."""
    for one in facts_of(logbook).readings:
        if id in (one.id, one.subject):
            return one
    raise OakumError(f"There is no reading {id} in the logbook; the list of readings shows their ids.")


def correct(
    logbook: Logbook, id: str, typed: Mapping[str, str], *, reason: str, author: str
) -> Entry:
    """Enter what the slate really says over a reading that was typed wrongly. What it said stays in the logbook.

    For a misread tape, which the slate shows as it was typed, see `rejecting`. Raises `OakumError` with every fault.
    """
    one = reading_named(logbook, id)
    new = proposed(one.what, typed, Slate(instrument=one.word("instrument"), dive=one.word("dive")))
    if new.faults:
        raise NothingAcceptedError(" ".join(f"{r.field}: {r.words}" for r in new.faults))
    if not reason.strip():
        raise NothingAcceptedError("Say why it is corrected; the reason stays in the logbook with it.")
    kept = {"note", "imported_from", "above", "line", "lean", "side", "sd_z", "rejected", "seen", "reason"}
    body: dict[str, Any] = {key: None for key in one.body if key not in kept}
    body |= new.body
    if all(one.body.get(key) == value for key, value in body.items()):
        raise NothingAcceptedError("This is what the logbook says already; nothing was entered.")
    over = dict.fromkeys(entry.id for entry in one.history if entry.kind == "survey.read")
    draft = Draft("survey.read", one.subject, body | {"reason": reason.strip()}, author, tuple(over))
    return logbook.append_many([draft])[0]
