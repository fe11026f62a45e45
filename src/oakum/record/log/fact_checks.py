"""Checks of single values in a body. Each returns None, or what was expected."""

from __future__ import annotations

import datetime
import re
from decimal import Decimal, InvalidOperation
from typing import Any

from oakum.record.errors import FactError
from oakum.record.log.canonical import LARGEST_INTEGER, check_plain

SI_UNITS = frozenset({"kg", "m", "m2", "m3", "kg/m3", "N", "Pa", "s", "deg", "degC", "K", "m/s", "1"})
COVERS = ("alone", "whole")
ROLES = frozenset(
    [
        "director",
        "archaeologist",
        "lift-supervisor",
        "conservator",
        "recorder",
        "diver",
        "draughtsman",
        "registrar",
        "museum",
        "auditor",
        "program",
    ]
)
SEEN_FROM = ("slate", "sheet", "photo", "memory")
SEEN_PRECISION = ("second", "minute", "hour", "day", "month", "year")

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_SHA = re.compile(r"[0-9a-f]{64}")
_DECIMAL = re.compile(r"-?\d{1,40}(\.\d{1,40})?")
_PERSON = re.compile(r"p-[0-9a-z]{8}")
_FIELD = re.compile(r"[a-z][a-z0-9_]{0,39}")
_AT = re.compile(r"\d{4}(-\d\d(-\d\d(T\d\d(:\d\d(:\d\d)?)?)?)?)?")
_ZONE = re.compile(r"Z|[+-](0\d|1[0-4]):[0-5]\d|UTC|[A-Za-z_]+(/[A-Za-z0-9_+-]+){1,2}")


def be_text(value: Any) -> str | None:
    """Text of 1 to 4,000 characters."""
    if type(value) is str:
        if 0 < len(value) <= 4000 and value.isascii() and not value.isspace():
            return None
        return _why_no_text(value, 4000)
    return f"expected text, not {type(value).__name__}"


def _why_no_text(value: str, longest: int) -> str | None:
    if not value.strip():
        return "expected text; leave the field out where it is not known"
    if len(value) > longest:
        return f"expected at most {longest:,} characters, not {len(value):,}; link a long text as a file"
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        return "the text holds half a character (a lone surrogate); type it again"
    return None


def be_long_text(value: Any) -> str | None:
    """Text of 1 to 500,000 characters."""
    return _why_no_text(value, 500_000) if type(value) is str else "expected text"


def be_texts(value: Any) -> str | None:
    """A list of texts."""
    if not isinstance(value, list | tuple) or not value or any(be_text(item) for item in value):
        return "expected a list of texts"
    return None


def be_pairs(value: Any) -> str | None:
    """A list of [label, text], for columns of a club's own register."""
    if not isinstance(value, list | tuple) or not value or len(value) > 200:
        return "expected a list of [label, text]"
    for pair in value:
        if not isinstance(pair, list | tuple) or len(pair) != 2 or be_texts(pair):
            return "expected a list of [label, text]"
    return None


def be_count(value: Any) -> str | None:
    """A whole number from 1 up."""
    if type(value) is int and 1 <= value <= LARGEST_INTEGER:
        return None
    return "expected a whole number, 1 or more"


def be_size(value: Any) -> str | None:
    """A whole number from 0 up."""
    if type(value) is int and 0 <= value <= LARGEST_INTEGER:
        return None
    return "expected a whole number, 0 or more"


def be_id(value: Any) -> str | None:
    """The id of a find (UUID in small letters), not its number."""
    if type(value) is str and _UUID.fullmatch(value):
        return None
    return "expected the id of a find (a UUID), not its number"


def be_id_or_none(value: Any) -> str | None:
    """The id of a find, or null for none."""
    return None if value is None else be_id(value)


def be_sha256(value: Any) -> str | None:
    """64 hexadecimal digits."""
    return (
        None if type(value) is str and _SHA.fullmatch(value) else "expected a SHA-256 in 64 small hex digits"
    )


def be_decimal(value: Any) -> str | None:
    """A number as decimal text."""
    if type(value) is str and _DECIMAL.fullmatch(value):
        return None
    return 'expected a number as decimal text such as "12.4"'


def be_spread(value: Any) -> str | None:
    """A standard deviation: decimal text, more than zero."""
    said = be_decimal(value)
    if said:
        return said
    return (
        None
        if Decimal(value) > 0
        else "expected a standard deviation greater than 0; leave it out if not known"
    )


def be_si_unit(value: Any) -> str | None:
    """The SI unit of the value."""
    if type(value) is str and value in SI_UNITS:
        return None
    return f"expected the SI unit of the value: one of {', '.join(sorted(SI_UNITS))}"


def be_cover(value: Any) -> str | None:
    """What a weighing took in: the find alone, or the whole with its parts and joined pieces."""
    return (
        None
        if type(value) is str and value in COVERS
        else 'expected "alone" or "whole" (with its parts and joined pieces)'
    )


_MEASURE = {
    "text": be_text,
    "value": be_decimal,
    "unit": be_si_unit,
    "sd": be_spread,
    "low": be_decimal,
    "high": be_decimal,
    "mode": be_decimal,
    "instrument": be_text,
}


def be_measure(value: Any) -> str | None:
    """A measured value: {text, value, unit}, the value in SI; may have sd, low, high, mode, instrument."""
    if not isinstance(value, dict):
        return "expected {text, value, unit}: the text as written, the value in SI as decimal text, its unit"
    wrong = [f"{key} not expected" for key in value if key not in _MEASURE]
    wrong += [f"{key} missing" for key in ("text", "value", "unit") if key not in value]
    wrong += [
        f"{key}: {said}" for key, item in value.items() if key in _MEASURE and (said := _MEASURE[key](item))
    ]
    return ", ".join(wrong) or None


def be_mass(value: Any) -> str | None:
    """A measured mass or load in kilograms."""
    return be_measure(value) or (None if value["unit"] == "kg" else "expected a mass, its unit kg")


def be_nothing(value: Any) -> str | None:
    """Null and nothing else."""
    return None if value is None else "expected null"


def be_fields(value: Any) -> str | None:
    """The fields a settled question fixes."""
    if not isinstance(value, dict) or not value:
        return "expected an object of field names and values"
    wrong = [str(key) for key in value if not isinstance(key, str) or not _FIELD.fullmatch(key)]
    if wrong:
        return f"{', '.join(wrong)}: no name of a field"
    try:
        check_plain(value)
    except FactError as error:
        return str(error)
    return None


def be_settled(value: Any) -> str | None:
    """The value that shall hold for a quantity in a state."""
    if not isinstance(value, dict):
        return "expected {quantity, state, text, value, unit} and, if known, sd, gear and frame"
    needs = {"quantity": be_text, "state": be_text, "text": be_text, "value": be_decimal, "unit": be_si_unit}
    wrong = [f"{key} missing" for key in needs if key not in value]
    wrong += [f"{key} not expected" for key in value if key not in needs and key not in ("sd", "gear", "frame")]
    wrong += [
        f"{key}: {said}" for key, check in needs.items() if key in value and (said := check(value[key]))
    ]
    if "sd" in value and (said := be_spread(value["sd"])):
        wrong.append(f"sd: {said}")
    if "gear" in value and (said := be_mass(value["gear"])):
        wrong.append(f"gear: {said}")
    if "frame" in value and type(value["frame"]) is not bool:
        wrong.append("frame: expected true or false")
    return ", ".join(wrong) or None


def be_author(value: Any) -> str | None:
    """A role word or the pseudonymous id of a person; never a name."""
    if type(value) is str and (value in ROLES or _PERSON.fullmatch(value)):
        return None
    return (
        "names of people do not enter the logbook, which cannot forget them: expected a person's id "
        "(p- and eight letters or digits, given when the person was added) or a role "
        f"({', '.join(sorted(ROLES))})"
    )


def be_seen(value: Any) -> str | None:
    """When and how it was seen: {at, zone, precision, by, from}."""
    if not isinstance(value, dict):
        return "seen: expected {at, zone, precision, by, from}"
    wrong = [
        f"seen.{key}: not expected" for key in value if key not in ("at", "zone", "precision", "by", "from")
    ]
    at, zone = value.get("at"), value.get("zone")
    if not is_local_time(at):
        wrong.append("seen.at: expected local time such as 2026-06-01T10:20, or a date")
    if not is_zone(zone):
        wrong.append("seen.zone: expected Z, an offset such as +02:00, or a zone such as Europe/London")
    if value.get("precision") not in SEEN_PRECISION:
        wrong.append(f"seen.precision: expected one of {', '.join(SEEN_PRECISION)}")
    if said := be_author(value.get("by")):
        wrong.append(f"seen.by: {said}")
    if value.get("from") not in SEEN_FROM:
        wrong.append(f"seen.from: expected one of {', '.join(SEEN_FROM)}")
    return "; ".join(wrong) or None


def is_local_time(at: Any) -> bool:
    """Whether this is a local time such as 2026-06-01T10:20, or a date."""
    return type(at) is str and _AT.fullmatch(at) is not None and _is_date(at)


def is_zone(zone: Any) -> bool:
    """Whether this is a zone: Z, an offset such as +02:00, or a name such as Europe/London."""
    return type(zone) is str and _ZONE.fullmatch(zone) is not None


def _is_date(at: str) -> bool:
    full = at + "0000-01-01T00:00:00"[len(at) :]
    try:
        datetime.datetime.fromisoformat(full)
    except ValueError:
        return False
    return True


def decimal_text(value: float) -> str:
    """Write a float as the shortest decimal text that reads back as the same float."""
    try:
        text = format(Decimal(repr(float(value))), "f")
    except InvalidOperation as error:
        raise ValueError(f"{value!r} is no number") from error
    return text[:-2] if text.endswith(".0") else text
