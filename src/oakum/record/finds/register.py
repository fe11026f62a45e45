"""The register of finds: looking one up, paging through them, and what belongs to what."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from oakum.record.errors import RecordError, UnknownSubjectError
from oakum.record.finds.masses import Weighed
from oakum.record.finds.numbers import NumberError, parse_number
from oakum.record.finds.readings import Reading, standing_readings
from oakum.record.finds.search import match_expression
from oakum.record.log import entry_table as log_table
from oakum.record.log.entries import Entry
from oakum.record.log.fact_checks import be_id
from oakum.record.log.heads import Head, current, heads, standing
from oakum.record.log.views import sort_key


@dataclass(frozen=True, slots=True)
class FindLine:
    """One line of the register."""

    id: str
    number: str | None
    title: str | None
    material: str | None
    count: int
    parent: str | None
    sample_of: str | None
    is_struck: bool
    last_ms: int
    sort: str


@dataclass(frozen=True, slots=True)
class FindsPage:
    """A page of the register. `after` is what to pass for the next page, None at the end."""

    lines: tuple[FindLine, ...]
    after: str | None


@dataclass(frozen=True, slots=True)
class Find:
    """A find with everything that belongs to it.

    `fields` holds one value a field for showing, `heads` all current heads (more than one that differ: an
    open question). `joined` are all finds that are one object with this one; each keeps its number.
    """

    id: str
    number: str | None
    earlier_numbers: tuple[str, ...]
    count: int
    is_struck: bool
    fields: dict[str, Any]
    heads: dict[str, tuple[Head, ...]]
    parent: FindLine | None
    children: tuple[FindLine, ...]
    joined: tuple[FindLine, ...]
    samples: tuple[FindLine, ...]
    sample_of: FindLine | None
    readings: tuple[Reading, ...]
    photographs: tuple[Entry, ...]
    files: tuple[Entry, ...]
    history: tuple[Entry, ...]

    @property
    def title(self) -> str:
        """What it is called, or its number."""
        return str(self.fields.get("title") or self.number or self.id)


_LINE = "id, number, title, material, count, parent, sample_of, struck, last_ms, sort"


def lines(
    connection: Connection, where: str, parameters: tuple[Any, ...], tail: str = ""
) -> tuple[FindLine, ...]:
    """Return lines of the register. `where` is our own SQL text, never a user's."""
    sql = f"SELECT {_LINE} FROM find WHERE {where} ORDER BY sort, id {tail}"
    rows = connection.exec_driver_sql(sql, parameters)
    return tuple(
        FindLine(
            id=row[0],
            number=row[1],
            title=row[2],
            material=row[3],
            count=row[4],
            parent=row[5],
            sample_of=row[6],
            is_struck=bool(row[7]),
            last_ms=row[8],
            sort=row[9],
        )
        for row in rows
    )


def finds(connection: Connection, query: str = "", after: str | None = None, limit: int = 50) -> FindsPage:
    """Return a page of finds in order of number; struck-out finds are left out."""
    where = "struck = 0"
    parameters: tuple[str, ...] = ()
    match = match_expression(query)
    if match is not None:
        where, parameters = (
            where + " AND row IN (SELECT rowid FROM find_words WHERE find_words MATCH ?)",
            (match,),
        )
    elif query.strip():
        return FindsPage((), None)
    if after is not None:
        where, parameters = where + " AND (sort, id) > (?, ?)", (*parameters, *_read_mark(after))
    found = lines(connection, where, parameters, f"LIMIT {int(limit) + 1}")
    more = len(found) > limit
    shown = found[:limit]
    return FindsPage(shown, json.dumps([shown[-1].sort, shown[-1].id]) if more and shown else None)


def _read_mark(after: str) -> tuple[str, str]:
    try:
        sort, id = json.loads(after)
    except (ValueError, TypeError) as error:
        raise RecordError(
            "The mark of the next page is not one this register gave; begin at the first page."
        ) from error
    return str(sort), str(id)


def subject_of(connection: Connection, number_or_id: str) -> str:
    """Return the id of the find somebody means by an id, a number, or an earlier number."""
    wanted = number_or_id.strip()
    if be_id(wanted.lower()) is None:
        found = [
            row[0]
            for row in connection.exec_driver_sql("SELECT id FROM find WHERE id = ?", (wanted.lower(),))
        ]
    else:
        ours, earlier = (
            "SELECT id FROM find WHERE sort = ?",
            "SELECT subject FROM earlier_number WHERE text = ?",
        )
        for sql, text in ((ours, sort_key(wanted)), (earlier, wanted), (ours, sort_key(_as_ours(wanted)))):
            found = [row[0] for row in connection.exec_driver_sql(sql, (text,))]
            if found:
                break
    if not found:
        raise UnknownSubjectError(
            f"There is no find {wanted} in this logbook. Search for a word of its description."
        )
    if len(found) > 1:
        raise RecordError(
            f"{len(found)} finds carry the number {wanted}: {', '.join(found)}. Give the id of the one meant."
        )
    return str(found[0])


def _as_ours(typed: str) -> str:
    """Return a number of ours in its written form; refuse a wrong check character, saying the right one."""
    stem, stroke, sample = typed.partition("/")
    try:
        return str(parse_number(stem, need_check=False)) + (stroke + sample.upper() if stroke else "")
    except NumberError as error:
        if "check character" in str(error) and "does not fit" in str(error):
            raise
        return typed


def find(connection: Connection, number_or_id: str) -> Find:
    """Return a find with its parts, joins, samples, readings, photographs, files and history."""
    id = subject_of(connection, number_or_id)
    history = log_table.of_subjects(connection, [id])[id]
    found = heads(history)
    fields = current(found)
    stands = standing(history)
    (own,) = lines(connection, "id = ?", (id,))
    return Find(
        id=id,
        number=own.number,
        earlier_numbers=tuple(fields.get("earlier_numbers") or ()),
        count=own.count,
        is_struck=own.is_struck,
        fields=fields,
        heads=found,
        parent=_one(connection, own.parent),
        children=lines(connection, "parent = ?", (id,)),
        joined=joined_with(connection, id),
        samples=lines(connection, "sample_of = ?", (id,)),
        sample_of=_one(connection, own.sample_of),
        readings=standing_readings(history),
        photographs=tuple(entry for entry in stands if entry.kind == "photo.linked"),
        files=tuple(entry for entry in stands if entry.kind == "file.linked"),
        history=tuple(history),
    )


def _one(connection: Connection, id: str | None) -> FindLine | None:
    found = lines(connection, "id = ?", (id,)) if id else ()
    return found[0] if found else None


def object_of(connection: Connection, id: str) -> tuple[str, ...]:
    """Return the ids of all finds that are one object with this one, itself included, in order."""
    rows = connection.exec_driver_sql(
        "WITH RECURSIVE one (id) AS (VALUES (?) UNION "
        "SELECT CASE WHEN j.subject = one.id THEN j.other ELSE j.subject END "
        "FROM one JOIN joined j ON j.subject = one.id OR j.other = one.id) SELECT id FROM one ORDER BY id",
        (id,),
    )
    return tuple(row[0] for row in rows)


def joined_with(connection: Connection, id: str) -> tuple[FindLine, ...]:
    """Return the other finds of the object."""
    others = [other for other in object_of(connection, id) if other != id]
    return lines(connection, f"id IN ({','.join('?' * len(others))})", tuple(others)) if others else ()


def weighed(connection: Connection, state: str) -> list[Weighed]:
    """Return every find that stands, with its mass readings in one state, for `masses.tally`."""
    pairs: dict[str, list[str]] = {}
    for subject, other in connection.exec_driver_sql("SELECT subject, other FROM joined ORDER BY entry"):
        pairs.setdefault(subject, []).append(other)
        pairs.setdefault(other, []).append(subject)
    sql = "SELECT DISTINCT subject FROM reading WHERE quantity = 'mass' AND state = ?"
    with_readings = [row[0] for row in connection.exec_driver_sql(sql, (state,))]
    held = log_table.of_subjects(connection, with_readings)
    readings = {
        subject: tuple(
            one for one in standing_readings(entries) if one.quantity == "mass" and one.state == state
        )
        for subject, entries in held.items()
    }
    return [
        Weighed(one.id, one.parent, tuple(pairs.get(one.id, ())), one.sample_of, readings.get(one.id, ()))
        for one in lines(connection, "struck = 0", ())
    ]
