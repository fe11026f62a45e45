"""Tapes held against each other: no side of a triangle is longer than the other two, none shorter than their gap."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from statistics import median
from typing import TypeVar

SIGMAS = 3.29
"""How many standard deviations off a reading may be before it is asked about: 1 right one in 1,000 is."""

LEAST_DOUBT_M = 0.10
"""A smaller gap is not asked about: the adjustment tells better (practice, no source)."""

Pair = tuple[str, str]
K = TypeVar("K")


def pair_of(a: str, b: str) -> Pair:
    """Two marks in one order, so that a tape is the same from either end."""
    return (a, b) if a < b else (b, a)


class Tapes:
    """Every tape there is, by the pair of marks it joins: (length, sd, what it is called)."""

    def __init__(self) -> None:
        self.pairs: dict[Pair, list[tuple[float, float, str]]] = defaultdict(list)
        self.near: dict[str, set[str]] = defaultdict(set)

    def add(self, a: str, b: str, length_m: float, sd_m: float, id: str) -> None:
        """Take a tape as known."""
        self.pairs[pair_of(a, b)].append((length_m, sd_m, id))
        self.near[a].add(b)
        self.near[b].add(a)

    def third(self, a: str, b: str) -> set[str]:
        """Marks taped to both."""
        return self.near[a] & self.near[b] if a in self.near and b in self.near else set()

    def middle(self, a: str, b: str) -> tuple[float, float]:
        """Length and sd of a pair that was taped, the middle one of several."""
        held = self.pairs[pair_of(a, b)]
        return median(one[0] for one in held), max(one[1] for one in held)

    def same_pair(self, a: str, b: str, length: float, sd: float) -> str:
        """What does not fit an earlier tape of the same pair."""
        for before, other_sd, id in self.pairs.get(pair_of(a, b), ()):
            if abs(length - before) > slack_m(sd, other_sd):
                return f"{a}–{b} is {length:.2f} m, but it was read as {before:.2f} m before ({id})."
        return ""

    def triangle(self, a: str, b: str, length: float, sd: float, without: Iterable[Pair] = ()) -> str:
        """The triangle that fits worst; `without` are pairs that are doubted themselves."""
        doubted = set(without)
        worst, said = 0.0, ""
        for third in sorted(self.third(a, b)):
            if doubted and (pair_of(a, third) in doubted or pair_of(third, b) in doubted):
                continue
            (to_a, sd_a), (to_b, sd_b) = self.middle(a, third), self.middle(third, b)
            low, high = abs(to_a - to_b), to_a + to_b
            off = max(length - high, low - length)
            if off > max(slack_m(sd, sd_a, sd_b), worst):
                worst = off
                said = f"{a}–{b} is {length:.2f} m, but {a}–{third} and {third}–{b} allow {low:.1f} to {high:.1f} m."
        return said

    def doubted(self) -> list[Pair]:
        """Pairs that break triangles, the one that breaks most first, each judged without those before it."""
        return blamed([sides for sides in self._triangles() if self._is_broken(sides)])

    def _triangles(self) -> Iterator[tuple[Pair, Pair, Pair]]:
        for a, b in list(self.pairs):
            for third in self.third(a, b):
                if third > b:
                    yield (a, b), pair_of(a, third), pair_of(b, third)

    def _is_broken(self, sides: tuple[Pair, Pair, Pair]) -> bool:
        lengths, sds = zip(*(self.middle(*side) for side in sides), strict=True)
        off: float = 2.0 * max(lengths) - sum(lengths)
        return off > slack_m(*sds)


def blamed(conflicts: Sequence[tuple[K, ...]]) -> list[K]:
    """Who is to be doubted where some of each tuple must be wrong: whoever stands in the most, again and again."""
    found: list[K] = []
    while conflicts:
        count = Counter(one for several in conflicts for one in several)
        most = max(count.values())
        worst = [one for one in count if count[one] == most]
        found += worst
        conflicts = [several for several in conflicts if not set(several) & set(worst)]
    return found


def slack_m(*sds: float) -> float:
    """How far readings of these sds may be apart without a question."""
    return max(SIGMAS * math.sqrt(sum(sd * sd for sd in sds)), LEAST_DOUBT_M)
