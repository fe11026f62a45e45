"""What the logbook knows of the seabed, collected in one pass: readings, marks, instruments, the site itself."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from oakum.record import Entry, Head, Logbook
from oakum.record.log.heads import current, heads, in_order, standing
from oakum.record.log.kinds_seabed import SITE
from oakum.record.log.survey_admission import OF_THE_SITE

READING_KIND = "survey.read"
_LATER = ("survey.rejected", "survey.restored", "site.held")
_CHANGES = ("struck", "settled")


@dataclass(frozen=True, slots=True)
class KeptReading:
    """A reading as the logbook has it now.

    `id` is short and stable (place of writing and number of its first entry), `subject` what entries about it
    name. `marks` are the names that stand for its marks in the plan, `written` those of the slate. `rejected` is
    why a named person set it aside, None where it counts; `rejected_by` who. `body` holds its fields as kept.
    """

    id: str
    subject: str
    what: str
    marks: tuple[str, ...]
    written: tuple[str, ...]
    text: str
    body: Mapping[str, Any]
    seen: Mapping[str, Any] | None
    entry: Entry
    history: tuple[Entry, ...]
    rejected: str | None = None
    rejected_by: str | None = None

    def number(self, name: str) -> float | None:
        """A number of the body by name, None where it is not known."""
        value = self.body.get(name)
        return None if value is None else float(value)

    def word(self, name: str) -> str:
        """A text of the body by name, "" where it is not known."""
        return str(self.body.get(name) or "")

    @property
    def day(self) -> str:
        """The day it was read as YYYY-MM-DD, "" where it is not known."""
        return str((self.seen or {}).get("at", ""))[:10]


@dataclass(frozen=True, slots=True)
class KeptThing:
    """A mark or an instrument: its fields now, their heads, and every entry about it."""

    subject: str
    name: str
    fields: Mapping[str, Any]
    heads: Mapping[str, tuple[Head, ...]]
    history: tuple[Entry, ...]

    def number(self, name: str) -> float | None:
        """A number by name, None where it is not known."""
        value = self.fields.get(name)
        return None if value is None else float(value)

    @property
    def also(self) -> tuple[str, ...]:
        """The other spellings of a mark."""
        return tuple(self.fields.get("also") or ())


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything about the seabed that stands. `water` are the entries on the water level, the oldest first."""

    readings: tuple[KeptReading, ...]
    marks: tuple[KeptThing, ...]
    instruments: tuple[KeptThing, ...]
    site: Mapping[str, Any]
    water: tuple[Entry, ...]


def facts_of(logbook: Logbook) -> Facts:
    """Collect what the logbook knows of the seabed; what is struck out is left out."""
    about: dict[str, list[Entry]] = {}
    first: dict[str, list[str]] = {}
    for kind in (READING_KIND, "mark.named", "survey.instrument"):
        for entry in logbook.entries(kind=kind):
            about.setdefault(entry.subject, []).append(entry)
            first.setdefault(kind, []).append(entry.subject)
    for kind in (*_LATER, *_CHANGES):
        for entry in logbook.entries(kind=kind):
            if entry.subject in about:
                about[entry.subject].append(entry)
    named = _things(about, first.get("mark.named", ()))
    rename = {spelling: mark.name for mark in named for spelling in (*mark.also, mark.name)}
    short = _short_stations(entry.station for held in about.values() for entry in held[:1])
    readings = []
    for subject in dict.fromkeys(first.get(READING_KIND, ())):
        one = _reading(subject, about[subject], rename, short)
        if one is not None:
            readings.append(one)
    site = logbook.entries(SITE)
    return Facts(
        tuple(readings),
        named,
        _things(about, first.get("survey.instrument", ())),
        current(heads([e for e in site if e.kind in OF_THE_SITE or e.kind in _CHANGES])),
        tuple(entry for entry in standing(site) if entry.kind == "site.water"),
    )


def _reading(
    subject: str, held: list[Entry], rename: Mapping[str, str], short: Mapping[str, str]
) -> KeptReading | None:
    newest = held[0]
    body: Mapping[str, Any] = newest.body
    rejected = by = None
    if len(held) > 1:
        found = heads(held)
        body = current(found)
        if "what" not in body:
            return None  # struck out
        newest = found["text"][-1].entry
        aside = found.get("rejected", ())
        if aside and aside[-1].value is not None:
            rejected, by = str(aside[-1].value), aside[-1].entry.author
    written = tuple(body["marks"])
    return KeptReading(
        f"{short[held[0].station]}-{held[0].seq}",
        subject,
        body["what"],
        tuple(rename.get(name, name) for name in written),
        written,
        body["text"],
        body,
        newest.seen or held[0].seen,
        newest,
        tuple(held) if len(held) == 1 else tuple(in_order(held)),
        rejected,
        by,
    )


def _things(about: Mapping[str, list[Entry]], subjects: Iterable[str]) -> tuple[KeptThing, ...]:
    found = []
    for subject in dict.fromkeys(subjects):
        held = about[subject]
        now = heads(held)
        fields = current(now)
        if "name" in fields:
            found.append(KeptThing(subject, fields["name"], fields, now, tuple(in_order(held))))
    return tuple(found)


def _short_stations(stations: Iterable[str]) -> dict[str, str]:
    """The word of each station; its whole name where two share the word."""
    by_word = defaultdict(set)
    every = set(stations)
    for station in every:
        by_word[station.rsplit("-", 1)[0]].add(station)
    return {s: (w if len(by_word[w := s.rsplit("-", 1)[0]]) == 1 else s) for s in every}
