"""Which bags, and how many of each, for a weight."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import nsmallest
from itertools import combinations_with_replacement

from oakum.lift.bags.errors import BagError, positive
from oakum.lift.bags.gas import Column
from oakum.lift.bags.kinds import BagKind
from oakum.lift.bags.rules import MOST_EXCESS, VENT_MARGIN

MOST_BAGS = 8
"""More than this many bags on one load are more than divers can mind (practice, no source)."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A choice of bags, the largest first and the smallest last, filled in this order.

    `counts` are kinds with numbers; `excess` is the greatest lift with all bags full over the likely weight,
    less one; `counted` the lift that may be counted on over the weight, less one. `trims` is the kind that is
    partly filled when the load just hangs, `trim_fill` how full it is (more than 1: all bags full do not
    lift). `largest_share` is the share of the weight that goes with the largest bag if it fails.
    `objection` None where the choice keeps the rules.
    """

    counts: tuple[tuple[BagKind, int], ...]
    excess: float
    counted: float
    trims: BagKind
    trim_fill: float
    largest_share: float
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
    those with several bags, of those the ones with fewest, of those the ones that trim with the smallest
    bag. Where nothing keeps the rules the nearest choices come with their objection. At most eight kinds and
    eight bags. Raises `BagError`.
    """
    positive("the weight under water", median_submerged_kg, "kg")
    if not kinds:
        raise BagError("name at least one kind of bag to choose from")
    if len(kinds) > 8 or not 1 <= most_bags <= MOST_BAGS:
        raise BagError(f"choose from at most 8 kinds and {MOST_BAGS} bags")
    lifts = [
        _Lift(kind, *(_net_kg(kind, v, depth_m, column) for v in _volumes(kind, column))) for kind in kinds
    ]
    lifts.sort(key=lambda one: (-one.greatest_kg, one.kind.key))
    choices = (c for n in range(1, most_bags + 1) for c in combinations_with_replacement(lifts, n))
    ranked = nsmallest(answers, choices, key=lambda c: _rank(c, median_submerged_kg))
    return tuple(_proposal(choice, median_submerged_kg) for choice in ranked)


@dataclass(frozen=True, slots=True)
class _Lift:
    """A kind with its greatest lift and the one to count on, at the depth asked for."""

    kind: BagKind
    greatest_kg: float
    counted_kg: float


def _volumes(kind: BagKind, column: Column) -> tuple[float, float]:
    return kind.full_m3(column), kind.counted_m3(column)


def _net_kg(kind: BagKind, volume_m3: float, depth_m: float, column: Column) -> float:
    return float(kind.net_lift_kg(volume_m3, depth_m, column))


def _margins(choice: tuple[_Lift, ...], weight_kg: float) -> tuple[float, float]:
    """Return the excess with all bags full and the margin to count on, as shares of the weight."""
    greatest = sum(one.greatest_kg for one in choice)
    counted = sum(one.counted_kg for one in choice)
    return greatest / weight_kg - 1.0, counted / weight_kg - 1.0


def _trimming(choice: tuple[_Lift, ...], weight_kg: float) -> tuple[_Lift, float]:
    """Return the bag that is partly filled when the load hangs, and how full it is.

    All bags hang on the load, so their own weight is carried from the first one on.
    """
    left = weight_kg + sum(one.kind.submerged_kg for one in choice)
    for one in choice:
        lift = one.greatest_kg + one.kind.submerged_kg
        if left <= lift:
            return one, left / lift
        left -= lift
    last = choice[-1]
    return last, 1.0 + left / (last.greatest_kg + last.kind.submerged_kg)


def _proposal(choice: tuple[_Lift, ...], weight_kg: float) -> Proposal:
    excess, counted = _margins(choice, weight_kg)
    trims, fill = _trimming(choice, weight_kg)
    objection = None
    if counted < VENT_MARGIN:
        objection = (
            f"counted on to lift {100 * counted:+.0f} % over the weight; at least 5 % are needed to vent"
        )
    elif excess > MOST_EXCESS:
        objection = f"{100 * excess:.0f} % excess lift with all bags full, more than 10 %"
    counts = tuple(Counter(one.kind for one in choice).items())
    largest = max(one.greatest_kg for one in choice) / weight_kg
    return Proposal(counts, excess, counted, trims.kind, fill, largest, objection)


def _rank(choice: tuple[_Lift, ...], weight_kg: float) -> tuple[float, bool, int, float, float]:
    excess, counted = _margins(choice, weight_kg)
    off = max(VENT_MARGIN - counted, excess - MOST_EXCESS, 0.0)
    if off > 0.0:
        return off, len(choice) < 2, len(choice), excess, 0.0
    return 0.0, len(choice) < 2, len(choice), _trimming(choice, weight_kg)[0].greatest_kg, excess
