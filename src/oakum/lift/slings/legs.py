"""What hangs between the hook and the load: legs, fittings, the hook, the rig, and the load they carry."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oakum.lift.slings.ruling import Ruling

Array = NDArray[np.float64]
Point = tuple[float, float, float]

LegKind = Literal[
    "wire rope",
    "chain grade 80",
    "chain",
    "polyester",
    "polyamide",
    "natural fibre rope",
    "other",
]
"""What a leg is made of; "polyester" and "polyamide" are webs, round slings and ropes alike."""

Hitch = Literal["straight", "choke", "basket"]

FittingKind = Literal["shackle", "shoulder eyebolt", "plain eyebolt", "swivel eye", "welded eye", "ring"]


@dataclass(frozen=True, slots=True)
class Fitting:
    """A shackle, an eye or a ring.

    `wll_kg` is the WLL on the piece, None: not known. `axis` is the direction in which it is loaded in line
    (an eyebolt's axis), in the load's frame; from it the angle off line is computed. `off_line_deg` is that
    angle typed instead, as for a shackle pulled sideways. Neither: not known.
    """

    kind: FittingKind
    name: str
    wll_kg: float | None
    axis: Point | None = None
    off_line_deg: float | None = None
    gear: str = ""


@dataclass(frozen=True, slots=True)
class Leg:
    """One sling leg from a point of the load to the hook.

    `attachment_m`: the point on the load, in the load's frame (x along, y across, z up), metres.
    `length_m`: from attachment to hook, None: made to fit the hook. `wll_kg`: WLL on the tag for the pull
    `wll_for`, None: not known. `gear`: key in the gear register. `choke_angle_deg`: angle of choke, for a
    choke hitch. `basket_deg`: angle of each part of a basket hitch from the line at right angles to the pull,
    90 = parallel parts. `diameter_m`: of rope or chain. `bend_diameter_m`: least diameter the body of a rope
    is bent over. `ea_n`: axial stiffness EA; `stiffness_n_m`: spring of the whole leg, governs over `ea_n`.
    `shackle` and `eye` lie between leg and load; None: there is none.
    """

    name: str
    attachment_m: Point
    wll_kg: float | None
    kind: LegKind
    hitch: Hitch = "straight"
    wll_for: Hitch = "straight"
    length_m: float | None = None
    gear: str = ""
    choke_angle_deg: float | None = None
    basket_deg: float | None = None
    diameter_m: float | None = None
    bend_diameter_m: float | None = None
    ea_n: float | None = None
    stiffness_n_m: float | None = None
    shackle: Fitting | None = None
    eye: Fitting | None = None


@dataclass(frozen=True, slots=True)
class HookAt:
    """The hook hangs at this point of the load's frame when the load lies level, metres."""

    point_m: Point


@dataclass(frozen=True, slots=True)
class HookOver:
    """The legs are cut so that the hook is over the likely hanging point.

    `height_m` is above the topmost attachment.
    """

    height_m: float


@dataclass(frozen=True, slots=True)
class HookTrimmed:
    """The legs are trimmed at a trial lift until the load hangs level, wherever its hanging point turns out to be.

    `height_m` is above the topmost attachment.
    """

    height_m: float


@dataclass(frozen=True, slots=True)
class HookByLengths:
    """The hook is where the given lengths of the legs meet."""


Hook = HookAt | HookOver | HookTrimmed | HookByLengths


@dataclass(frozen=True, slots=True)
class Matched:
    """How well four legs match: by the makers' papers, in diameters of the rope.

    `tolerance_diameters`: greatest departure of a leg from its length; `pair_difference_diameters`: greatest
    difference within a matched pair; `longer_on_one_diagonal`: the longer legs of both pairs share a diagonal.
    """

    tolerance_diameters: float
    pair_difference_diameters: float
    longer_on_one_diagonal: bool


@dataclass(frozen=True, slots=True)
class Rig:
    """Two, three or four legs to one hook.

    `ruling`: which rules govern. `tilt_limit_deg`: how far the load may hang out of level, None: not said.
    `rigging_kg`: apparent mass of all that hangs between hook and load, None: not known.
    `length_tolerance_m`: how far each leg may be out of its length, either way, None: not known. `top`: the
    ring or shackle that gathers the legs, None: not named.
    """

    legs: tuple[Leg, ...]
    hook: Hook
    ruling: Ruling
    tilt_limit_deg: float | None
    rigging_kg: float | None
    length_tolerance_m: float | None = None
    matched: Matched | None = None
    top: Fitting | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Load:
    """What the legs carry, in draws.

    `weight_n` (n,): apparent weight without the rigging, newtons. `hanging_m` (n, 3): the point the hook
    must be over, in the load's frame, metres: the centre of gravity in air, the hanging point under water.
    `use_weights` (n,): weights of the draws, None: all alike.
    """

    name: str
    weight_n: Array
    hanging_m: Array
    use_weights: Array | None = None
