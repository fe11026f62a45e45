"""Words and figures for the pages: times, values, names of fields and kinds."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from oakum.draw import figure
from oakum.ground.estimate import Spread
from oakum.ground.estimate.wording import figures, places_for, plain, shown_unit
from oakum.record.log.facts import KINDS

PERSON = re.compile(r"\bp-[0-9a-z]{8}\b")
FIELD_NAMES = {
    "found_on": "found on",
    "found_by": "found by",
    "kept_at": "kept at",
    "earlier_numbers": "earlier numbers",
    "imported_from": "taken over from",
    "extra": "other columns",
    "parent": "part of",
    "toml": "body",
    "of": "sample of",
    "sample": "sample number",
    "title": "what it is",
    "wll": "WLL",
    "leg_of": "leg of",
    "certificate_from": "certificate from",
    "certificate_until": "certificate until",
    "certificate_file": "scan of the certificate",
    "inspected_on": "last inspection",
    "inspect_by": "next inspection due",
    "identity": "identity on the tag",
    "passed_by": "passed by",
    "raise_because": "why it is not left",
    "raise_decided_by": "decided by",
    "raise_decided_on": "decided on",
    "raise_alternatives": "also considered",
    "clear_for": "clear of the water for",
    "bags_empty": "bags empty",
    "despite": "released all the same, because",
}


def clock(at: datetime) -> str:
    """Write a time of day with its date, in the machine's own zone."""
    local = at.astimezone()
    return f"{local.day} {local:%B %Y, %H:%M}"


def day(at: datetime) -> str:
    """Write a date."""
    local = at.astimezone()
    return f"{local.day} {local:%B %Y}"


def entry_time(stamp: Sequence[int]) -> str:
    """Write the time of an entry from its stamp (wall milliseconds, counter)."""
    return clock(datetime.fromtimestamp(stamp[0] / 1000, UTC))


def columns(spread: Spread) -> tuple[str, str, str, str]:
    """Return low, likely, high and the unit, to the figures that the width supports."""
    unit, factor = shown_unit(spread.unit, max(abs(spread.p5), abs(spread.best), abs(spread.p95)))
    if spread.is_exact:
        text = plain(spread.best * factor)
        return text, text, text, unit
    places = places_for(0.5 * (spread.p95 - spread.p5) * factor)
    low, best, high = (figures(v * factor, places) for v in (spread.p5, spread.best, spread.p95))
    return low, best, high, unit


def shown(spread: Spread | None) -> str:
    """Say a spread in words; a missing one is "not known"."""
    return "not known" if spread is None else spread.words()


def percent(share: float) -> str:
    """Write a fraction in whole percent; a trace is "under 1 %"."""
    return "under 1 %" if 0 < share < 0.01 else f"{100 * share:.0f} %"


def field_name(name: str) -> str:
    """Return the name of a field as a person says it."""
    return FIELD_NAMES.get(name, name.replace("_", " "))


def label(name: str) -> str:
    """Return the name of a field as it stands before its value: "Certificate until", "WLL"."""
    said = field_name(name)
    return said[:1].upper() + said[1:]


def kind_name(name: str) -> str:
    """Return what an entry of this kind says happened."""
    kind = KINDS.get(name)
    return kind.words if kind is not None else name


def with_names(text: str, names: Mapping[str, str]) -> str:
    """Put the names of people in place of their ids; an id that stands for nobody stays."""
    return PERSON.sub(lambda found: names.get(found.group(), found.group()), text)


def value_in_words(value: Any) -> str:
    """Write the value of a field: a measure as it was written, a list with commas, nothing as "not known"."""
    if value is None or value == "":
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        if "text" in value:
            return str(value["text"])
        if "person" in value and "role" in value:
            said = {True: ", confirmed", False: ", declined", None: ""}[value.get("confirmed")]
            return f"{value['person']}{said}{', in the water' if value.get('in_water') else ''}"
        if "answer" in value:
            by, on, note = (value.get(key) for key in ("by", "on", "note"))
            more = (f"said by {by}" if by else "", f"on {on}" if on else "", note or "")
            return "; ".join([str(value["answer"]), *(part for part in more if part)])
        return "; ".join(f"{field_name(str(k))}: {value_in_words(v)}" for k, v in value.items())
    if isinstance(value, list | tuple):
        if value and all(isinstance(item, list | tuple) and len(item) == 2 for item in value):
            return "; ".join(f"{name}: {text}" for name, text in value)
        return ", ".join(value_in_words(item) for item in value)
    return str(value)


def level_words(low_kg: float, best_kg: float, high_kg: float) -> str:
    """Say a hook load as a spread is said elsewhere."""
    if high_kg - low_kg <= 1e-9 * max(abs(high_kg), 1.0):
        return f"{plain(best_kg)} kg"
    places = places_for(0.5 * (high_kg - low_kg))
    low, best, high = (figures(value, places) for value in (low_kg, best_kg, high_kg))
    return f"likely {best} kg; 9 in 10 within {low} to {high} kg"


def height_words(height_m: float) -> str:
    """Say how high the lowest point is above the water, or how deep below."""
    if abs(height_m) < 0.005:
        return "at the water line"
    return f"{abs(height_m):.2f} m {'above' if height_m > 0 else 'below'} the water"


def figures_of(value: float | None, unit: str) -> str:
    """Write a number with its unit to the figures a table shows; None is "not known"."""
    return "not known" if value is None else f"{figure(value)} {unit}"
