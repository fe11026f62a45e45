"""The gear register: every piece with what its tag and its papers say now."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from oakum.record.errors import RecordError, UnknownSubjectError
from oakum.record.gear.words import tag_key
from oakum.record.log import entry_table as log_table
from oakum.record.log.entries import Entry
from oakum.record.log.fact_checks import be_id
from oakum.record.log.heads import Head, current, heads


@dataclass(frozen=True, slots=True)
class GearPiece:
    """A piece of gear. `fields` holds one value a field for showing, `heads` all current heads.

    `twins` are ids of other pieces of the same kind with the same identity: an open question.
    """

    id: str
    kind: str
    identity: str
    is_struck: bool
    fields: dict[str, Any]
    heads: dict[str, tuple[Head, ...]]
    twins: tuple[str, ...]
    history: tuple[Entry, ...]

    @property
    def name(self) -> str:
        """Kind and identity, as people call it."""
        return f"{self.kind} {self.identity}"


def pieces(connection: Connection, *, with_struck: bool = False) -> tuple[GearPiece, ...]:
    """Return every piece, in order of kind and identity."""
    where = "" if with_struck else "WHERE struck = 0"
    rows = connection.exec_driver_sql(
        f"SELECT subject, sort, kind, identity, struck FROM gear {where} ORDER BY struck, sort, subject"
    ).all()
    held = log_table.of_subjects(connection, [row[0] for row in rows])
    by_key: dict[str, list[str]] = {}
    for subject, key, *_ in rows:
        by_key.setdefault(key, []).append(subject)
    return tuple(
        _piece(row[0], row[2], row[3], bool(row[4]), held[row[0]], by_key[row[1]] if not row[4] else [])
        for row in rows
    )


def _piece(
    id: str, kind: str, identity: str, is_struck: bool, history: list[Entry], same: list[str]
) -> GearPiece:
    found = heads(history)
    twins = tuple(one for one in same if one != id)
    return GearPiece(id, kind, identity, is_struck, current(found), found, twins, tuple(history))


def piece(connection: Connection, identity_or_id: str) -> GearPiece:
    """Return the piece somebody means by id, identity, or kind and identity."""
    wanted = identity_or_id.strip()
    every = pieces(connection, with_struck=be_id(wanted) is None)
    if be_id(wanted) is None:
        found = [one for one in every if one.id == wanted]
    else:
        key = tag_key(wanted)
        found = [one for one in every if key in (tag_key(one.identity), tag_key(one.name))]
    if not found:
        raise UnknownSubjectError(
            f"There is no piece of gear {wanted} in the register. Look at the tag, or list the piece."
        )
    if len(found) > 1:
        names = ", ".join(sorted({one.name for one in found}))
        raise RecordError(
            f"{len(found)} pieces carry the identity {wanted}: {names}. Give kind and identity, or the id."
        )
    return found[0]
