"""What the tables for screens hold about one subject, as a pure function of its entries.

Nothing here depends on the order in which entries arrived, nor on any other subject; so a table kept up entry
by entry and a table rebuilt from the whole log are the same.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, TypeAlias

from oakum.record.finds.readings import Reading, grouped, standing_readings, why_open
from oakum.record.gear.identities import gear_row
from oakum.record.log.canonical import canonical_body
from oakum.record.log.entries import Entry
from oakum.record.log.heads import Head, current, heads, standing, values

STARTS_A_FIND = frozenset({"find.entered", "find.sample"})
_NOT_WORDS = frozenset({"parent", "of", "toml", "rig", "cradle", "seen", "reason"})
_Row: TypeAlias = tuple[Any, ...]


class Rows(NamedTuple):
    """The rows of one subject in each view."""

    find: Sequence[_Row] = ()
    earlier_number: Sequence[_Row] = ()
    joined: Sequence[_Row] = ()
    reading: Sequence[_Row] = ()
    question: Sequence[_Row] = ()
    gear: Sequence[_Row] = ()


def sort_key(number: str) -> str:
    """Return one of our numbers padded, so that T-2 comes before T-10 and samples follow their find."""
    prefix, _, rest = number.partition("-")
    digits, _, check = rest.partition("-")
    if len(check) > 1:
        check, _, sample = check.partition("/S")
        return f"{prefix}-{digits:0>9}-{check}/S{sample:0>6}"
    return f"{prefix}-{digits:0>9}-{check}"


def rows_of(subject: str, entries: Sequence[Entry]) -> Rows:
    """Return the rows of one subject from all its entries."""
    if len(entries) == 1 and entries[0].kind == "find.entered":
        return _new_find(entries[0])
    if len(entries) == 1 and entries[0].kind == "survey.read":
        return Rows()  # thousands may come at once, and no table holds them
    found = heads(entries)
    stands = standing(entries)
    find: list[_Row] = []
    earlier_number: list[_Row] = []
    gear: list[_Row] = []
    begun = [entry for entry in entries if entry.kind in STARTS_A_FIND]
    if begun:
        now = current(found)
        # A number is never given again: a find or sample that was struck out keeps its own.
        first = min(begun, key=lambda entry: (entry.at, entry.id)).body
        now.update({key: first[key] for key in ("number", "of", "sample") if key in first})
        is_struck = not any(entry.kind in STARTS_A_FIND for entry in stands)
        last_ms = max(entry.at.ms for entry in entries)
        find.append(_find_row(subject, now, int(is_struck), len(entries), last_ms))
        earlier = {text for entry in entries for text in entry.body.get("earlier_numbers") or ()}
        earlier_number.extend((text, subject) for text in sorted(earlier))
    elif piece := gear_row(subject, entries):
        gear.append(piece)
    joined = [(e.id, subject, e.body["other"]) for e in stands if e.kind == "find.joined"]
    reading: list[_Row] = []
    question: list[_Row] = []
    for (quantity, state), several in grouped(standing_readings(entries)).items():
        reading.extend(_reading_row(subject, one) for one in several)
        if why := why_open(several):
            body = {
                "quantity": quantity,
                "state": state,
                "why": why,
                "values": [one.text for one in several],
                "entries": [one.entry.id for one in several],
            }
            question.append((subject, f"reading:{quantity}:{state}", canonical_body(body)))
    question.extend(_field_questions(subject, found))
    return Rows(find, earlier_number, joined, reading, question, gear)


def _new_find(entry: Entry) -> Rows:
    """Return the rows of a find with a single entry: the common case of an import, and nothing can differ."""
    body = entry.body
    find = _find_row(entry.subject, body, 0, 1, entry.at[0])
    numbers = body.get("earlier_numbers")
    return Rows((find,), [(text, entry.subject) for text in sorted(set(numbers))] if numbers else ())


def _reading_row(subject: str, one: Reading) -> _Row:
    body = one.entry.body["reading"] if one.is_settled else one.entry.body
    written = (one.quantity, one.state, body["value"], one.unit, body.get("sd"))
    return (one.entry.id, subject, *written, int(one.is_settled))


def _find_row(
    subject: str, now: Mapping[str, Any], is_struck: int, entries: int, last_ms: int
) -> _Row:
    value = now.get
    shown = value("number")
    return (
        subject,
        sort_key(shown) if shown else "~" + subject,
        shown,
        value("title"),
        value("material"),
        value("count") or 1,
        value("parent"),
        value("of"),
        value("sample"),
        is_struck,
        entries,
        last_ms,
        _words(now),
    )


def _words(now: Mapping[str, Any]) -> str:
    """Return every text of a find that a search should meet."""
    found: list[str] = []
    for key in sorted(now):
        value = now[key]
        kind = type(value)
        if kind is str:
            if key not in _NOT_WORDS:
                found.append(value)
        elif kind is list or kind is tuple:
            found.extend(item if type(item) is str else " ".join(item) for item in value)
        elif kind is dict and key not in _NOT_WORDS:
            found.append(value.get("text", ""))
    return " ".join(found)


def _field_questions(subject: str, found: dict[str, tuple[Head, ...]]) -> list[_Row]:
    rows: list[_Row] = []
    for name, several in found.items():
        if len(several) > 1 and len(different := values(several)) > 1:
            body = {"field": name, "values": different, "entries": [head.entry.id for head in several]}
            rows.append((subject, f"field:{name}", canonical_body(body)))
    return rows


def read_question(text: str) -> dict[str, Any]:
    """Return the body of a question row."""
    body: dict[str, Any] = json.loads(text)
    return body
