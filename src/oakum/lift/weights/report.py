"""The answer to "what does it weigh?": one frozen object that terminal, page, PDF and JSON all show.

Lengths are in metres, masses in kilograms, forces in newtons, angles in degrees from the vertical. A *hook
load* is a force; it is shown as the reading a load cell would give, force / g, in kilograms. The frame is the
body's own: x along, y across, z up, as the body lies when it is lifted.
"""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.estimate import Spread
from oakum.lift.body.model import Body
from oakum.lift.checks import verdict_words


@dataclass(frozen=True, slots=True)
class StateWeight:
    """What the hook, or the deck, carries in one of the five weight states."""

    key: str  # "seabed" | "submerged" | "clear" | "drained" | "deck"
    title: str
    load_kg: Spread  # load-cell reading, force / g
    explanation: str


@dataclass(frozen=True, slots=True)
class PartLine:
    """One row of the part list."""

    name: str
    role: str  # "object" | "concretion" | "trapped water" | "sediment" | "crate" | "rigging"
    shape: str  # in words
    material: str
    volume_m3: Spread
    mass_kg: Spread  # in air, saturated
    submerged_kg: Spread


@dataclass(frozen=True, slots=True)
class Centre:
    """A point with its cloud: likely place and P5/P95 along each axis."""

    name: str
    x_m: Spread
    y_m: Spread
    z_m: Spread


@dataclass(frozen=True, slots=True)
class Hanging:
    """Where the hook must be over, under water and in air, and how far the body turns between.

    `tilt_deg` is None where the data cannot support one; `why_no_tilt` then says why.
    """

    submerged: Centre
    in_air: Centre
    swing_m: Spread | None
    tilt_deg: Spread | None
    why_no_tilt: str | None


@dataclass(frozen=True, slots=True)
class Curve:
    """A band of a quantity against another, with the points where something changes."""

    name: str
    x_name: str
    x_unit: str
    y_name: str
    y_unit: str
    x: tuple[float, ...]
    p5: tuple[float, ...]
    best: tuple[float, ...]
    p95: tuple[float, ...]
    marks: tuple[tuple[float, str], ...] = ()


@dataclass(frozen=True, slots=True)
class CellReading:
    """A load-cell reading of the object hanging free under water."""

    reading_kg: float
    sd_kg: float | None  # None: not known, the reading is not used
    text: str
    rigging_kg: float = 0.0  # submerged weight of what hangs between cell and object
    with_frame: bool | None = None  # whether the frame of the cradle hung with it; None: not known


@dataclass(frozen=True, slots=True)
class Conditioning:
    """What a load-cell reading did to the draws."""

    reading: CellReading
    rank: float  # where the reading falls in the model's own range, 0 to 1
    effective_draws: float
    before_kg: Spread  # submerged, model alone
    after_kg: Spread
    is_weighting: bool = True  # False: it contradicts the model, or too few draws agree; counted only where worse


@dataclass(frozen=True, slots=True)
class FrameShare:
    """How much of the hook load is the frame of the cradle, kg: under water, and clear with the water in its tubes."""

    submerged_kg: Spread
    clear_kg: Spread

    @property
    def words(self) -> str:
        """The share in a sentence."""
        return f"Of the hook load the frame of the cradle is {self.figures}."

    @property
    def figures(self) -> str:
        """The share in figures alone."""
        return f"clear of the surface {self.clear_kg.words()}, under water {self.submerged_kg.words()}"


@dataclass(frozen=True, slots=True)
class WeightReport:
    """Everything the weight sheet says."""

    title: str
    body: Body
    water: str  # in words, with the density used
    water_density_kg_m3: Spread
    states: tuple[StateWeight, ...]
    parts: tuple[PartLine, ...]
    volume_m3: Spread
    mass_kg: Spread  # of the object with its crust, saturated, in air
    centres: tuple[Centre, ...]  # gravity in air, gravity submerged..., buoyancy
    hanging: Hanging
    emergence: Curve  # hook load against height of the body's lowest point above the water, negative = below
    draining: Curve | None  # hook load against time after breaking the surface
    breakout_kg: Spread | None  # upper bound, to be dug away; None = bed not described
    conditioning: Conditioning | None
    objections: tuple[str, ...]
    open_questions: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    draws: int
    seed: int
    version: str
    frame: FrameShare | None = None  # None: no cradle is described

    def state(self, key: str) -> StateWeight:
        """Return the state with this key."""
        return next(s for s in self.states if s.key == key)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)
