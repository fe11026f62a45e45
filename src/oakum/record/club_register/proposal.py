"""What an import proposes: a find a row, with a status and a message, before anything enters the logbook."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from oakum.record.club_register.numbers import Habit
from oakum.record.sheets.columns import Column
from oakum.record.sheets.proposals import Counts as Counts
from oakum.record.sheets.proposals import Status as Status


@dataclass(frozen=True, slots=True)
class ProposedFind:
    """One row of the register as a find.

    `status`: "ready" to enter; "look": a person must read the messages and accept it by itself; "refused": it
    cannot enter until the sheet is put right. `numbers` are the club's, as written. `fields` is what the logbook
    would hold. `finder` is the text of the finder column; a name never enters the log.
    """

    row: int
    status: Status
    numbers: tuple[str, ...]
    fields: Mapping[str, Any]
    messages: tuple[str, ...] = ()
    finder: str | None = None

    @property
    def number(self) -> str | None:
        """The first of the club's numbers."""
        return self.numbers[0] if self.numbers else None


@dataclass(frozen=True, slots=True)
class RegisterProposal:
    """A whole register as proposed. Nothing of it is in the logbook until rows are accepted.

    `columns` go to a field, `ignored_columns` hold something and go nowhere; `habits` are the ways its numbers are
    written; `people` the different texts of the finder column; `notes` what holds for the sheet as a whole.
    """

    name: str
    rows: tuple[ProposedFind, ...]
    columns: tuple[Column, ...]
    ignored_columns: tuple[Column, ...]
    counts: Counts
    habits: tuple[Habit, ...] = ()
    people: tuple[str, ...] = ()
    notes: tuple[str, ...] = field(default=())

    def words(self) -> str:
        """What the register came to, as a sentence."""
        return f"{self.name}: {self.counts.words()}"

    def of_status(self, *statuses: Status) -> tuple[ProposedFind, ...]:
        """The rows of these statuses, in order."""
        return tuple(row for row in self.rows if row.status in statuses)
