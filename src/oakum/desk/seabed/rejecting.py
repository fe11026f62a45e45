"""Setting readings aside, one at a time, by a named person with a reason; and taking them back in."""

from __future__ import annotations

from oakum.desk.seabed.entering import reading_named
from oakum.ground.errors import OakumError
from oakum.record import Draft, Entry, Logbook


class RejectError(OakumError):
    """A reading cannot be set aside, or taken back in, as asked; the text says why."""


def reject(logbook: Logbook, id: str, because: str, *, author: str) -> Entry:
    """Set one reading aside. It stays in the logbook and on every list, struck through, and no longer counts."""
    one = reading_named(logbook, id)
    if not because.strip():
        raise RejectError("Say why it is rejected; the reason stays in the logbook with it.")
    if one.rejected is not None:
        raise RejectError(f"Reading {one.id} is rejected already: {one.rejected}")
    body = {"rejected": because.strip()}
    over = tuple(e.id for e in one.history if e.kind in ("survey.rejected", "survey.restored"))
    if over:
        body["reason"] = because.strip()
    return logbook.append_many([Draft("survey.rejected", one.subject, body, author, over)])[0]


def restore(logbook: Logbook, id: str, because: str, *, author: str) -> Entry:
    """Take one reading back in, with a reason."""
    one = reading_named(logbook, id)
    if not because.strip():
        raise RejectError("Say why it is taken back in; the reason stays in the logbook with it.")
    if one.rejected is None:
        raise RejectError(f"Reading {one.id} is not rejected; it counts.")
    over = tuple(e.id for e in one.history if e.kind in ("survey.rejected", "survey.restored"))
    body = {"rejected": None, "reason": because.strip()}
    return logbook.append_many([Draft("survey.restored", one.subject, body, author, over)])[0]
