"""A reading on its way in: what the logbook would hold, and what a person must read before it enters."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from oakum.record import Draft

Status = Literal["ready", "look", "refused"]


@dataclass(frozen=True, slots=True)
class Remark:
    """Something to say about a reading, and the field it stands beside ("" for the reading as a whole)."""

    field: str
    words: str


@dataclass(frozen=True, slots=True)
class ProposedReading:
    """A reading that has been read but not entered.

    `status`: "ready" to enter; "look": it may be wrong and enters only when somebody says so; "refused": it cannot
    be taken. `row` is its line or row from 1, `part` tells two readings of one row apart; `doubts` and `faults` say
    why; `notes` only tell. `body` is what the logbook would hold ({} where refused), `seen` when and by whom it was
    read.
    """

    row: int
    text: str
    what: str
    marks: tuple[str, ...]
    body: Mapping[str, Any]
    seen: Mapping[str, Any] | None = None
    faults: tuple[Remark, ...] = ()
    doubts: tuple[Remark, ...] = ()
    notes: tuple[str, ...] = ()
    part: str = ""

    @property
    def key(self) -> str:
        """What tells it from the other readings of a proposal: its row, and its part of it."""
        return f"{self.row}{self.part}"

    @property
    def status(self) -> Status:
        """Whether it may enter."""
        return "refused" if self.faults else "look" if self.doubts else "ready"

    @property
    def messages(self) -> tuple[str, ...]:
        """Everything to say about it."""
        return (*(r.words for r in self.faults), *(r.words for r in self.doubts), *self.notes)

    @property
    def value_words(self) -> str:
        """Its number in SI, as a table shows it."""
        return value_words(self.what, self.body)

    def doubted(self, *doubts: Remark) -> ProposedReading:
        """The same with more doubts."""
        return replace(self, doubts=(*self.doubts, *doubts))

    def draft(self, author: str) -> Draft:
        """The entry; the doubts it was entered in spite of go with it."""
        body = dict(self.body)
        if self.doubts:
            body["doubt"] = " ".join(r.words for r in self.doubts)
        return Draft("survey.read", None, body, author, seen=self.seen)


@dataclass(frozen=True, slots=True)
class SurveyProposal:
    """Several readings as proposed. Nothing of it is in the logbook until rows are accepted.

    `notes` hold for all; `columns` say what each column of a spreadsheet is taken for; `left_out` are rows that hold
    no reading; `two_names` are groups of spellings that may be one mark.
    """

    name: str
    rows: tuple[ProposedReading, ...]
    notes: tuple[str, ...] = ()
    columns: tuple[tuple[str, str], ...] = ()
    left_out: tuple[str, ...] = ()
    two_names: tuple[tuple[str, ...], ...] = ()

    def of_status(self, *statuses: Status) -> tuple[ProposedReading, ...]:
        """The rows of these statuses, in order."""
        return tuple(row for row in self.rows if row.status in statuses)

    def count(self, status: Status) -> int:
        """How many rows have this status."""
        return len(self.of_status(status))

    def words(self) -> str:
        """What came of it, as a sentence."""
        total, out = len(self.rows), len(self.left_out)
        rest = f"; {out} {'row' if out == 1 else 'rows'} left out" if out else ""
        return (
            f"{total:,} {'reading' if total == 1 else 'readings'}: {self.count('ready'):,} ready, "
            f"{self.count('look'):,} to be looked at, {self.count('refused'):,} refused{rest}."
        )


def value_words(what: str, body: Mapping[str, Any]) -> str:
    """The numbers of a reading in SI, as a table shows them."""
    if what == "fix":
        return ", ".join(f"{axis} {float(body[axis]):.2f} m" for axis in "xyz" if body.get(axis) is not None)
    if what == "offset":
        parts = []
        if body.get("along") is not None:
            parts.append(f"{float(body['along']):.2f} m along")
        if body.get("left") is not None:
            left = float(body["left"])
            parts.append(f"{abs(left):.2f} m {'left' if left >= 0 else 'right'}")
        return ", ".join(parts)
    if body.get("value") is None:
        return ""
    value = float(body["value"])
    if what == "bearing":
        return f"{value:.1f}°"
    if what == "tie":
        return f"{value:.3f} m from {float(body['at']):.2f} m"
    if what == "depth":
        return f"{value:.2f} m"
    return f"{value:+.3f} m" if what == "level" else f"{value:.3f} m"
