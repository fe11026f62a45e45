"""The numbers a club gave: kept exactly as written, but looked at.

A register grows over decades and changes its habit; ``TOL/98/014``, ``14`` and ``F.14`` may stand in one sheet and
are three different numbers. Here are told the habits, numbers that stand twice, and entries such as ``101-104``.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

LARGEST_RANGE = 500

_RANGE = re.compile(r"(.*?)(\d+)\s*(?:-|\u2013|\u2014|\.\.|\bto\b)\s*(\d+)")
_LIST = re.compile(r"\s*(?:,|&|\+|;|\band\b)\s*")
_TAIL = re.compile(r"(?<=\d)\s?[a-z]$")


@dataclass(frozen=True, slots=True)
class Habit:
    """One way of writing numbers: `shape` with # for figures, an example, and how many rows follow it."""

    shape: str
    example: str
    rows: int


@dataclass(frozen=True, slots=True)
class Several:
    """A text that names several numbers: how many, and each of them."""

    count: int
    members: tuple[str, ...]


def key(number: str) -> str:
    """What two writings of the same number share: case and spaces do not matter."""
    return "".join(number.split()).casefold()


def loose_key(number: str) -> str:
    """As `key`, and leading zeros do not matter: 014 and 14 share it."""
    return re.sub(r"(?<!\d)0+(?=\d)", "", key(number))


def shape_of(number: str) -> str:
    """The habit a number follows: ``TOL/98/014`` gives ``TOL/#/#``, ``14`` and ``014a`` give ``#``."""
    return re.sub(r"\d+", "#", _TAIL.sub("", number.strip()))


def habits(numbers: Iterable[str]) -> tuple[Habit, ...]:
    """The habits among `numbers`, the commonest first."""
    held = [number for number in numbers if number.strip()]
    counted = Counter(shape_of(number) for number in held)
    examples = {shape_of(number): number for number in reversed(held)}
    return tuple(Habit(shape, examples[shape], rows) for shape, rows in counted.most_common())


def year_like(numbers: Iterable[str]) -> frozenset[str]:
    """First parts that come back in three or more numbers such as 98-014: a year or a trench, not a range."""
    firsts = Counter(found[1] + found[2] for n in numbers if (found := _RANGE.fullmatch(n.strip())))
    return frozenset(first for first, times in firsts.items() if times >= 3)


def several(text: str, not_ranges: frozenset[str] = frozenset()) -> Several | None:
    """What ``101-104``, ``101 to 104``, ``F.14-17``, ``12, 13`` or ``12 & 13`` name; None if it is one number.

    `not_ranges` are first parts that `year_like` found. A second part with a leading zero the first one lacks
    (98-014) makes no range; a shorter one counts on from the first (101-4).
    """
    written = text.strip()
    pieces = [piece for piece in _LIST.split(written) if piece]
    if len(pieces) > 1 and all(any(c.isdigit() for c in piece) for piece in pieces):
        return Several(len(pieces), tuple(pieces))
    found = _RANGE.fullmatch(written)
    if found is None or found[1] + found[2] in not_ranges or found[1].rstrip().endswith("-"):
        return None
    head, first, second = found.groups()
    if len(second) > len(first) and (second.startswith("0") or len(second) > len(first) + 1):
        return None
    last = int(second) if len(second) >= len(first) else int(first[: -len(second)] + second)
    count = last - int(first) + 1
    if not 2 <= count <= LARGEST_RANGE:
        return None
    return Several(count, tuple(f"{head}{n:0{len(first)}d}" for n in range(int(first), last + 1)))
