"""Names of marks: their order for people, and names that look like two spellings of one."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable

from oakum.seabed.network.site import Bearing, Depth, Fix, Level, Observation, Offset, Tape, Tie


def natural(name: str) -> tuple[tuple[int, int, str], ...]:
    """Sorting key: "B2" before "B10"."""
    parts = re.findall(r"\d+|\D+", name)
    keys = ((0, int(p), "") if p.isdecimal() else (1, 0, p.casefold()) for p in parts)
    return (*keys, (2, 0, name))


def spelling(name: str) -> str:
    """What is left of a name without case, spaces, signs and leading noughts: "a-01" and "A 1" are alike."""
    plain = re.sub(r"[\W_]+", "", name.casefold())
    return re.sub(r"(?<!\d)0+(?=\d)", "", plain)


def alike(names: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Groups of names that may be one mark spelt several ways."""
    groups: dict[str, list[str]] = defaultdict(list)
    for name in sorted(set(names), key=natural):
        groups[spelling(name)].append(name)
    return tuple(tuple(group) for group in groups.values() if len(group) > 1)


def marks_of(reading: Observation) -> tuple[str, ...]:
    """The marks a reading joins, as they stand in its equation."""
    match reading:
        case Tape() | Level() | Bearing():
            return (reading.a, reading.b)
        case Depth() | Fix():
            return (reading.mark,)
        case Offset() | Tie():
            return (reading.mark, reading.base_a, reading.base_b)


def listed(names: Iterable[str], most: int = 6) -> str:
    """ "A, B and C", cut short with a count."""
    shown = list(names)
    if len(shown) > most:
        return f"{', '.join(shown[:most])} and {len(shown) - most} more"
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def said(reading: Observation) -> str:
    """How a reading is named in a sentence: its id, what it is, its marks, the text as written."""
    kind = type(reading).__name__.lower()
    text = f' "{reading.text}"' if reading.text else ""
    return f"{kind} {reading.id} ({' to '.join(marks_of(reading)[:2])}{text})"
