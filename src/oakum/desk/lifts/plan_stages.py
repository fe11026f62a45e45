"""Moving a plan on: briefed, released by two named people, done, abandoned."""

from __future__ import annotations

from datetime import date
from typing import Any

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.plan import PlanAnswer, plan_find
from oakum.ground.errors import OakumError
from oakum.record import Entry, Logbook


class PlanStageError(OakumError):
    """The plan cannot be moved on; the text says what stands in the way."""


def brief(logbook: Logbook, number_or_id: str, *, on: date, author: str, note: str = "") -> Entry:
    """Enter that this plan was briefed, by a named person. Open questions are briefed as open."""
    answer = plan_find(logbook, number_or_id, on=on, with_helps=False)
    if answer.state.stage in ("briefed", "released"):
        raise PlanStageError(f"This plan is {answer.state.stage} already; nothing was entered.")
    return logbook.append("plan.briefed", answer.find.id, _rests(answer, note), author=author)


def release(
    logbook: Logbook, number_or_id: str, *, on: date, author: str, despite: str = "", note: str = ""
) -> Entry:
    """Release the plan as one of two named people; the second, different one completes it.

    While objections stand, `despite` must say why it is released all the same; it is kept with them. Raises
    `PlanStageError` where it was not briefed as it is now, or an open question on mass or gear blocks it.
    """
    answer = plan_find(logbook, number_or_id, on=on, with_helps=False)
    state = answer.state
    if answer.plan.blocked_by:
        raise PlanStageError(
            f"The release is blocked by {_counted(len(answer.plan.blocked_by), 'open question')} on mass or gear: "
            f"{'; '.join(answer.plan.blocked_by)}."
        )
    if state.stage == "released":
        raise PlanStageError(f"This plan is released, by {' and '.join(state.released_by)}; nothing was entered.")
    if state.stage != "briefed":
        why = f" ({state.withdrawn})" if state.withdrawn else ""
        raise PlanStageError(f"This plan is not briefed as it stands now{why}: brief it first, then release it.")
    body = _rests(answer, note)
    if answer.plan.objections:
        if not despite.strip():
            raise FieldErrors(
                {
                    "despite": f"{_counted(len(answer.plan.objections), 'objection')} stand: "
                    f"{'; '.join(answer.plan.objections)}. Put them right, or say why it is released all the same"
                }
            )
        body |= {"despite": despite.strip(), "objections": [text[:4000] for text in answer.plan.objections]}
    return logbook.append("plan.released", answer.find.id, body, author=author)


def finish(logbook: Logbook, number_or_id: str, *, on: date, author: str, note: str = "") -> Entry:
    """Enter that the lift was done. One that was not released needs a note that says why it was done."""
    answer = plan_find(logbook, number_or_id, on=on, with_helps=False)
    if answer.state.stage != "released" and not note.strip():
        raise FieldErrors(
            {"note": f"the plan is {answer.state.stage}, not released: say why it was lifted all the same"}
        )
    body: dict[str, Any] = {"fingerprint": answer.plan.fingerprint}
    return logbook.append("plan.done", answer.find.id, body | _note(note), author=author)


def abandon(logbook: Logbook, number_or_id: str, why: str, *, author: str, note: str = "") -> Entry:
    """Enter that the lift is given up, and why. A new briefing begins a new one."""
    if not why.strip():
        raise FieldErrors({"why": "say why it is given up; the next lift wants to know"})
    find = logbook.find(number_or_id)
    return logbook.append("plan.abandoned", find.id, {"why": why.strip()} | _note(note), author=author)


def _rests(answer: PlanAnswer, note: str) -> dict[str, Any]:
    body: dict[str, Any] = {
        "fingerprint": answer.plan.fingerprint,
        "rests_on": [list(part) for part in answer.parts],
        "after": sorted(entry.id for entry in answer.state.ends),
    }
    return body | _note(note)


def _note(note: str) -> dict[str, str]:
    return {"note": note.strip()} if note.strip() else {}


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
