"""The answer to "does this cradle carry the find?": one frozen object for page, sheet, terminal and plan alike."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.estimate import Spread
from oakum.lift.checks import Check, verdict_words
from oakum.lift.cradle.frame import Array
from oakum.lift.cradle.frame_answer import CradleAnswer
from oakum.lift.cradle.limp import LimpAnswer
from oakum.lift.cradle.padding import PaddingAnswer
from oakum.lift.cradle.plan import CradlePlan, Pad
from oakum.lift.cradle.straps import StrapAnswer


@dataclass(frozen=True, slots=True, eq=False)
class CradleLoads:
    """What the cradle carries, over the draws (n,): the find without frame and rigging, in air with its trapped water.

    Weights in N; centres (n, 2) in plan in the body's frame, in water that of gravity and buoyancy together.
    `weights` (n,) of the draws, None: alike. `depth_m` it is raised from, None: not known.
    """

    water_n: Array
    air_n: Array
    centre_water_m: Array
    centre_air_m: Array
    weights: Array | None
    water_kg_m3: float
    depth_m: float | None


@dataclass(frozen=True, slots=True)
class StrapsIn:
    """The straps in one state; `factor`: what motion multiplies the weight with, None: not known, nothing added."""

    state: str  # "under water" or "in air"
    factor: float | None
    answer: StrapAnswer


@dataclass(frozen=True, slots=True)
class PadReport:
    """One kind of pad: at depth, and in air under its part of the find's weight.

    `depth`: one pad of them, None where it could not be answered. `air_pa`: how hard each is pressed in air, by the
    95th percentile of the weight; `air_strain`: the share of its thickness it then loses. None: not known.
    """

    pad: Pad
    depth: PaddingAnswer | None
    air_pa: float | None
    air_strain: float | None


@dataclass(frozen=True, slots=True)
class CradleReport:
    """Everything about a cradle under its find.

    `checks` of all its parts, the hardest used first, those whose limit is not known at the end. `open_questions`:
    what is not known and somebody can find out. `refused`: (part, why it could not be answered); the rest stands.
    `advice`: what would help, each found by asking again with it changed.
    """

    plan: CradlePlan
    frame: CradleAnswer | None
    straps: tuple[StrapsIn, ...]
    pads: tuple[PadReport, ...]
    bearings: tuple[Check, ...]
    tray: LimpAnswer | None
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    open_questions: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    refused: tuple[tuple[str, str], ...] = ()
    advice: tuple[str, ...] = ()
    water_n: Spread | None = None
    air_n: Spread | None = None

    @property
    def governing(self) -> Check | None:
        """The check with the highest utilisation, None where nothing could be checked."""
        return next((c for c in self.checks if c.utilisation is not None), None)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)
