"""Hazards of a find and the decision to raise it: what named people say, and whether it holds on the day."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, Literal

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.finds.saying import say
from oakum.lift.raising import AUTHORISED_FIRST, EXCLUDED_FIRST, Hazard
from oakum.record import HAZARDS, Entry, Find, Logbook, Person
from oakum.record.files.store import FileStore
from oakum.record.log.heads import standing
from oakum.record.log.kinds_lift import HAZARD_PREFIX
from oakum.record.log.lift_checks import ANSWERS, MAY_BE_AUTHORISED

ASKS_FOR = {"charge": "explosives", "pressure": "pressure containers", "gas": "gas testing"}
"""The competence a person must hold, on the day of their answer, to exclude a hazard."""

Answer = Literal["excluded", "present", "authorised", "not known", "does not apply"]

WORDS = {**EXCLUDED_FIRST, **AUTHORISED_FIRST}
_WEIGHT = ("authorised", "does not apply", "excluded", "not known", "present")  # the worst comes last


def answer_hazard(
    logbook: Logbook,
    find_id: str,
    key: str,
    answer: str,
    *,
    author: str,
    by: str | None = None,
    on: str | None = None,
    note: str = "",
    paper: tuple[str, bytes] | None = None,
    reason: str = "",
) -> Entry | None:
    """Keep what a named person says of a hazard; `paper` is name and content of their report.

    Raises `FieldErrors` for an unknown hazard or answer, `FactError` where person or day is missing.
    """
    wrong = {}
    if key not in HAZARDS:
        wrong["hazard"] = f"expected one of {', '.join(HAZARDS)}"
    if answer not in ANSWERS:
        wrong["answer"] = f"expected one of {', '.join(ANSWERS)}"
    if wrong:
        raise FieldErrors(wrong)
    find = logbook.find(find_id)
    said: dict[str, Any] = {"answer": answer}
    said |= {name: value for name, value in (("by", by), ("on", on), ("note", note.strip())) if value}
    if paper is not None:
        said["file"] = FileStore(logbook.files_folder).put(paper[1], name=paper[0]).sha256
    fields = {HAZARD_PREFIX + key: said}
    return say(logbook, "find.hazard", find.id, find.heads, fields, author=author, reason=reason)


def link_authorisation(
    logbook: Logbook,
    find_id: str,
    hazard: str,
    authority: str,
    *,
    on: str,
    author: str,
    number: str = "",
    until: str = "",
    paper: tuple[str, bytes] | None = None,
) -> Entry:
    """Link the authorisation for human remains or a venerated thing: by which authority, from which day."""
    if hazard not in MAY_BE_AUTHORISED:
        raise FieldErrors({"hazard": f"only {' and '.join(MAY_BE_AUTHORISED)} can be authorised"})
    body: dict[str, Any] = {"hazard": hazard, "authority": authority.strip(), "on": on}
    body |= {name: value.strip() for name, value in (("number", number), ("until", until)) if value.strip()}
    if paper is not None:
        kept = FileStore(logbook.files_folder).put(paper[1], name=paper[0])
        body |= {"sha256": kept.sha256, "name": paper[0]}
    return logbook.append("authorisation.linked", logbook.find(find_id).id, body, author=author)


def decide_to_raise(
    logbook: Logbook,
    find_id: str,
    because: str,
    *,
    by: str,
    on: str,
    author: str,
    alternatives: str = "",
    reason: str = "",
) -> Entry | None:
    """Record why a find is not left where it is, decided by a named person, and what else was considered."""
    if not because.strip():
        raise FieldErrors({"because": "say why it is not left where it is"})
    find = logbook.find(find_id)
    fields: dict[str, Any] = {
        "raise_because": because.strip(),
        "raise_decided_by": by,
        "raise_decided_on": on,
    }
    if alternatives.strip():
        fields["raise_alternatives"] = alternatives.strip()
    return say(logbook, "decision.in_situ", find.id, find.heads, fields, author=author, reason=reason)


def in_situ_of(find: Find) -> str | None:
    """Return why the find is not left where it is; None where that is not decided, or two decisions differ."""
    said = {head.value for head in find.heads.get("raise_because", ())}
    return str(said.pop()) if len(said) == 1 and None not in said else None


def hazards_of(find: Find, people: Mapping[str, Person], on: date) -> tuple[Hazard, ...]:
    """Return every hazard as answered; one that nobody answered is not known."""
    return tuple(_hazard(find, key, people, on) for key in HAZARDS)


def _hazard(find: Find, key: str, people: Mapping[str, Person], on: date) -> Hazard:
    words = WORDS[key]
    said = [head.value for head in find.heads.get(HAZARD_PREFIX + key, ()) if head.value is not None]
    if not said:
        return Hazard(key, words, "not known", None, None, None)
    worst = max(said, key=lambda one: _WEIGHT.index(one["answer"]))
    answer: Answer = worst["answer"]
    wrong = []
    if any(one != worst for one in said):
        wrong.append("entries differ; a named person must settle it")
    if answer in ("excluded", "does not apply", "authorised"):
        wrong += _by_whom(key, worst, people)
    if answer == "authorised" and not _authorised(find, key, on):
        wrong.append(f"no authorisation that holds on {on.isoformat()} is linked")
    objection = f"{words}: {'; '.join(wrong)}" if wrong else None
    return Hazard(key, words, answer, worst.get("by"), worst.get("on"), objection)


def _by_whom(key: str, said: Mapping[str, Any], people: Mapping[str, Person]) -> list[str]:
    """Return why the person who answered does not count as a named competent one."""
    person = people.get(said["by"])
    if person is None:
        return ["who answered is not registered here, so nobody named stands for it"]
    needed = ASKS_FOR.get(key)
    if needed is None:
        return []
    held = person.competence(needed)
    if held is None:
        return [f'no competence "{needed}" is known of who answered']
    match held.holds_on(said["on"]):
        case None:
            return [f'until when the competence "{needed}" of who answered holds is not known']
        case False:
            return [f'the competence "{needed}" of who answered had lapsed on {held.until}, before the answer']
        case _:
            return []


def _authorised(find: Find, key: str, on: date) -> bool:
    day = on.isoformat()
    papers = [
        one.body
        for one in standing(find.history)
        if one.kind == "authorisation.linked" and one.body["hazard"] == key
    ]
    return any(paper["on"] <= day <= paper.get("until", day) for paper in papers)
