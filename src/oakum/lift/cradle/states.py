"""The states of a frame: in the water, clear of it, standing on deck, on a lorry; what each is asked with."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oakum.lift.checks import Rule
from oakum.lift.cradle.frame import Frame
from oakum.lift.cradle.timber import Duration

Array = NDArray[np.float64]

StateKey = Literal["in water", "clear", "on deck", "on lorry"]


@dataclass(frozen=True, slots=True)
class Stand:
    """A point that holds the frame up: a lifting point, or something it stands on. `at_m` in plan.

    `stiffness_n_m` None: does not give. `bearing_m`: length of member that bears on it, None: not known.
    `wll_kg`: tag of a lifting point's fitting, None: not known. `post`: member between stand and frame.
    """

    name: str
    at_m: tuple[float, float]
    lifts: bool
    stiffness_n_m: float | None = None
    bearing_m: float | None = None
    wll_kg: float | None = None
    post: str | None = None


@dataclass(frozen=True, slots=True)
class Rest:
    """Where the find rests on a member, from and to along it. `share` of its weight, or the spring of its bed.

    With neither on every rest the weight is shared as by equal springs, and that is an objection.
    """

    name: str
    member: str
    from_m: float
    to_m: float
    share: float | None = None
    stiffness_n_m: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class FrameState:
    """One state. None is not known.

    `find_n` (n,): the find's weight in this state, N, trapped water with it. `centre_m` (2,) or (n, 2): where its
    centre is in plan. `vertical_factor`: what every load is multiplied with (dynamics), its source. `side_share`: level
    acceleration over g, its source. `friction` under the frame; `lashings_n` what blocks and lashings hold level;
    `height_m`, `edge_m`: centre of frame and find over what it stands on, and its least distance from the edge of
    the stands. `stops`: rails that hold the find sideways. `sling_deg`: legs from the horizontal, 90 for plumb ones.
    `skew_factor`: for four lifting points and more.
    """

    key: StateKey
    stands: tuple[Stand, ...]
    find_n: Array
    centre_m: Array
    duration: Duration | None
    vertical_factor: float | None
    vertical_source: str = ""
    side_share: float | None = None
    side_source: str = ""
    friction: float | None = None
    lashings_n: float | None = None
    height_m: float | None = None
    edge_m: float | None = None
    stops: tuple[str, ...] = ()
    sling_deg: float | None = None
    skew_factor: float | None = None
    use_weights: Array | None = None

    @property
    def is_wet(self) -> bool:
        """Whether frame and find are under water."""
        return self.key == "in water"

    @property
    def hangs(self) -> bool:
        """Whether it hangs from lifting points."""
        return self.key in ("in water", "clear")


@dataclass(frozen=True, slots=True, eq=False)
class FrameQuestion:
    """A frame, where the find rests in it, and the states it goes through.

    `sag_m`: how far a member may sag under the find, None: not known. `service_class_known`: timber in and out of
    the sea is class 3; False where nobody said so, which is an objection though 3 is taken.
    """

    frame: Frame
    rests: tuple[Rest, ...]
    states: tuple[FrameState, ...]
    water_kg_m3: float
    sag_m: float | None
    service_class_known: bool = True


@dataclass(frozen=True, slots=True)
class LorryShare:
    """A level acceleration on the road over g, as the standard has it."""

    direction: str
    share_of_g: float
    rule: Rule


@cache
def lorry_shares() -> tuple[LorryShare, ...]:
    """Return the level accelerations on a lorry; a greater one that is typed governs, a smaller one objects."""
    text = resources.files(__package__).joinpath("lorry.csv").read_text(encoding="utf-8")
    return tuple(
        LorryShare(
            row["direction"],
            float(row["share_of_g"]),
            Rule(f"lorry-{row['direction']}", row["words"], row["source"], "EU", row["mark"]),
        )
        for row in csv.DictReader(text.splitlines())
    )
