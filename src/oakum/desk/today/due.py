"""What is due today: what is open, what is unfinished, what was written last."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.desk.lifts.bodies import FindWithBody, finds_with_body, mesh_files
from oakum.lift import BodyFileError, parse_body
from oakum.record import Entry, Logbook, OpenQuestion, Reading

LOOKED_AT = 200
"""Readings looked through for a missing spread, newest first."""

_BODIES = 20


@dataclass(frozen=True, slots=True)
class UnfinishedBody:
    """A body that still says something is not known; `lacks` tells what, in sentences."""

    body: FindWithBody
    lacks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Due:
    """What the page of the day shows. `finds` and `entries` are how many there are."""

    finds: int
    entries: int
    questions: tuple[OpenQuestion, ...]
    unfinished: tuple[UnfinishedBody, ...]
    no_spread: tuple[Reading, ...]
    last: tuple[Entry, ...]

    @property
    def is_new(self) -> bool:
        """Whether the project holds no find yet."""
        return self.finds == 0


def due_today(logbook: Logbook, *, last: int = 8) -> Due:
    """Look through the logbook for what waits for somebody."""
    entries = logbook.entries(newest_first=True, limit=last)
    return Due(
        finds=len(logbook.finds(limit=1).lines),
        entries=logbook.count(),
        questions=logbook.open_questions(),
        unfinished=unfinished_bodies(logbook),
        no_spread=readings_without_spread(logbook),
        last=tuple(entries),
    )


def unfinished_bodies(logbook: Logbook) -> tuple[UnfinishedBody, ...]:
    """Return the bodies that ask for something more, the one described last first (at most 20)."""
    found = []
    for body in finds_with_body(logbook)[:_BODIES]:
        toml = str(body.find.fields["toml"])
        try:
            lacks = parse_body(toml, files=mesh_files(logbook, body.find, toml)).questions
        except BodyFileError as error:
            lacks = tuple(problem.words() for problem in error.problems)
        if lacks:
            found.append(UnfinishedBody(body, lacks))
    return tuple(found)


def readings_without_spread(logbook: Logbook) -> tuple[Reading, ...]:
    """Return readings that stand and say nothing of how sure they are, newest first."""
    candidates = [
        entry
        for entry in logbook.entries(kind="reading", newest_first=True, limit=LOOKED_AT)
        if entry.body.get("sd") is None
    ]
    standing: dict[str, dict[str, Reading]] = {}
    for entry in candidates:
        if entry.subject not in standing:
            standing[entry.subject] = {
                reading.entry.id: reading for reading in logbook.readings(entry.subject)
            }
    return tuple(standing[e.subject][e.id] for e in candidates if e.id in standing[e.subject])
