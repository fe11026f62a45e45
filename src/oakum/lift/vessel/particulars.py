"""What is asked about a vessel, where the load hangs from it, and what hangs there.

Heights are above the keel; `y` is from the centreline, above 0 to the side of the lift. None is not known.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from oakum.lift.vessel.derrick import Derrick
from oakum.lift.vessel.load_chart import LoadChart, Waters
from oakum.lift.vessel.righting import RightingCurve
from oakum.lift.vessel.stability import Array, Dim


@dataclass(frozen=True, slots=True)
class Aboard:
    """Somebody or something aboard that the displacement does not include: people, gear, a counterweight."""

    name: str
    mass_kg: float
    height_m: float
    y_m: float


@dataclass(frozen=True, slots=True)
class FreeSurface:
    """A tank, hold or tub that is neither empty nor pressed up: its surface, and the density of the liquid."""

    name: str
    length_m: float
    breadth_m: float
    density_kg_m3: float


@dataclass(frozen=True, slots=True)
class StabilityBook:
    """The vessel's own stability book, which governs: condition and page, and its limits for lifting."""

    title: str
    page: str
    condition: str
    heel_limit_deg: float | None = None
    freeboard_limit_m: float | None = None
    curve: RightingCurve | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Vessel:
    """A vessel in the condition of the lift, before it takes the load.

    `displacement_kg`, `kg_m`, `km_m`: floats or draws (n,), from the book or a rolling test. `bm_m`: BM for the
    wall-sided formula. `freeboard_m`: least, to the deck edge, upright. `gm_long_m`, `corner_m`: for the trim, GML,
    and how far the low corner is from the centre of flotation. `length_m`, `depth_m`, `superstructure_m`: for
    fishing vessels. `floods_at_deg`: heel at which water comes in through what is open. `vessel_class`: chooses the
    published criteria.
    """

    name: str
    displacement_kg: Dim | None
    kg_m: Dim | None
    km_m: Dim | None
    beam_m: float | None
    freeboard_m: float | None
    draught_m: float | None
    waterplane_m2: float | None
    water_kg_m3: float
    book: StabilityBook | None
    vessel_class: str | None
    free_surfaces: tuple[FreeSurface, ...] | None
    aboard: tuple[Aboard, ...] | None
    bm_m: float | None = None
    gm_long_m: float | None = None
    corner_m: float | None = None
    length_m: float | None = None
    depth_m: float | None = None
    superstructure_m: float | None = None
    floods_at_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Head:
    """Where the load hangs: boom head or sheave.

    `y_m` from the centreline, `height_m` above the keel, `x_m` from the centre of flotation along the vessel (None:
    not known). `foot_y_m`, `foot_height_m`: the point the chart's radius counts from; None: not known.
    """

    y_m: float
    height_m: float
    x_m: float | None
    foot_y_m: float | None = None
    foot_height_m: float | None = None


@dataclass(frozen=True, slots=True, eq=False)
class HungLoad:
    """What hangs there, in draws (n,): kg as a load cell shows it, forces of the sea included where known.

    Under water this is the *apparent* hook load, not the mass in air. `use_weights` (n,) weighs the draws.
    """

    state: Literal["under water", "in air"]
    load_kg: Array
    use_weights: Array | None = None


@dataclass(frozen=True, slots=True, eq=False)
class VesselLift:
    """One question: this load on this vessel's head in these waters."""

    vessel: Vessel
    head: Head
    load: HungLoad
    chart: LoadChart | None
    waters: Waters | None
    derrick: Derrick | None = None
