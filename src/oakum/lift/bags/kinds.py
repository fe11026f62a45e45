"""What is typed about the bags: kinds, single bags with their strops and crown lines, and the set."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.lift.bags.errors import BagError, not_negative, positive
from oakum.lift.bags.gas import Column, lift_kg_per_m3

Array = NDArray[np.float64]

TakenAt = Literal["hook below the surface", "open bags at the surface", "closed bags at the surface"]
"""How the load is taken over at the end of the rise."""

TAKEN_AT: tuple[TakenAt, ...] = (
    "hook below the surface",
    "open bags at the surface",
    "closed bags at the surface",
)


@dataclass(frozen=True, slots=True)
class BagKind:
    """One make and size of bag.

    `volume_m3` is the volume of air when full to the mouth, measured or from the maker; `tag_lift_kg` what
    the tag says it lifts. One of the two must be known; None is not known. `submerged_kg` is the weight of
    the empty bag with strop and shackle under water. `air_height_m` is the height of a full bag's air over
    its mouth, `valve_area_m2` the free opening of the dump valve (0: it has none). A closed bag
    (`is_open` False) needs `relief_valve`. `shared_crown`: main rigging and crown line hang on one and the
    same pin or strap at the crown. Raises `BagError`.
    """

    key: str
    title: str
    volume_m3: float | None
    tag_lift_kg: float | None
    submerged_kg: float
    is_open: bool = True
    air_height_m: float | None = None
    valve_area_m2: float | None = None
    relief_valve: bool | None = None
    shared_crown: bool | None = None

    def __post_init__(self) -> None:
        if self.volume_m3 is None and self.tag_lift_kg is None:
            raise BagError(
                f'bag "{self.title}": give its full volume or the lift on its tag; fill it once with a measured '
                "amount of water or air if neither is known"
            )
        if self.volume_m3 is not None:
            positive(f'bag "{self.title}": the full volume', self.volume_m3, "m³")
        if self.tag_lift_kg is not None:
            positive(f'bag "{self.title}": the lift on the tag', self.tag_lift_kg, "kg")
        not_negative(f'bag "{self.title}": the weight of the empty bag', self.submerged_kg, "kg")
        lifts = min(self.tag_lift_kg or np.inf, 1000.0 * self.volume_m3 if self.volume_m3 else np.inf)
        if self.submerged_kg >= lifts:
            raise BagError(
                f'bag "{self.title}" weighs {self.submerged_kg:g} kg empty and lifts {lifts:g} kg: check the units'
            )
        if self.air_height_m is not None:
            positive(f'bag "{self.title}": the height of its air', self.air_height_m, "m")
        if self.valve_area_m2 is not None:
            not_negative(f'bag "{self.title}": the opening of its valve', self.valve_area_m2, "m²")

    def full_m3(self, column: Column) -> float:
        """Return the volume it may hold: the greater of the known volume and what the tag amounts to."""
        tag = 0.0 if self.tag_lift_kg is None else self.tag_lift_kg / column.density_kg_m3
        return max(self.volume_m3 or 0.0, tag)

    def counted_m3(self, column: Column) -> float:
        """Return the volume that may be counted on: the lesser of the known volume and the tag's."""
        tag = np.inf if self.tag_lift_kg is None else self.tag_lift_kg / column.density_kg_m3
        known = np.inf if self.volume_m3 is None else self.volume_m3
        return float(min(known, tag))

    def net_lift_kg(self, volume_m3: ArrayLike, depth_m: ArrayLike, column: Column) -> Array:
        """Return what this volume of air in it lifts at a depth, less the bag's own weight, kg."""
        return np.asarray(lift_kg_per_m3(depth_m, column) * np.asarray(volume_m3) - self.submerged_kg)


@dataclass(frozen=True, slots=True)
class CrownLine:
    """The line from a bag's crown to an anchor, which turns the bag over before it can reach the surface.

    `length_m` None: not known. `to_the_load`: it ends at the load itself, which then comes up with the bag.
    `wll_kg` is the tag of line and fittings, `holding_kg` what the anchor holds upwards, both None if not
    known. `anchor_depth_m` is the depth of the anchor.
    """

    length_m: float | None
    anchor_depth_m: float | None
    to_the_load: bool = False
    wll_kg: float | None = None
    holding_kg: float | None = None


@dataclass(frozen=True, slots=True)
class Eye:
    """A lifting point of the load or its frame that one or more bags pull at; WLL by its tag."""

    name: str
    wll_kg: float | None


@dataclass(frozen=True, slots=True)
class Bag:
    """One bag in the set: its kind, the WLL on its strop's tag, the eye it pulls at, its crown line.

    `at_m` is where it pulls, (x, y) in the body's frame; None where not known.
    """

    name: str
    kind: BagKind
    strop_wll_kg: float | None
    eye: str
    crown: CrownLine | None
    at_m: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class BagSet:
    """All bags of one lift, in the order they are filled: the last one trims.

    `depth_m`: depth of the bags' air at the start. `bed_depth_m`: how deep that air would be again with the
    load back on the bed, so the same unless the start is off the bed. `pause_depth_m`: where the rise stops
    below the surface. `rise_m_s`: the rate the divers mean to hold by venting. `taken_at`: who takes the
    load then. `drag_area_m2`: sum of drag coefficient times seen area of load and bags. `hook_wll_kg`: the
    line of a hook that follows the load up slack, None if there is none.
    """

    bags: tuple[Bag, ...]
    eyes: tuple[Eye, ...]
    depth_m: float
    bed_depth_m: float
    pause_depth_m: float | None = None
    rise_m_s: float | None = None
    taken_at: TakenAt | None = None
    drag_area_m2: float | None = None
    hook_wll_kg: float | None = None

    def __post_init__(self) -> None:
        if not self.bags:
            raise BagError("a set of bags needs at least one bag")
        twice = [name for name, count in Counter(b.name for b in self.bags).items() if count > 1]
        if twice:
            raise BagError(f'two bags are called "{twice[0]}"; give each its own name')
        known = {e.name for e in self.eyes}
        for bag in self.bags:
            if bag.eye not in known:
                raise BagError(
                    f'bag "{bag.name}" pulls at the eye "{bag.eye}", which is not in the list of eyes'
                )
        positive("the depth of the bags", self.depth_m, "m")
        if self.bed_depth_m < self.depth_m:
            raise BagError(
                f"bags that start {self.depth_m:g} m down cannot come back to {self.bed_depth_m:g} m with the load "
                "on the bed: the bed depth is the greater one"
            )
        if self.pause_depth_m is not None and not 0.0 <= self.pause_depth_m < self.depth_m:
            raise BagError(
                f"the pause must lie between the surface and the start at {self.depth_m:g} m; "
                f"got {self.pause_depth_m:g} m"
            )
        if self.taken_at is not None and self.taken_at not in TAKEN_AT:
            raise BagError(f"the load is taken over by one of: {', '.join(TAKEN_AT)}")
        for what, value, unit in (
            ("the rate of rise", self.rise_m_s, "m/s"),
            ("the drag area", self.drag_area_m2, "m²"),
        ):
            if value is not None:
                positive(what, value, unit)

    @property
    def submerged_kg(self) -> float:
        """Weight of all empty bags under water, kg."""
        return sum(b.kind.submerged_kg for b in self.bags)

    def full_m3(self, column: Column) -> Array:
        """Return the volume each bag may hold, (bags,) in the order of filling."""
        return np.array([b.kind.full_m3(column) for b in self.bags])

    def full_lift_kg(self, depth_m: float, column: Column) -> float:
        """Return what all bags full to the mouth may lift, less their own weight, kg."""
        return float(lift_kg_per_m3(depth_m, column)) * float(self.full_m3(column).sum()) - self.submerged_kg

    def counted_lift_kg(self, depth_m: float, column: Column) -> float:
        """Return the lift that may be counted on with all bags full, less their own weight, kg."""
        volume = sum(b.kind.counted_m3(column) for b in self.bags)
        return float(lift_kg_per_m3(depth_m, column)) * volume - self.submerged_kg
