"""Entering and changing finds from typed text: the one way in for pages and command line."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from oakum.desk.finds.measures import FIELD_DIMENSIONS, measure_of
from oakum.ground.errors import OakumError
from oakum.record import IN_ITS_FRAME, Entry, Find, Logbook, OpenQuestion
from oakum.record.finds.questions import value_words

INTAKE_FIELDS = (
    "title",
    "material",
    "count",
    "place",
    "found_on",
    "found_by",
    "description",
    "condition",
    "marks",
    "period",
    "length",
    "width",
    "height",
    "diameter",
    "thickness",
    "mass",
    "depth",
    "kept_at",
    "note",
)
"""The fields of a find in the order of the intake slip."""


class FieldErrors(OakumError):
    """What is wrong with what was typed, field by field; nothing was entered."""

    def __init__(self, wrong: Mapping[str, str]) -> None:
        self.wrong = dict(wrong)
        super().__init__("; ".join(f"{field}: {said}" for field, said in self.wrong.items()))


@dataclass(frozen=True, slots=True)
class Typed:
    """A value of a field as the logbook takes it, and the text it came from."""

    field: str
    text: str
    value: Any


def value_of(field: str, text: str) -> Any:
    """Return the value of one field from typed text; None for an empty one. Raises an error with what to write."""
    text = text.strip()
    if not text:
        return None
    if field in FIELD_DIMENSIONS:
        return measure_of(text, FIELD_DIMENSIONS[field])
    if field == "count":
        if not text.isascii() or not text.isdigit() or int(text) < 1:
            raise OakumError(f"{text!r} is no count: write a whole number, 1 or more, such as 40")
        return int(text)
    if field == "earlier_numbers":
        return [part.strip() for part in text.split(";") if part.strip()]
    return text


def values_of(typed: Mapping[str, str]) -> dict[str, Any]:
    """Return the values of every field that was filled in. Raises `FieldErrors` naming each wrong one."""
    found: dict[str, Any] = {}
    wrong: dict[str, str] = {}
    for field, text in typed.items():
        try:
            value = value_of(field, text)
        except (OakumError, ValueError) as error:
            wrong[field] = str(error)
        else:
            if value is not None:
                found[field] = value
    if wrong:
        raise FieldErrors(wrong)
    return found


def add_find(
    logbook: Logbook,
    typed: Mapping[str, str],
    *,
    author: str,
    number: str | None = None,
    seen: Mapping[str, str] | None = None,
) -> Find:
    """Enter a find from typed fields; it gets the next number of this station unless one of its block is given."""
    body = values_of(typed)
    if "title" not in body:
        raise FieldErrors({"title": "say what it is, such as jar, plank or concretion"})
    if number and number.strip():
        body["number"] = number.strip()
    entry = logbook.append("find.entered", None, body, author=author, seen=seen)
    return logbook.find(entry.subject)


def change_field(
    logbook: Logbook, find_id: str, field: str, text: str, *, author: str, reason: str = ""
) -> Entry | None:
    """Say something new about one field of a find, over what stood there. None where nothing changes.

    The first value of a field needs no reason; a change does.
    """
    value = values_of({field: text}).get(field)
    heads = logbook.heads(find_id).get(field, ())
    held = [head for head in heads if head.value is not None]
    if all(head.value == value for head in heads) and (heads or value is None):
        return None
    body: dict[str, Any] = {field: value}
    if held:
        if not reason.strip():
            raise FieldErrors(
                {"reason": "say why the old value is wrong; it stays in the logbook beside the new one"}
            )
        body["reason"] = reason.strip()
    elif heads:
        body["reason"] = reason.strip() or "now known"
    over = tuple(dict.fromkeys(head.entry.id for head in heads))
    return logbook.append("find.described", find_id, body, author=author, over=over)


def settle(logbook: Logbook, question: OpenQuestion, text: str, *, author: str, reason: str) -> Entry:
    """Settle an open question as a named person: `text` is the value that shall hold.

    Raises `FieldErrors` for an empty reason or a value that cannot be read.
    """
    if not reason.strip():
        raise FieldErrors({"reason": "say what decides it; the other values stay in the logbook"})
    kind, _, rest = question.key.partition(":")
    body: dict[str, Any] = {"reason": reason.strip()}
    if kind == "field":
        body["fields"] = {rest: _chosen(question, text) or _typed(logbook, question, rest, text)}
    elif kind == "reading":
        body["reading"] = _settled_reading(logbook, question, text)
    else:
        what = "Two pieces carry this identity" if kind == "identity" else "Two finds carry this number"
        raise OakumError(f"{what}: mark one of them anew, and enter what it is called now.")
    return logbook.append("settled", question.subject, body, author=author, over=question.entries)


def _chosen(question: OpenQuestion, text: str) -> Any:
    """Return the value among those that stand whose text is the one typed."""
    return next((value for value in question.values if value_words(value).strip() == text.strip()), None)


def _typed(logbook: Logbook, question: OpenQuestion, field: str, text: str) -> Any:
    """Return another value than those that stand, read as the field it is for: of a piece of gear, or of a find."""
    if any(logbook.entry(id).kind.startswith("gear.") for id in question.entries):
        from oakum.desk.gear.entering import gear_values

        return gear_values({field: text}).get(field)
    return values_of({field: text}).get(field)


def _settled_reading(logbook: Logbook, question: OpenQuestion, text: str) -> dict[str, Any]:
    """Return the reading that shall hold: one of those that stand, or a new text with its unit."""
    _, quantity, state = question.key.split(":", 2)
    standing = logbook.readings(question.subject, quantity, state)
    keep = ("quantity", "state", "text", "value", "unit", "sd", "gear", "frame")
    for one in standing:
        if one.text.strip() == text.strip():
            source = one.entry.body.get("reading") or one.entry.body
            return {key: source[key] for key in keep if key in source}
    dimension = {"kg": "mass", "m": "length", "N": "force", "kg/m3": "density", "degC": "temperature"}
    try:
        measure = measure_of(text, dimension[standing[0].unit])
    except ValueError as error:
        raise FieldErrors({"value": str(error)}) from None
    said: dict[str, Any] = {"quantity": quantity, "state": state.removesuffix(IN_ITS_FRAME)}
    frames = {one.frame for one in standing}
    if len(frames) == 1 and None not in frames:
        said["frame"] = standing[0].frame
    return said | {key: measure[key] for key in keep if key in measure}
