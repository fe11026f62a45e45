"""What the tables for screens hold about one subject, as a pure function of its entries.

Nothing here depends on the order in which entries arrived, nor on any other subject; so a table kept up entry by
entry and a table rebuilt from the whole log are the same.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from typing import Any, NamedTuple

from oakum.record.canonical import canonical_body
from oakum.record.entries import Entry
from oakum.record.heads import Head, current, heads, standing, values
from oakum.record.numbers import NumberError, parse_number
from oakum.record.readings import grouped, standing_readings, why_open

STARTS_A_FIND = frozenset({"find.entered", "find.sample"})
_DIGITS = re.compile(r"\d+")


class Rows(NamedTuple):
    """The rows of one subject, a list for each view."""

    find: list[tuple[Any, ...]]
    number: list[tuple[Any, ...]]
    joined: list[tuple[Any, ...]]
    reading: list[tuple[Any, ...]]
    question: list[tuple[Any, ...]]


def sort_key(number: str) -> str:
    """Return the number with every run of digits padded, so that T-2 comes before T-10."""
    return _DIGITS.sub(lambda run: run.group().zfill(9), number.upper())


def rows_of(subject: str, entries: Sequence[Entry]) -> Rows:
    """Return the rows of one subject from all its entries."""
    if len(entries) == 1 and entries[0].kind == "find.entered":
        return _new_find(entries[0])
    found = heads(entries)
    standing_ = standing(entries)
    rows = Rows([], [], [], [], [])
    if any(entry.kind in STARTS_A_FIND for entry in entries):
        now = current(found)
        begun = any(entry.kind in STARTS_A_FIND for entry in standing_)
        last_ms = max(entry.at.ms for entry in entries)
        rows.find.append(_find_row(subject, now, struck=not begun, entries=len(entries), last_ms=last_ms))
        rows.number.extend(_number_rows(subject, entries, now))
    rows.joined.extend((e.id, subject, e.body["other"]) for e in standing_ if e.kind == "find.joined")
    readings = standing_readings(entries)
    rows.reading.extend(
        (r.entry.id, subject, r.quantity, r.state, _written(r.entry, "value"), r.unit, _written(r.entry, "sd"), int(r.is_settled))
        for r in readings
    )
    rows.question.extend(_field_questions(subject, found))
    for (quantity, state), several in grouped(readings).items():
        why = why_open(several)
        if why:
            body = {
                "quantity": quantity,
                "state": state,
                "why": why,
                "values": [r.text for r in several],
                "entries": [r.entry.id for r in several],
            }
            rows.question.append((subject, f"reading:{quantity}:{state}", canonical_body(body)))
    return rows


def _new_find(entry: Entry) -> Rows:
    """Return the rows of a find with a single entry: the common case of an import, and nothing can differ."""
    now = {key: value for key, value in entry.body.items() if value is not None and key not in ("seen", "reason")}
    find = _find_row(entry.subject, now, struck=False, entries=1, last_ms=entry.at.ms)
    return Rows([find], _number_rows(entry.subject, (entry,), now), [], [], [])


def _written(entry: Entry, key: str) -> str | None:
    body: dict[str, Any] = entry.body["reading"] if entry.kind == "settled" else entry.body
    return body.get(key)


def _find_row(subject: str, now: dict[str, Any], *, struck: bool, entries: int, last_ms: int) -> tuple[Any, ...]:
    shown = now.get("number")
    earlier = now.get("earlier_numbers") or ()
    sort = sort_key(shown or (earlier[0] if earlier else "~" + subject))
    return (
        subject,
        sort,
        shown,
        now.get("title"),
        now.get("material"),
        now.get("count", 1),
        now.get("parent"),
        now.get("of"),
        now.get("sample"),
        int(struck),
        entries,
        last_ms,
        " ".join(_words(now)),
    )


def _words(now: dict[str, Any]) -> list[str]:
    """Return every text of a find that a search should meet, number first."""
    found: list[str] = [now["number"]] if "number" in now else []
    for key, value in sorted(now.items()):
        if key in ("number", "parent", "of", "toml"):
            continue
        if type(value) is str:
            found.append(value)
        elif type(value) is list:
            for item in value:
                found.append(item if type(item) is str else " ".join(item))
        elif type(value) is dict:
            found.append(value.get("text", ""))
    return found


def _number_rows(subject: str, entries: Sequence[Entry], now: dict[str, Any]) -> list[tuple[Any, ...]]:
    """Return every number the subject ever had, struck out or not, so that none is given again."""
    held = {entry.body["number"] for entry in entries if entry.body.get("number")}
    rows: list[tuple[Any, ...]] = []
    for text in sorted(held):
        prefix, running = _split(text)
        rows.append((text, subject, prefix, running, int(text == now.get("number"))))
    earlier = {text for entry in entries for text in entry.body.get("earlier_numbers") or ()}
    still = now.get("earlier_numbers") or ()
    rows += [(text, subject, None, None, int(text in still)) for text in sorted(earlier - held)]
    return rows


def _split(text: str) -> tuple[str | None, int | None]:
    prefix, _, rest = text.partition("-")
    digits, _, check = rest.partition("-")
    if digits.isdigit() and len(check) == 1:
        return prefix, int(digits)
    try:
        number = parse_number(text, need_check=False)
    except NumberError:
        return None, None
    return number.prefix, number.running


def _field_questions(subject: str, found: dict[str, tuple[Head, ...]]) -> list[tuple[Any, ...]]:
    rows: list[tuple[Any, ...]] = []
    for name, several in found.items():
        if len(several) > 1 and len(different := values(several)) > 1:
            body = {"field": name, "values": different, "entries": [head.entry.id for head in several]}
            rows.append((subject, f"field:{name}", canonical_body(body)))
    return rows


def read_question(text: str) -> dict[str, Any]:
    """Return the body of a question row."""
    body: dict[str, Any] = json.loads(text)
    return body
