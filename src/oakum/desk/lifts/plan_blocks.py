"""Open questions of a lift: which of them block its release, and who must settle each."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from oakum.lift.raising import RoleHeld
from oakum.lift.raising.roles import LEADER
from oakum.record import Logbook, OpenQuestion

_ON_MASS = ("field:toml", "field:rig", "field:mass", "field:cradle")


def split_questions(
    logbook: Logbook, find_id: str, pieces: Collection[str], roles: Sequence[RoleHeld]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the questions that block a release (mass, rig, cradle, gear or vessel), and the others, each in words.

    `pieces` are the ids of the pieces of gear the rig uses, and of the vessel.
    """
    blocks: list[OpenQuestion] = []
    others: list[OpenQuestion] = []
    for question in logbook.open_questions(find_id):
        on_mass = question.key in _ON_MASS or question.key.startswith("reading:")
        (blocks if on_mass else others).append(question)
    blocks += [
        question
        for question in logbook.open_questions()
        if question.subject in pieces or (question.key == "identity" and set(question.values) & set(pieces))
    ]
    settler = _settler(roles)
    return tuple(_words(logbook, one, settler) for one in blocks), tuple(one.words() for one in others)


def _settler(roles: Sequence[RoleHeld]) -> str:
    for role in roles:
        if role.role.casefold() == LEADER and role.person:
            return f"the {LEADER} ({role.person})"
    return f"the {LEADER}, whom nobody is named for yet"


def _words(logbook: Logbook, question: OpenQuestion, settler: str) -> str:
    if question.key == "identity":
        return f"{question.number}: {question.why}; to be settled by {settler}"
    said = f"{question.number or question.subject}: {question.why}"
    if question.key.startswith("field:"):
        said += f": {' / '.join(_short(value) for value in question.values)}"
    authors = dict.fromkeys(logbook.entry(id).author for id in question.entries)
    return f"{said}; to be settled by {settler}; entered by {' and '.join(authors)}"


def _short(value: object) -> str:
    text = value.get("text", value) if isinstance(value, dict) else value
    line = "not known" if text is None else str(text).strip().partition("\n")[0]
    return line if len(line) <= 60 else line[:57] + "..."
