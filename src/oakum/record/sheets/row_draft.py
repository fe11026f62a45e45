"""What is known of one row of a list while it is read: fields, messages, and whether it may enter."""

from __future__ import annotations

from typing import Any

from oakum.record.sheets.cells import TEXT_LIMIT
from oakum.record.sheets.proposals import Status
from oakum.record.sheets.rows import Row


class RowDraft:
    """One row on its way to a proposal. `remarks` go into the note, with what could not be read as a field."""

    def __init__(self, row: Row) -> None:
        self.row = row
        self.status: Status = "ready"
        self.fields: dict[str, Any] = {}
        self.messages: list[str] = []
        self.remarks: list[str] = []

    def say(self, message: str) -> None:
        """Add a message that changes nothing."""
        self.messages.append(message)

    def look(self, message: str) -> None:
        """Add a message a person must read before accepting the row."""
        self.messages.append(message)
        if self.status == "ready":
            self.status = "look"

    def refuse(self, message: str) -> None:
        """Add a message that keeps the row out."""
        if self.status != "refused":
            self.messages.insert(0, message)
        else:
            self.messages.append(message)
        self.status = "refused"

    def close(self) -> tuple[str, ...]:
        """Put the remarks into the note, refuse texts that are too long, and return the messages."""
        note = "; ".join(text for text in (self.fields.pop("note", None), *self.remarks) if text)
        if note:
            self.fields["note"] = note
        for name in [
            n for n, value in self.fields.items() if isinstance(value, str) and len(value) > TEXT_LIMIT
        ]:
            size = len(self.fields.pop(name))
            self.refuse(
                f"{name} comes to {size:,} characters; up to {TEXT_LIMIT:,} are taken. Shorten it in the sheet"
            )
        return tuple(dict.fromkeys(self.messages))
