"""Entering the dig from typed text: squares, levels before and after a spit, hours; for pages and commands alike."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.finds.saying import say
from oakum.desk.seabed.dig_facts import (
    STAGES,
    WATER,
    DigFacts,
    KeptThing,
    Marks,
    corners_of,
    dig_facts,
    dive_of,
    levels_of,
    marks_of,
    place_named,
)
from oakum.desk.seabed.dig_typed import corners, hours, levels, metres, whole
from oakum.desk.seabed.entering import site_draft
from oakum.record import Draft, Entry, Logbook, decimal_text
from oakum.record.log.heads import struck_ids
from oakum.record.log.kinds_seabed import SITE
from oakum.record.log.lift_checks import be_day
from oakum.seabed.dig import DigError, Epoch, Outline, dug, surface

SQUARE_FIELDS = ("name", "corners", "planned_depth", "note")
LEVEL_FIELDS = (
    "square",
    "spit",
    "stage",
    "from",
    "zero",
    "on",
    "by",
    "levels",
    "sd",
    "bias",
    "context",
    "note",
)
"""The fields of a set of levels in the order of the slate's sheet."""
DIG = frozenset({"dig.square", "dig.spit", "dig.hours"})
HOURS_FIELDS = ("on", "dive", "square", "spit", "hours", "divers", "buckets", "litres", "task", "note")


def enter_square(
    logbook: Logbook, typed: Mapping[str, str], *, author: str, reason: str = ""
) -> Entry | None:
    """Set out a square, or say something new of the one with this name (with a reason). None where nothing changes.

    Raises `FieldErrors` with a sentence a field; nothing is entered then.
    """
    body = _read(typed, {"corners": corners, "planned_depth": metres}, SQUARE_FIELDS)
    _need(
        body,
        {"name": "write the name of the square, as on its label", "corners": "give its corners, one a line"},
    )
    body["name"] = " ".join(body["name"].split())
    if body.get("planned_depth") == "0":
        raise FieldErrors(
            {"planned_depth": "write how deep it is to go, more than nothing, or leave it empty"}
        )
    try:
        corners_of(body["corners"], marks_of(logbook))
    except DigError as error:
        raise FieldErrors({"corners": str(error)}) from None
    kept = dig_facts(logbook).square(body["name"])
    if kept is None:
        return logbook.append("dig.square", None, body, author=author)
    body["name"] = kept.word("name")
    return say(logbook, "dig.square", kept.id, kept.heads, body, author=author, reason=reason)


def enter_levels(
    logbook: Logbook, typed: Mapping[str, str], *, author: str, reason: str = ""
) -> Entry | None:
    """Enter the levels before ("top") or after ("bottom") a spit. None where the logbook says it already.

    Raises `FieldErrors` with a sentence a field: a bottom above its top, a depth above the surface, a place nobody
    knows. What was entered before is replaced only with a reason.
    """
    facts, marks = dig_facts(logbook), marks_of(logbook)
    square, where = _square(facts, typed.get("square", ""), marks)
    stage = typed.get("stage", "").strip()
    if stage not in STAGES:
        raise FieldErrors({"stage": "say whether they were read before the spit (top) or after it (bottom)"})
    readers = {
        "levels": lambda text: levels(text, lambda name: place_named(name, where, marks)),
        "zero": lambda text: metres(text, signed=True),
        "sd": metres,
        "bias": metres,
        "on": _day,
    }
    body = _read(typed, readers, LEVEL_FIELDS)
    _need(
        body,
        {
            "spit": "write the number of the spit, counted from the top",
            "levels": "give the levels, one a line",
        },
    )
    for name in ("sd", "bias"):
        if body.get(name) == "0":
            raise FieldErrors(
                {name: "a standard deviation is more than nothing; leave it empty where it is not known"}
            )
    body = _staged(body, square, stage)
    if body.get(f"{stage}_from", "").casefold() == WATER:
        body[f"{stage}_from"] = WATER
        _refuse_above_surface(body[stage])
    kept = facts.spit(square, body["spit"])
    _refuse_turned_over(facts, square, where, marks, kept, body, stage)
    if kept is None:
        return logbook.append("dig.spit", None, body, author=author)
    return say(
        logbook,
        "dig.spit",
        kept.id,
        kept.heads,
        body | {"spit": kept.word("spit")},
        author=author,
        reason=reason,
    )


def enter_hours(logbook: Logbook, typed: Mapping[str, str], *, author: str) -> Entry:
    """Enter the diver-hours of a dive, with its buckets where they were counted. Raises `FieldErrors`."""
    readers = {"on": _day, "hours": hours, "divers": whole, "buckets": whole, "litres": _litres}
    body = _read(typed, readers, HOURS_FIELDS)
    _need(
        body,
        {
            "on": "write the day, as 2026-06-12",
            "hours": "write the diver-hours: two divers 50 minutes are 1.67",
        },
    )
    facts = dig_facts(logbook)
    if "square" in body:
        square, _ = _square(facts, str(body["square"]), marks_of(logbook))
        body["square"] = square.id
        spit = facts.spit(square, str(body.get("spit", "")))
        body |= {"spit": spit.word("spit")} if spit is not None else {}
    elif "spit" in body:
        raise FieldErrors({"square": "a spit belongs to a square; say which"})
    if body.get("divers") == 0:
        raise FieldErrors({"divers": "at least one diver dug; leave it empty where it is not known"})
    _refuse_twice(facts, body)
    first = [] if logbook.entries(SITE, limit=1) else [site_draft(logbook, author)]
    return logbook.append_many([*first, Draft("dig.hours", SITE, body, author)])[-1]


def strike(logbook: Logbook, entry_id: str, reason: str, *, author: str) -> Entry:
    """Strike out an entry of the dig, with a reason; what it replaced counts again. Raises `FieldErrors`."""
    entry = struck_one(logbook, entry_id)
    if not reason.strip():
        raise FieldErrors({"reason": "say why it is struck out; the reason stays in the logbook with it"})
    body = {"reason": reason.strip()}
    return logbook.append("struck", entry.subject, body, author=author, over=[entry.id])


def struck_one(logbook: Logbook, entry_id: str) -> Entry:
    """Return the entry of the dig that is to be struck out; raise `DigError` where it is none or is struck out."""
    entry = logbook.entry(entry_id)
    if entry.kind not in DIG:
        raise DigError(f"Entry {entry_id} is none of the dig; strike it out on its own page.")
    if entry.id in struck_ids(logbook.entries(entry.subject)):
        raise DigError("This entry is struck out already.")
    return entry


def _read(typed: Mapping[str, str], readers: Mapping[str, Any], fields: tuple[str, ...]) -> dict[str, Any]:
    """Read what was filled in, field by field; an empty field is not known and left out."""
    found: dict[str, Any] = {}
    wrong: dict[str, str] = {}
    for field, text in typed.items():
        if field not in fields:
            wrong[field] = f"there is no such field here; there are {', '.join(fields)}"
        elif text.strip():
            try:
                found[field] = readers[field](text) if field in readers else text.strip()
            except DigError as error:
                wrong[field] = str(error)
    if wrong:
        raise FieldErrors(wrong)
    return found


def _need(body: Mapping[str, Any], needs: Mapping[str, str]) -> None:
    lacks = {field: said for field, said in needs.items() if not body.get(field)}
    if lacks:
        raise FieldErrors(lacks)


def _square(facts: DigFacts, name: str, marks: Marks) -> tuple[KeptThing, Outline]:
    square = facts.square(name) if name.strip() else None
    if square is None:
        names = ", ".join(one.word("name") for one in facts.squares)
        said = (
            f"there is no square {name.strip()!r}; there are {names}" if names else "set out a square first"
        )
        raise FieldErrors({"square": said})
    try:
        return square, corners_of(square.fields["corners"], marks)
    except DigError as error:
        raise FieldErrors({"square": str(error)}) from None


def _staged(body: Mapping[str, Any], square: KeptThing, stage: str) -> dict[str, Any]:
    """Name the fields as the logbook keeps them: those of the stage by the stage."""
    made = {"square": square.id, "spit": body["spit"], stage: body["levels"]}
    made |= {f"{stage}_{name}": body[name] for name in ("from", "zero", "on", "by") if name in body}
    return made | {name: body[name] for name in ("sd", "bias", "context", "note") if name in body}


def _refuse_above_surface(found: list[dict[str, str]]) -> None:
    for one in found:
        if float(one["down"]) < 0.0:
            raise FieldErrors(
                {
                    "levels": f'"{one["text"]}" is above the surface; a depth is written positive, downward '
                    "from the water"
                }
            )


def _refuse_turned_over(
    facts: DigFacts,
    square: KeptThing,
    where: Outline,
    marks: Marks,
    kept: KeptThing | None,
    body: Mapping[str, Any],
    stage: str,
) -> None:
    """Refuse levels that carry no surface, and a spit whose bottom lies above its top on the whole."""
    fields = {**(kept.fields if kept is not None else {}), **body}
    whole_spit = KeptThing(square.id, fields, {}, ())
    try:
        surface(
            levels_of(whole_spit, stage, where, marks),
            where,
            what=f"levels {'before' if stage == 'top' else 'after'}",
        )
        if not fields.get("top") or not fields.get("bottom"):
            return
        if not _on_one_zero(fields):
            return
        sets = (Epoch(levels_of(whole_spit, name, where, marks)) for name in STAGES)
        answer = dug(where, *sets, bias_sd_m=None)
    except DigError as error:
        raise FieldErrors({"levels": str(error)}) from None
    if answer.best_m3 < 0.0:
        raise FieldErrors(
            {
                "levels": f"the bottom of spit {fields['spit']} would lie {-answer.depth_m:.2f} m above its top on the "
                "whole; are before and after swapped, or read from different zeros?"
            }
        )


def _on_one_zero(fields: Mapping[str, Any]) -> bool:
    """Whether both sets can be compared: one datum, or two zeros of known height; not a tide nobody wrote down."""
    hung = [str(fields.get(f"{stage}_from") or "").casefold() for stage in STAGES]
    if all(fields.get(f"{stage}_zero") is not None for stage in STAGES):
        return True
    return hung[0] == hung[1] != WATER


def _refuse_twice(facts: DigFacts, body: Mapping[str, Any]) -> None:
    names = {one.id: one.word("name") for one in facts.squares}
    if not body.get("dive"):
        return
    for entry in facts.hours:
        same = all(entry.body.get(key) == body.get(key) for key in ("on", "dive", "square", "spit"))
        if same:
            said = dive_of(entry, names)
            raise FieldErrors(
                {
                    "dive": f"dive {said.name} of {said.on} has {said.hours:g} diver-hours here already; strike that "
                    f"entry out if it is wrong ({entry.id})"
                }
            )


def _day(text: str) -> str:
    if said := be_day(text.strip()):
        raise DigError(said)
    return text.strip()


def _litres(text: str) -> str:
    cleaned = text.strip().lower().removesuffix("litres").removesuffix("l").strip()
    try:
        value = float(cleaned)
    except ValueError:
        value = 0.0
    if not 0.0 < value <= 1000.0:
        raise DigError(f'"{text.strip()}": write what one bucket holds in litres, such as 12')
    return decimal_text(value)
