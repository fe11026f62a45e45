"""Which bags, and how many of each, for a weight."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement

from oakum.lift.bags.errors import BagError, positive
from oakum.lift.bags.gas import Column
from oakum.lift.bags.kinds import BagKind
from oakum.lift.bags.rules import MOST_EXCESS, VENT_MARGIN

MOST_BAGS = 8
"""More than this many bags on one load are more than divers can mind (practice, no source)."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A choice of bags, the largest first and the trimming one last.

    `counts` are kinds with numbers; `excess` is the greatest lift with all bags full over the likely weight,
    less one; `counted` the lift that may be counted on over the weight, less one. `trim_fill` is how full the
    last bag is when the load just hangs. `objection` None where it keeps the rules.
    """

    counts: tuple[tuple[BagKind, int], ...]
    excess: float
    counted: float
    trim_fill: float
    objection: str | None

    @property
    def number(self) -> int:
        """How many bags."""
        return sum(count for _, count in self.counts)


def propose(
    kinds: Sequence[BagKind],
    median_submerged_kg: float,
    depth_m: float,
    column: Column,
    *,
    most_bags: int = MOST_BAGS,
    answers: int = 5,
) -> tuple[Proposal, ...]:
    """Return choices of bags for the likely weight under water, the best first.

    Kept are choices that lift 5 % more than the weight and, full, at most 10 % more; of these come first
    those with several bags, and of those the ones with fewest. Where nothing keeps the rules the nearest
    choices come with their objection. At most eight kinds and eight bags. Raises `BagError`.
    """
    positive("the weight under water", median_submerged_kg, "kg")
    if not kinds:
        raise BagError("name at least one kind of bag to choose from")
    if len(kinds) > 8 or not 1 <= most_bags <= MOST_BAGS:
        raise BagError(f"choose from at most 8 kinds and {MOST_BAGS} bags")
    ranked = sorted(kinds, key=lambda k: (-_lift(k, depth_m, column), k.key))
    found = [
        _proposal(choice, median_submerged_kg, depth_m, column)
        for number in range(1, most_bags + 1)
        for choice in combinations_with_replacement(ranked, number)
    ]
    found.sort(key=_rank)
    return tuple(found[:answers])


def _lift(kind: BagKind, depth_m: float, column: Column) -> float:
    return float(kind.net_lift_kg(kind.full_m3(column), depth_m, column))


def _proposal(choice: tuple[BagKind, ...], weight_kg: float, depth_m: float, column: Column) -> Proposal:
    full = [_lift(kind, depth_m, column) for kind in choice]
    counted = sum(float(k.net_lift_kg(k.counted_m3(column), depth_m, column)) for k in choice)
    excess, sure = sum(full) / weight_kg - 1.0, counted / weight_kg - 1.0
    own = choice[-1].submerged_kg
    fill = (weight_kg - sum(full[:-1]) + own) / (full[-1] + own)
    objection = None
    if sure < VENT_MARGIN:
        objection = f"counted on to lift {100 * sure:+.0f} % over the weight; at least 5 % are needed to vent"
    elif excess > MOST_EXCESS:
        objection = f"{100 * excess:.0f} % excess lift with all bags full, more than 10 %"
    elif fill <= 0.0:
        objection = "the last bag is not needed at all"
    return Proposal(tuple(Counter(choice).items()), excess, sure, fill, objection)


def _rank(found: Proposal) -> tuple[bool, float, bool, int, float]:
    off = max(VENT_MARGIN - found.counted, found.excess - MOST_EXCESS, 0.0)
    return found.objection is not None, off, found.number < 2, found.number, found.excess
