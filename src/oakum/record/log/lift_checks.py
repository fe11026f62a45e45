"""Checks of single values about gear, hazards, roles and plans. Each returns None, or what was expected."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Mapping
from typing import Any

from oakum.record.gear.words import GEAR_KINDS, near_kind
from oakum.record.log import fact_checks as must

HAZARDS = ("charge", "pressure", "gas", "remains", "venerated")
"""The hazards every object is asked about."""

MAY_BE_AUTHORISED = ("remains", "venerated")
ANSWERS = ("excluded", "present", "not known", "does not apply", "authorised")

_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_PERSON = re.compile(r"p-[0-9a-z]{8}")


def be_day(value: Any) -> str | None:
    """A day of the calendar as YYYY-MM-DD."""
    if type(value) is str and _DAY.fullmatch(value):
        try:
            datetime.date.fromisoformat(value)
        except ValueError:
            return f"{value} is no day of the calendar"
        return None
    return "expected a day as year-month-day, such as 2026-06-03"


def be_person(value: Any) -> str | None:
    """The pseudonymous id of a person; a role is not enough."""
    if type(value) is str and _PERSON.fullmatch(value):
        return None
    return "expected the id of a named person (p- and eight letters or digits), not a role or a name"


def be_flag(value: Any) -> str | None:
    """True or false."""
    return None if type(value) is bool else "expected true or false"


def be_gear_kind(value: Any) -> str | None:
    """One of the kinds of gear."""
    if type(value) is not str:
        return "expected the kind of the piece in words"
    return None if value in GEAR_KINDS else f"{value!r} is no kind of gear; {near_kind(value)}"


def be_wll(value: Any) -> str | None:
    """A working load limit: one mass in kilograms, more than zero, without a spread."""
    said = must.be_mass(value)
    if said:
        return said
    if any(key in value for key in ("sd", "low", "high", "mode")):
        return "a WLL is the one number on the tag, without a spread or a range"
    return None if float(value["value"]) > 0.0 else "expected a WLL greater than 0; leave it out if not known"


def be_volume(value: Any) -> str | None:
    """A measured volume in cubic metres."""
    return must.be_measure(value) or (None if value["unit"] == "m3" else "expected a volume, its unit m3")


def be_length(value: Any) -> str | None:
    """A measured length in metres."""
    return must.be_measure(value) or (None if value["unit"] == "m" else "expected a length, its unit m")


def be_duration(value: Any) -> str | None:
    """A measured time in seconds, more than zero."""
    said = must.be_measure(value)
    if said:
        return said
    if value["unit"] != "s":
        return "expected a time, its unit s"
    return None if float(value["value"]) > 0.0 else "expected a time greater than 0"


def _be_object(value: Any, needs: Mapping[str, Any], may: Mapping[str, Any]) -> str | None:
    checks: dict[str, Callable[[Any], str | None]] = {**needs, **may}
    if not isinstance(value, dict):
        return f"expected {{{', '.join(checks)}}}"
    wrong = [f"{key} not expected" for key in value if key not in checks]
    wrong += [f"{key} missing" for key in needs if key not in value]
    wrong += [
        f"{key}: {said}" for key, item in value.items() if key in checks and (said := checks[key](item))
    ]
    return "; ".join(wrong) or None


def _be_answer(value: Any) -> str | None:
    return None if value in ANSWERS else f"expected one of {', '.join(ANSWERS)}"


def be_hazard(value: Any) -> str | None:
    """What is said of a hazard: {answer, by, on} and, if there is one, file and note.

    All answers but "not known" and "present" need the id of the named person who gives them, and the day.
    """
    said = _be_object(
        value,
        {"answer": _be_answer},
        {"by": be_person, "on": be_day, "file": must.be_sha256, "note": must.be_text},
    )
    if said is None and value["answer"] not in ("not known", "present"):
        lacks = [key for key in ("by", "on") if key not in value]
        if lacks:
            return (
                f"{value['answer']!r} is said by a named competent person on a day: {' and '.join(lacks)} missing"
            )
    return said


def be_unauthorisable(value: Any) -> str | None:
    """A hazard that no permission takes away: present or excluded, never authorised."""
    said = be_hazard(value)
    if said is None and value["answer"] == "authorised":
        return "nobody can authorise this away; it is excluded by a competent person, or it is present"
    return said


def be_role_held(value: Any) -> str | None:
    """Who holds a role: {role, person, confirmed, in_water}; confirmed and in_water may be left out: not known."""
    return _be_object(
        value,
        {"role": must.be_text, "person": be_person},
        {"confirmed": be_flag, "in_water": be_flag, "note": must.be_text},
    )


def be_ids(value: Any) -> str | None:
    """A list of ids of entries; may be empty."""
    if not isinstance(value, list | tuple) or any(must.be_id(one) for one in value):
        return "expected a list of ids of entries"
    return None


def be_parts(value: Any) -> str | None:
    """What a plan rests on: a list of [part, digest], each part once."""
    pairs = value if isinstance(value, list | tuple) else ()
    sound = all(
        isinstance(pair, list | tuple)
        and len(pair) == 2
        and must.be_text(pair[0]) is None
        and must.be_sha256(pair[1]) is None
        for pair in pairs
    )
    if not pairs or not sound or len({pair[0] for pair in pairs}) != len(pairs):
        return "expected a list of [part, SHA-256 of what it said], each part once"
    return None


def be_stretch(value: Any) -> str | None:
    """A stretch of a log: [from, to] in seconds from its first line, as decimal text."""
    if not isinstance(value, list | tuple) or len(value) != 2 or any(map(must.be_decimal, value)):
        return "expected [from, to] in seconds"
    return None if float(value[0]) <= float(value[1]) else "expected [from, to], the earlier first"


def be_gaps(value: Any) -> str | None:
    """Gaps in a log: a list of stretches in which nothing was read."""
    if not isinstance(value, list | tuple) or any(map(be_stretch, value)):
        return "expected a list of [from, to] in seconds, the earlier first"
    return None
