"""One identity, one piece: what a new tag is checked against before it enters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sqlalchemy import Connection

from oakum.record.errors import FactError, UnknownSubjectError
from oakum.record.gear.words import identity_key
from oakum.record.log.entries import Entry
from oakum.record.log.heads import current, heads, standing


class IdentityDesk:
    """The identities of all pieces, and those of the batch being written. Lives inside one write transaction."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._in_batch: dict[str, str | None] = {}  # subject -> key it has after the entries of this batch

    def admit(self, kind: str, subject: str, before: Sequence[Entry], body: Mapping[str, Any]) -> None:
        """Raise `RecordError` unless this entry about a piece may enter."""
        listed = any(entry.kind == "gear.listed" for entry in before)
        if kind == "gear.listed" and before:
            raise FactError(
                "This piece was listed before; describe or correct it with gear.described."
                if listed
                else "The id is that of something else; a piece of gear gets an id of its own."
            )
        if kind != "gear.listed" and not listed:
            raise UnknownSubjectError(f"There is no piece of gear with the id {subject}; list it first.")
        if "identity" in body or "kind" in body:
            now = {**current(heads(before)), **body}
            self._claim(subject, now.get("kind"), now.get("identity"))

    def _claim(self, subject: str, kind: Any, identity: Any) -> None:
        if not isinstance(kind, str) or not isinstance(identity, str):
            raise FactError(
                "A piece of gear keeps a kind and an identity; without a tag nothing can be checked against it."
            )
        key = identity_key(kind, identity)
        others = {
            row[0] for row in self._connection.exec_driver_sql("SELECT subject FROM gear WHERE sort = ?", (key,))
        }
        others = {one for one in others if self._in_batch.get(one, key) == key}
        others |= {one for one, held in self._in_batch.items() if held == key}
        if others - {subject}:
            raise FactError(
                f"There is a {kind} with the identity {identity} already: two pieces with one identity cannot be "
                "told apart in a certificate. Look at both tags; mark one of them anew, or describe the piece "
                "that is listed."
            )
        self._in_batch[subject] = key


def gear_row(subject: str, entries: Sequence[Entry]) -> tuple[Any, ...] | None:
    """Return the view row of a piece: subject, sort, kind, identity, struck; None for what is no piece."""
    begun = [entry for entry in entries if entry.kind == "gear.listed"]
    if not begun:
        return None
    now = current(heads(entries))
    first = min(begun, key=lambda entry: (entry.at, entry.id)).body
    kind, identity = now.get("kind", first["kind"]), now.get("identity", first["identity"])
    is_struck = not any(entry.kind == "gear.listed" for entry in standing(entries))
    key = ("~" if is_struck else "") + identity_key(kind, identity)
    return (subject, key, kind, identity, int(is_struck))
