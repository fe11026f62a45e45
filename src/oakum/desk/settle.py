"""Settling an open question: a named person says which of the things the logbook holds shall count, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from oakum.ground.errors import OakumError
from oakum.record import Entry, Logbook, OpenQuestion
from oakum.record.readings import of_entry


class SettleError(OakumError):
    """The question cannot be settled this way; the text says what to do."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the things the logbook says: its value as in the entry, in words, and the entry that says it."""

    value: Any
    words: str
    entry: Entry


def question_of(logbook: Logbook, subject: str, key: str) -> OpenQuestion:
    """Return the open question with this key; `SettleError` where nothing is open any more."""
    for question in logbook.open_questions(subject):
        if question.key == key:
            return question
    raise SettleError("This question is not open (any more): somebody has settled it, or struck an entry out.")


def choices(logbook: Logbook, question: OpenQuestion) -> tuple[Choice, ...]:
    """Return what there is to choose from, one for each entry; none for two finds with one number."""
    found = []
    for entry in (logbook.entry(id) for id in question.entries):
        if question.key.startswith("field:"):
            name = question.key.removeprefix("field:")
            said = entry.body.get("fields", {}) if entry.kind == "settled" else entry.body
            value = said.get(name)
            words = "not known" if value is None else str(value.get("text", value) if isinstance(value, dict) else value)
        else:
            reading = of_entry(entry)
            value = {key: v for key, v in _stated(entry).items() if key in _READING and v is not None}
            sd = "" if reading.sd is None else f", standard deviation {reading.sd:.4g} {reading.unit}"
            words = f"{reading.text} ({reading.instrument or 'instrument not known'}{sd})"
        found.append(Choice(value, words, entry))
    return tuple(found)


def settle(
    logbook: Logbook, question: OpenQuestion, entry_id: str, *, reason: str, author: str
) -> Entry:
    """Let what entry `entry_id` says hold from now on.

    `author` is the id of a registered person. Raises `SettleError` where the entry is not one of the choices or a
    number is in question, `RecordError` where the reason or the person is missing.
    """
    offered = choices(logbook, question)
    if question.key == "number":
        raise SettleError(
            "Two finds carry one number. Settle it at the finds: write a new label for one of them and enter its "
            "new number there."
        )
    chosen = next((choice for choice in offered if choice.entry.id == entry_id), None)
    if chosen is None:
        raise SettleError("Choose one of the values; each stands with the entry that says it.")
    if question.key.startswith("field:"):
        body: dict[str, Any] = {"fields": {question.key.removeprefix("field:"): chosen.value}}
    else:
        body = {"reading": chosen.value}
    body["reason"] = reason
    return logbook.append("settled", question.subject, body, author=author, over=question.entries)


_READING = ("quantity", "state", "text", "value", "unit", "sd")


def _stated(entry: Entry) -> dict[str, Any]:
    stated: dict[str, Any] = entry.body["reading"] if entry.kind == "settled" else entry.body
    return stated
