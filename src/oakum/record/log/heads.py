"""The current value of every field of one subject, as a pure function of a set of entries.

Entry E2 `over` E1 replaces E1 in the fields E2 sets. A strike-out makes an entry count as never said, with
everything it replaced coming back; striking out the strike-out undoes that. Arrival order plays no part: only
what entries name in `over`, and a link to an entry with a later stamp does not count.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from oakum.record.log.entries import Entry
from oakum.record.log.facts import KINDS, RESERVED


@dataclass(frozen=True, slots=True)
class Head:
    """A value a field has now, and the entry it comes from. Two heads that differ are an open question."""

    field: str
    value: Any
    entry: Entry


def in_order(entries: Iterable[Entry]) -> list[Entry]:
    """Return the entries by stamp, station and sequence: the same order wherever they are read."""
    return sorted(entries, key=lambda e: (e.at, e.station, e.seq, e.id))


def struck_ids(entries: Iterable[Entry]) -> set[str]:
    """Return the ids of entries that are struck out by a strike-out that itself stands."""
    by_id = {entry.id: entry for entry in entries}
    struck: set[str] = set()
    for entry in reversed(in_order(by_id.values())):
        if entry.kind == "struck" and entry.id not in struck:
            struck.update(id for id in entry.over if id in by_id and by_id[id].at < entry.at)
    return struck


def standing(entries: Iterable[Entry]) -> list[Entry]:
    """Return the entries that are not struck out, in order."""
    held = list(entries)
    struck = struck_ids(held)
    return [entry for entry in in_order(held) if entry.id not in struck]


def fields_of(entry: Entry) -> Mapping[str, Any]:
    """Return the fields an entry sets; item kinds and strike-outs set none."""
    if entry.kind == "settled":
        fields = entry.body.get("fields", {})
        return fields if isinstance(fields, dict) else {}
    kind = KINDS.get(entry.kind)
    if kind is None or kind.is_item or entry.kind == "struck":
        return {}
    return {key: value for key, value in entry.body.items() if key not in RESERVED}


def heads(entries: Iterable[Entry]) -> dict[str, tuple[Head, ...]]:
    """Return for every field its current heads: one where all agree on what is newest, more where not."""
    held = list(entries)
    by_id = {entry.id: entry for entry in held}
    sets = {entry.id: fields_of(entry) for entry in held}
    alive = standing(held)
    replaced = {
        (id, name) for entry in alive for name in sets[entry.id] for id in _under(entry, name, by_id, sets)
    }
    found: dict[str, list[Head]] = {}
    for entry in alive:
        for name, value in sets[entry.id].items():
            if (entry.id, name) not in replaced:
                found.setdefault(name, []).append(Head(name, value, entry))
    return {name: tuple(found[name]) for name in sorted(found)}


def _under(
    entry: Entry, name: str, by_id: Mapping[str, Entry], sets: Mapping[str, Mapping[str, Any]]
) -> set[str]:
    """Return every earlier entry that `entry` replaces in one field, through any chain of corrections."""
    found: set[str] = set()
    waiting = [(entry, id) for id in entry.over]
    while waiting:
        upper, id = waiting.pop()
        lower = by_id.get(id)
        if lower is None or id in found or not lower.at < upper.at:
            continue
        found.add(id)
        if name in sets[id]:
            waiting += [(lower, deeper) for deeper in lower.over]
    return found


def values(heads_of_field: tuple[Head, ...]) -> list[Any]:
    """Return the different values among the heads of one field."""
    different: list[Any] = []
    for head in heads_of_field:
        if head.value not in different:
            different.append(head.value)
    return different


def current(found: Mapping[str, tuple[Head, ...]]) -> dict[str, Any]:
    """Return one value a field for showing, that of the newest head; what is "not known" is left out."""
    return {name: heads[-1].value for name, heads in found.items() if heads[-1].value is not None}
