"""After the lift: what was entered of it, against the plan's bands, and what it teaches the next plan.

A lift of a find begins with the first briefing after an earlier one was done or abandoned; what is entered
until the next briefing belongs to it, however late it is typed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from oakum.desk.lifts.happening import log_text
from oakum.ground.estimate import Spread
from oakum.lift.raising import (
    Broke,
    CarriedOver,
    CellLog,
    Comparison,
    Happened,
    LoadRead,
    carry_over,
    compare,
    learn_minutes,
    read_cell_log,
)
from oakum.record import Entry, Logbook
from oakum.record.files.store import FileStore
from oakum.record.finds.readings import spread_of
from oakum.record.log.heads import standing

if TYPE_CHECKING:
    from oakum.desk.lifts.plan import PlanAnswer

_ENDS = ("plan.done", "plan.abandoned")
_STARTS = ("plan.briefed", "plan.released")


@dataclass(frozen=True, slots=True)
class HappenedAnswer:
    """What happened in the newest lift of a find, beside its plan as it stands now.

    `changed_since` says in words what of mass, rig or gear changed since the plan was released, if it was.
    """

    happened: Happened
    compared: Comparison
    entries: tuple[Entry, ...]
    changed_since: str | None


def lifts_of(history: Iterable[Entry]) -> list[list[Entry]]:
    """Return the standing entries about a find's lifts, one list a lift, in order."""
    lifts: list[list[Entry]] = [[]]
    for entry in standing(history):
        if entry.kind in _STARTS and any(one.kind in _ENDS for one in lifts[-1]):
            lifts.append([])
        if entry.kind.startswith(("lift.", "plan.")):
            lifts[-1].append(entry)
    return lifts


def happened_of(logbook: Logbook, lift: Sequence[Entry]) -> Happened:
    """Return what happened, from the entries of one lift; of several logs of the cell the newest."""
    logs = [entry for entry in lift if entry.kind == "lift.log"]
    return Happened(
        readings=tuple(_load_read(entry) for entry in lift if entry.kind == "lift.reading"),
        minutes=minutes_taken(lift),
        broke=tuple(
            Broke(entry.body["text"], entry.body.get("step", ""), entry.author)
            for entry in lift
            if entry.kind == "lift.event"
        ),
        log=_log(logbook, logs[-1]) if logs else None,
    )


def happened(logbook: Logbook, answer: PlanAnswer) -> HappenedAnswer:
    """Return what happened in the newest lift of a planned find, against the bands of the plan."""
    lift = lifts_of(answer.find.history)[-1]
    found = happened_of(logbook, lift)
    entries = tuple(entry for entry in lift if entry.kind.startswith("lift."))
    return HappenedAnswer(found, compare(answer.plan, found), entries, answer.plan.withdrawn)


def minutes_taken(lift: Iterable[Entry]) -> dict[str, float]:
    """Return the minutes of each step of a lift; a step that was timed more than once took their sum."""
    taken: dict[str, float] = {}
    for entry in lift:
        if entry.kind == "lift.minutes":
            step = entry.body["step"]
            taken[step] = taken.get(step, 0.0) + float(entry.body["taken"]["value"]) / 60.0
    return taken


def learnt_minutes(logbook: Logbook) -> dict[str, Spread]:
    """Return what all ended lifts of the project teach about the minutes of each step."""
    finds = dict.fromkeys(entry.subject for entry in logbook.entries(kind="lift.minutes"))
    history = [
        minutes_taken(lift)
        for find in finds
        for lift in lifts_of(logbook.entries(find))
        if any(entry.kind in _ENDS for entry in lift)
    ]
    return learn_minutes(history)


def carried_over(logbook: Logbook, trial: str, intact: str, *, on: date) -> CarriedOver:
    """Return a trial with a lesser piece beside the plan of the intact one: what scales and what does not."""
    from oakum.desk.lifts.plan import plan_find

    tried = plan_find(logbook, trial, on=on)
    planned = plan_find(logbook, intact, on=on)
    return carry_over(tried.plan, planned.plan, happened(logbook, tried).compared)


def _load_read(entry: Entry) -> LoadRead:
    body, seen = entry.body, entry.seen or {}
    height, clear = body.get("height"), body.get("clear_for")
    return LoadRead(
        reading_kg=float(body["load"]["value"]),
        height_m=float(height["value"]) if height else None,
        clear_s=float(clear["value"]) if clear else None,
        time=str(seen.get("at", "")),
        by=seen.get("by"),
        sd_kg=spread_of(body["load"]),
        bags_empty=body.get("bags_empty"),
    )


def _log(logbook: Logbook, entry: Entry) -> CellLog:
    body = entry.body
    before, after = (
        (float(stretch[0]), float(stretch[1])) if stretch else None
        for stretch in (body.get("unloaded_before"), body.get("unloaded_after"))
    )
    content = FileStore(logbook.files_folder).get(body["sha256"])
    return read_cell_log(
        log_text(content), body["unit"], unloaded_before_s=before, unloaded_after_s=after
    )
