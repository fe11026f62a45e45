"""The state of a plan: draft, briefed, released, done or abandoned, from what named people entered.

A briefing or a release counts while it knows of every earlier end of a plan of this find, whatever clock it
was written by: a lift abandoned at one station is not released again by an older entry of another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from oakum.desk.lifts.plan_rests import DESCRIBED, Parts, changed
from oakum.lift.raising import Stage
from oakum.record import Entry
from oakum.record.log.heads import standing

PEOPLE_FOR_A_RELEASE = 2


@dataclass(frozen=True, slots=True)
class PlanState:
    """How far a plan is. People are ids; `ends` are the entries that ended earlier plans of this find.

    `withdrawn` says why a release, or a briefing, that there was no longer holds.
    """

    stage: Stage
    briefed_by: tuple[str, ...]
    released_by: tuple[str, ...]
    ends: tuple[Entry, ...]
    withdrawn: str | None

    @property
    def waits_for_second(self) -> bool:
        """Whether one person has released the plan and a second, different one has to."""
        return self.stage == "briefed" and bool(self.released_by)


def plan_state(history: Sequence[Entry], fingerprint: str, parts: Parts) -> PlanState:
    """Return the state of the plan with this fingerprint and these parts, from the entries about its find."""
    stands = standing(history)
    ends = tuple(entry for entry in stands if entry.kind in ("plan.done", "plan.abandoned"))
    over = {entry.id for entry in ends}
    alive = [
        entry
        for entry in stands
        if entry.kind in ("plan.briefed", "plan.released") and over <= set(entry.body.get("after", ()))
    ]
    holds = [entry for entry in alive if not _why_not(entry, fingerprint, parts)]
    briefed = _people(holds, "plan.briefed")
    released = _people(holds, "plan.released")
    stage: Stage = "draft"
    if len(released) >= PEOPLE_FOR_A_RELEASE:
        stage = "released"
    elif briefed:
        stage = "briefed"
    elif ends and not alive:
        stage = "done" if ends[-1].kind == "plan.done" else "abandoned"
    withdrawn = None if stage == "released" else _withdrawn(alive, fingerprint, parts)
    return PlanState(stage, briefed, released, ends, withdrawn)


def _people(entries: Sequence[Entry], kind: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(entry.author for entry in entries if entry.kind == kind))


def _why_not(entry: Entry, fingerprint: str, parts: Parts) -> tuple[str, ...]:
    """Return what differs between what a briefing or a release rested on and what holds now; empty: nothing."""
    if entry.body["fingerprint"] == fingerprint:
        return changed(entry.body["rests_on"], parts)
    said = changed(entry.body["rests_on"], parts, also=DESCRIBED)
    return said or ("the plan comes out differently by this version of the program",)


def _withdrawn(alive: Sequence[Entry], fingerprint: str, parts: Parts) -> str | None:
    """Say why the newest complete release, or the newest briefing, does not hold; None where there was none."""
    by_plan: dict[str, dict[str, Entry]] = {}
    for entry in alive:
        if entry.kind == "plan.released" and _why_not(entry, fingerprint, parts):
            by_plan.setdefault(entry.body["fingerprint"], {})[entry.author] = entry
    complete = [one for people in by_plan.values() if len(people) >= PEOPLE_FOR_A_RELEASE for one in people.values()]
    if complete:
        newest = max(complete, key=lambda entry: (entry.at, entry.id))
        why = "; ".join(_why_not(newest, fingerprint, parts))
        return f"the release is withdrawn: {why}"
    briefings = [e for e in alive if e.kind == "plan.briefed"]
    if briefings and all(_why_not(entry, fingerprint, parts) for entry in briefings):
        why = "; ".join(_why_not(briefings[-1], fingerprint, parts))
        return f"the briefing no longer holds: {why}"
    return None
