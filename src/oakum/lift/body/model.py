"""A body as it lies on the seabed: parts with shapes, stuffs and places, what clings to them and fills them.

Every measured number is an `Estimate` in SI units. The frame is the body's own: x along, y across, z up, as
the body lies when it is lifted. A field that is None is *not known*; the weighing says what that costs.
"""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.estimate import Estimate
from oakum.ground.solids import Mesh

ROLES = ("object", "concretion", "trapped water", "sediment", "crate", "rigging")
"""What a part is to the lift: what is raised, what clings to it, what fills it, what carries it."""

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Stuff:
    """What a part is made of.

    Either `density_kg_m3` (bulk, pores full of water) or, for waterlogged wood, one of `basic_kg_m3`
    (oven-dry mass over wet volume) and `umax` (greatest water content over dry mass, a ratio: 4 is 400 %).
    """

    name: str
    density_kg_m3: Estimate | None = None
    basic_kg_m3: Estimate | None = None
    umax: Estimate | None = None

    @property
    def is_wood(self) -> bool:
        """Whether the density follows from the condition of the wood."""
        return self.basic_kg_m3 is not None or self.umax is not None


@dataclass(frozen=True, slots=True)
class Shape:
    """A kind of solid and its dimensions: `(name, estimate)` with the unit in the name.

    `bores` are the through holes of a disc as `(x, y, radius)` in metres; `mesh` is a closed triangle mesh.
    """

    kind: str
    dimensions: tuple[tuple[str, Estimate], ...] = ()
    stave: str = "parabolic"
    bores: tuple[Vector, ...] = ()
    mesh: Mesh | None = None


@dataclass(frozen=True, slots=True)
class Place:
    """Where the origin of the part's own frame lies, metres, after turns about x, then y, then z, degrees."""

    x_m: Estimate
    y_m: Estimate
    z_m: Estimate
    turn_deg: Vector = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Repeat:
    """The same part several times: round an axis of the body, evenly, or along a step."""

    count: int
    around: str | None = None  # "x", "y" or "z"
    centre_m: Vector = (0.0, 0.0, 0.0)  # a point on that axis
    step_m: Vector | None = None


@dataclass(frozen=True, slots=True)
class Coat:
    """Concretion over a part: `covers` is the share of the surface that carries it.

    `over` says which surface: "all", or "sides" (the ends of a turned part are bare). Where two coated parts
    touch, their coats overlap and are counted twice unless `covers` leaves the hidden surface out.
    """

    thickness_m: Estimate
    stuff: Stuff
    covers: Estimate
    over: str = "all"


@dataclass(frozen=True, slots=True)
class Outlet:
    """How trapped water gets out: `count` round holes, or an open grid floor as a share of the plan area.

    `height_m` is the height of the holes above the lowest point of the water; what lies below stays.
    `open_share` is the part of the opening that is not clogged; None is not known.
    """

    count: int = 0
    diameter_m: Estimate | None = None
    height_m: Estimate | None = None
    floor_share: Estimate | None = None
    open_share: Estimate | None = None


@dataclass(frozen=True, slots=True)
class WaterFill:
    """Water in a hollow. `held` is the share that comes up with the body; None is not known."""

    held: Estimate | None
    outlet: Outlet | None = None


@dataclass(frozen=True, slots=True)
class SedimentFill:
    """Saturated sediment in a hollow. `stays`: share of its mass left after draining; None is not known."""

    stuff: Stuff
    stays: Estimate | None


@dataclass(frozen=True, slots=True)
class Part:
    """One part, or one kind of part repeated.

    A part with `hole_in` is cut out of the part of that name (a bore, a slot): negative volume of its stuff,
    filled as `fill` says (None: open, nothing is held). `less` names parts whose volume is taken off a
    hollow that they stand in.
    """

    name: str
    role: str
    shape: Shape
    place: Place
    stuff: Stuff | None = None
    repeat: Repeat | None = None
    coat: Coat | None = None
    hole_in: str | None = None
    fill: WaterFill | SedimentFill | None = None
    less: tuple[str, ...] = ()
    overlap_allowed: float = 0.02
    line: int = 0

    @property
    def count(self) -> int:
        """How many there are."""
        return self.repeat.count if self.repeat else 1


@dataclass(frozen=True, slots=True)
class Bed:
    """The bed round the body, for the breakout bound.

    `kind` is "clay", "silt", "sand" or "gravel". `adhesion` is the share of the shear strength that clings to
    the sides. Overburden is a layer lying on the body. Times are for the Liu ratio; None is not known.
    """

    kind: str
    shear_strength_pa: Estimate | None = None
    base_area_m2: Estimate | None = None
    side_area_m2: Estimate | None = None
    adhesion: Estimate | None = None
    overburden_m: Estimate | None = None
    overburden_area_m2: Estimate | None = None
    overburden_kg_m3: Estimate | None = None
    pull_s: Estimate | None = None
    embedded_s: Estimate | None = None


@dataclass(frozen=True, slots=True)
class BodyWater:
    """The water the body lies in: density with spread, in words; `known` is False where nobody said which."""

    words: str
    density_kg_m3: Estimate
    known: bool = True


@dataclass(frozen=True, slots=True)
class Body:
    """Everything the weighing needs. `tape_scale` multiplies every length (one tape, one error)."""

    title: str
    water: BodyWater
    parts: tuple[Part, ...]
    tape_scale: Estimate | None = None
    cell_wall_kg_m3: Estimate | None = None  # of wood; None: 1500 with the spread of the literature
    hook_above_top_m: Estimate | None = None
    hoist_speed_m_s: Estimate | None = None
    bed: Bed | None = None
    notes: str = ""
    source: str = ""  # where its measures come from
    mark: str = ""  # e.g. "starting body: edit"
    questions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()

    def part(self, name: str) -> Part:
        """Return the part with this name; KeyError if there is none."""
        for part in self.parts:
            if part.name == name:
                return part
        raise KeyError(name)


def joined(first: Body, second: Body) -> Body:
    """Two bodies as one: the parts of both, in the water, bed and tape of the first. Names must differ."""
    names = {p.name for p in first.parts} & {p.name for p in second.parts}
    if names:
        raise ValueError(f"both bodies have a part named {', '.join(sorted(names))}: rename one")
    return Body(
        title=f"{first.title} and {second.title}",
        water=first.water,
        parts=first.parts + second.parts,
        tape_scale=first.tape_scale,
        cell_wall_kg_m3=first.cell_wall_kg_m3,
        hook_above_top_m=first.hook_above_top_m,
        hoist_speed_m_s=first.hoist_speed_m_s,
        bed=first.bed,
        questions=first.questions + second.questions,
        assumptions=first.assumptions + second.assumptions,
    )
