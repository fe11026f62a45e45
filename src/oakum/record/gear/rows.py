"""One row of a list of gear read as a proposed piece, against all identities of the sheet and the register."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from oakum.record.club_register.numbers import LARGEST_RANGE
from oakum.record.gear.cells import read_gear_cell
from oakum.record.gear.columns import kind_of
from oakum.record.gear.words import GEAR_KINDS, identity_key, near_kind
from oakum.record.log.kinds_gear import papers_in_order
from oakum.record.sheets.cells import CellError, is_not_known
from oakum.record.sheets.columns import Column
from oakum.record.sheets.proposals import Status
from oakum.record.sheets.row_draft import RowDraft
from oakum.record.sheets.rows import Cell, Row

_PAPERS = (("certificate_until", "certificate"), ("inspect_by", "inspection"))
_RUN = re.compile(r"(?P<head>\D*)(?P<first>\d+)\s*(?:-|\u2013|\.\.|\bto\b)\s*(?:(?P=head))?(?P<last>\d+)")
_LIST = re.compile(r"\s*(?:,|;|&|\band\b)\s*")
_OUT_OF_USE = re.compile(r"quarantin|do not use|not to be used|withdrawn|condemned|scrapped|out of use", re.I)
_NO = frozenset({"no", "n", "false", "0", "in use", "ok"})
_YES = frozenset({"yes", "y", "true", "1", "x"})


@dataclass(frozen=True, slots=True)
class ProposedPiece:
    """One row of the list as a piece of gear, or as several where it names several identities.

    `fields` is what the logbook would hold of each; `withdrawn` is why the list says it is out of use.
    """

    row: int
    status: Status
    kind: str
    identities: tuple[str, ...]
    fields: Mapping[str, Any]
    messages: tuple[str, ...] = ()
    withdrawn: str | None = None

    @property
    def name(self) -> str:
        """Kind and identity, as people call it."""
        return f"{self.kind} {', '.join(self.identities) or 'without identity'}"


class GearRowReader:
    """Reads the rows of one list, in their order: the first row with an identity keeps it.

    `known` are keys of pieces the register has; `on` is the day (YYYY-MM-DD) at which papers are looked at.
    """

    def __init__(
        self, columns: tuple[Column, ...], orders: Mapping[int, Any], known: Collection[str], on: str
    ) -> None:
        self.columns = columns
        self.orders = orders
        self.known = frozenset(known)
        self.on = on
        self.short_years = 0
        self._rows: dict[str, int] = {}

    def read(self, row: Row) -> ProposedPiece:
        """The row as a proposed piece; whatever is wrong with it becomes a message, never an error."""
        draft = RowDraft(row)
        said: dict[str, str] = {}
        for column in self.columns:
            cell = row.cells[column.index]
            if cell.kind == "formula":
                draft.refuse(str(cell.problem))
            elif cell.kind == "error":
                draft.look(str(cell.problem))
            elif not cell.is_blank and not is_not_known(cell.text):
                self._take(draft, said, cell, column)
        kind = self._kind(draft, said)
        identities = self._identities(draft, said, kind)
        withdrawn = _withdrawn(draft, said)
        if draft.status != "refused":
            self._check_papers(draft)
        messages = draft.close()
        return ProposedPiece(row.number, draft.status, kind, identities, draft.fields, messages, withdrawn)

    def _take(self, draft: RowDraft, said: dict[str, str], cell: Cell, column: Column) -> None:
        field = column.field or ""
        if field == "inspector":
            return
        if field in ("kind", "identity", "count", "withdrawn"):
            said[field] = cell.text.strip()
            if field == "identity" and cell.kind == "date":
                draft.look(
                    f"cell {cell.address} holds a date ({cell.text}) where an identity is expected; spreadsheets turn "
                    "marks such as 3-12 into dates. Look at the tag"
                )
            return
        try:
            found = read_gear_cell(cell, column, self.orders.get(column.index))
        except CellError as error:
            draft.look(f"cell {cell.address} ({column.header}): {error}")
            draft.remarks.append(f"{column.header} as written: {cell.text}")
            return
        self.short_years += found.short_year
        if field == "extra":
            draft.fields.setdefault("extra", []).append([column.header or column.letter, found.value])
        elif field in ("description", "note") and field in draft.fields:
            draft.fields[field] = f"{draft.fields[field]}; {column.header}: {found.value}"
        else:
            draft.fields[field] = found.value

    def _kind(self, draft: RowDraft, said: Mapping[str, str]) -> str:
        written, described = said.get("kind", ""), str(draft.fields.get("description", ""))
        plain = " ".join(written.casefold().split())
        kind = plain if plain in GEAR_KINDS else kind_of(written) or kind_of(described)
        if written and plain != kind and written.casefold() not in described.casefold():
            draft.fields["description"] = f"{written}; {described}" if described else written
        if kind is None:
            what = written or described or "nothing"
            hint = f"{near_kind(what)}. Accepted, it is listed as other"
            draft.look(f"says {what!r}, which names no kind of gear; {hint}")
            return "other"
        return kind

    def _identities(self, draft: RowDraft, said: Mapping[str, str], kind: str) -> tuple[str, ...]:
        written = said.get("identity", "")
        count = self._count(draft, said)
        if not written:
            draft.refuse(
                "no identity: without a tag no certificate can be held against it. Mark the piece and list it again"
            )
            return ()
        identities = _identities(written) if count is not None and count > 1 else (written,)
        if count is not None and count != len(identities):
            held = "one identity" if len(identities) == 1 else f"{len(identities)} identities"
            draft.refuse(
                f"says {count} piece{'' if count == 1 else 's'} with {held} ({written}); each piece has its own: "
                "give each a row"
            )
        elif len(identities) > 1:
            draft.look(
                f"identity {written} reads as {len(identities)} pieces; accepted, each is listed with these papers"
            )
        for identity in identities:
            self._claim(draft, kind, identity)
        return identities

    def _count(self, draft: RowDraft, said: Mapping[str, str]) -> int | None:
        written = said.get("count")
        if written is None:
            return None
        if found := re.fullmatch(r"(\d{1,4})(?:\s*(?:x|pcs?|nos?|off))?\.?", written.casefold()):
            if int(found[1]) >= 1:
                return int(found[1])
            draft.refuse(f"says a count of {written}; there is no such piece")
            return None
        draft.look(f"the count {written!r} is no whole number")
        return None

    def _claim(self, draft: RowDraft, kind: str, identity: str) -> None:
        key = identity_key(kind, identity)
        if key in self.known:
            draft.refuse(
                f"the {kind} {identity} is in the gear register already; nothing is listed twice. New papers are "
                "entered at the piece itself"
            )
        elif key in self._rows:
            draft.refuse(
                f"row {self._rows[key]} holds a {kind} with the identity {identity} already: two pieces with one "
                "identity cannot be told apart in a certificate. Look at both tags"
            )
        else:
            self._rows[key] = draft.row.number

    def _check_papers(self, draft: RowDraft) -> None:
        if wrong := papers_in_order(draft.fields):
            draft.look(wrong)
            first = ("certificate_from", "certificate_until")
            fields = first if wrong.startswith("the certificate") else ("inspected_on", "inspect_by")
            for field in fields:
                draft.remarks.append(f"{field.replace('_', ' ')} as written: {draft.fields.pop(field)}")
            self._check_papers(draft)
            return
        if "wll" not in draft.fields:
            draft.look("no WLL that can be taken; until the tag is read, every plan objects to this piece")
        for field, paper in _PAPERS:
            until = draft.fields.get(field)
            if until is None:
                draft.say(f"how long its {paper} holds is not known; every plan objects until it is")
            elif until < self.on:
                draft.say(f"its {paper} lapsed on {until}; every plan objects until there is a new one")


def _identities(written: str) -> tuple[str, ...]:
    """The identities a text such as ``W1-W4``, ``S-101 to 104`` or ``7, 8`` names; the count tells if it is so."""
    if found := _RUN.fullmatch(written):
        first, last = found["first"], found["last"]
        size = int(last) - int(first) + 1
        if 2 <= size <= LARGEST_RANGE and len(last) == len(first):
            return tuple(f"{found['head']}{n:0{len(first)}d}" for n in range(int(first), int(last) + 1))
    return tuple(piece for piece in _LIST.split(written) if piece)


def _withdrawn(draft: RowDraft, said: Mapping[str, str]) -> str | None:
    written = said.get("withdrawn", "")
    if not written or written.casefold() in _NO:
        note = str(draft.fields.get("note", ""))
        if not _OUT_OF_USE.search(note):
            return None
        written = note
    draft.say("is withdrawn in the list, and is listed as withdrawn")
    return "withdrawn in the list" if written.casefold() in _YES else written
