"""The rig as its file describes it: what hangs on what, which gear, who does what, in the typist's words.

None, or an empty text, is *not known*; nothing here has a default that counts as an answer. Lengths in metres,
masses in kilograms, angles in degrees, times in seconds.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from oakum.ground.estimate import Estimate
from oakum.lift.bags import AirSupply, BagKind, TakenAt
from oakum.lift.seaway import SeaAsked
from oakum.lift.slings import FittingKind, Hitch, Hitches, LegKind, Matched, Sharing, Spreader

Point = tuple[float, float, float]
HookPlace = Literal["over the hanging point", "trimmed", "at a point", "by leg lengths"]
BagsFor = Literal["carry", "relieve"]


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of gear: its key in the register, or the WLL on its tag typed by hand; both may be missing."""

    key: str = ""
    wll_kg: float | None = None


@dataclass(frozen=True, slots=True)
class RigFitting:
    """A shackle, eye or ring of the rig file."""

    kind: FittingKind
    piece: Piece
    axis: Point | None = None
    off_line_deg: float | None = None


@dataclass(frozen=True, slots=True)
class RigLeg:
    """One leg of the rig file."""

    name: str
    at_m: Point
    piece: Piece
    kind: LegKind | None = None
    hitch: Hitch | None = None
    wll_for: Hitch | None = None
    length_m: float | None = None
    choke_angle_deg: float | None = None
    basket_deg: float | None = None
    diameter_m: float | None = None
    bend_diameter_m: float | None = None
    ea_n: float | None = None
    stiffness_n_m: float | None = None
    shackle: RigFitting | None = None
    eye: RigFitting | None = None


@dataclass(frozen=True, slots=True)
class RigHook:
    """Where the hook hangs and what it bears; `piece` is hook, runner and hoist by their least WLL."""

    place: HookPlace | None
    piece: Piece
    level: Literal["under water", "in air"] | None = None  # in which state the legs are cut to hang it level
    height_m: float | None = None
    at_m: Point | None = None
    top: RigFitting | None = None
    tilt_limit_deg: float | None = None
    length_tolerance_m: float | None = None
    rigging_kg: float | None = None


@dataclass(frozen=True, slots=True)
class RigSpreader:
    """A spreader with the eyes of the load below its two ends, and its top legs and drops."""

    beam: Spreader
    ends_m: tuple[Point, Point]
    top: Piece
    drop: Piece


@dataclass(frozen=True, slots=True)
class RigCrownLine:
    """The line from a bag's crown, with what it and its anchor bear."""

    piece: Piece
    length_m: float | None = None
    anchor_depth_m: float | None = None
    to_the_load: bool | None = None
    holding_kg: float | None = None


@dataclass(frozen=True, slots=True)
class RigBag:
    """One bag of the rig file."""

    name: str
    kind: BagKind
    piece: Piece  # the bag itself
    strop: Piece
    eye: str
    crown: RigCrownLine | None
    at_m: Point | None = None  # where it pulls
    strop_length_m: float | None = None


@dataclass(frozen=True, slots=True)
class RigBags:
    """All bags, in the order they are filled. `used_for`: they carry the load, or relieve a hook of a part of it."""

    used_for: BagsFor | None
    bags: tuple[RigBag, ...]
    eyes: tuple[tuple[str, Piece], ...]
    depth_m: float
    bed_depth_m: float
    hook_line: Piece | None = None
    rise_m_s: float | None = None
    taken_at: TakenAt | None = None
    drag_area_m2: float | None = None
    added_mass_kg: float | None = None
    relieve_most: float | None = None  # share of the weight under water that bags may take off the hook
    air_pressure_pa: float | None = None
    temperature_c: float | None = None
    supply: AirSupply | None = None


@dataclass(frozen=True, slots=True)
class RigPull:
    """What turns the object or holds it: a bag, a winch line over an anchor, or hands, at a point of its side view."""

    way: Literal["bag", "line", "hands"]
    at_m: tuple[float, float]
    piece: Piece
    lift_kg: float | None = None  # of the bag as filled
    anchor_m: tuple[float, float] | None = None
    through_block: bool | None = None  # the line turns at a block on its anchor
    holding_kg: float | None = None
    people: int | None = None
    each_kg: float | None = None


@dataclass(frozen=True, slots=True)
class RigBearing:
    """A point of object or frame that stands on the bed in one step of fitting the frame."""

    name: str
    member: str
    at_m: tuple[float, float]
    bears_kg: float | None


@dataclass(frozen=True, slots=True)
class RigFramePart:
    """A part of the frame that is fast to the object."""

    name: str
    submerged_kg: float
    at_m: tuple[float, float]


@dataclass(frozen=True, slots=True)
class RigFrameStep:
    """One step of fitting the frame: held at an angle or turned between two, on one or two bearing points."""

    name: str
    from_deg: float
    to_deg: float
    bearings: tuple[RigBearing, ...]
    parts: tuple[RigFramePart, ...]
    pull: RigPull | None


@dataclass(frozen=True, slots=True)
class RigTurning:
    """A turning on the seabed, in the object's side view: `across` and up, the edge it turns on a corner of it."""

    name: str
    across: Literal["x", "y"]  # the body's axis that is the side view's horizontal
    outline: tuple[tuple[float, float], ...]
    edge: int
    clockwise: bool
    pull: RigPull | None
    hold: RigPull | None = None
    to_deg: float | None = None
    bed_friction: float | None = None
    frame: tuple[RigFrameStep, ...] = ()


@dataclass(frozen=True, slots=True)
class RigRolling:
    """A round object rolled over planks: its axis in the side view, and what pulls and stops it."""

    name: str
    across: Literal["x", "y"]
    axis_m: tuple[float, float]
    radius_m: float
    slope_deg: float
    pull_height_m: float
    piece: Piece
    start_deg: float | None = None
    bed_friction: float | None = None
    chock_m: float | None = None
    push_kg: float | None = None


@dataclass(frozen=True, slots=True)
class RigStep:
    """What the file says of one step: minutes, other words, or a step of its own after another one."""

    key: str
    minutes: Estimate | None = None  # seconds
    title: str = ""
    action: str = ""
    role: str = ""
    watch: str = ""
    abort: str = ""
    divers: Literal["in", "out", "either", ""] = ""
    after: str = ""


@dataclass(frozen=True, slots=True)
class RigRole:
    """A role the lift needs, its duty and the competences it asks for."""

    role: str
    duty: str = ""
    needs: tuple[str, ...] = ()
    in_water: bool | None = None


@dataclass(frozen=True, slots=True)
class RigWork:
    """How the lift is done: trial, pause, set-down, reception, limits on the day."""

    trial_height_m: tuple[float, float] | None = None
    trial_hold_s: float | None = None
    cell_step_kg: float | None = None
    pause_depth_m: float | None = None
    set_down: str = ""
    reception: str = ""
    weather: str = ""
    hoist: str = ""
    steps: tuple[RigStep, ...] = ()
    roles: tuple[RigRole, ...] = ()


@dataclass(frozen=True, slots=True)
class RigPlan:
    """Everything the rig file says. `cell_unit` is one of the units of `cell.CELL_UNITS`, or empty."""

    title: str
    cell_unit: str
    hook: RigHook | None
    legs: tuple[RigLeg, ...] = ()
    one_sling: bool = False  # all legs are one sling with one tag
    spreader: RigSpreader | None = None
    sharing: Sharing | None = None
    hitches: Hitches | None = None
    matched: Matched | None = None
    bags: RigBags | None = None
    turning: tuple[RigTurning, ...] = ()
    rolling: tuple[RigRolling, ...] = ()
    work: RigWork = field(default_factory=RigWork)
    sea: SeaAsked | None = None
    notes: str = ""
    source: str = ""
    mark: str = ""
