"""What is known about a vessel: particulars with their spread, load charts, motions, derrick, boom foot, wind."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from oakum.ground.estimate import Draws, Estimate
from oakum.lift.vessel.derrick import Derrick, tip_height_m
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.load_chart import LoadChart, Waters
from oakum.lift.vessel.motions import ResponseTable
from oakum.lift.vessel.motions_seen import SeenMotions
from oakum.lift.vessel.particulars import Head, Vessel
from oakum.lift.vessel.roll_test import RollTest, roll_test_gm_m
from oakum.lift.vessel.stability import Array

Motions = ResponseTable | SeenMotions
"""How she moves on one heading: a table against period, or what was seen. Both have `heading` and `tip(y, x)`."""

Side = Literal["port", "starboard", ""]


@dataclass(frozen=True, slots=True)
class Pivot:
    """Foot of the boom or slewing centre of the crane, which the chart's radius counts from.

    `y_m` from the centreline, above 0 to the side of the lift; `height_m` above the keel; `x_m` from the centre of
    flotation along the vessel. `side` is the side of the lift, "" where it is not said. `boom_m` from the foot to the
    head; `head_height_m` of the head above the keel, where it is the same at every radius. None is not known.
    """

    y_m: float
    height_m: float
    x_m: float | None = None
    side: Side = ""
    boom_m: float | None = None
    head_height_m: float | None = None


@dataclass(frozen=True, slots=True)
class WindArea:
    """What the wind takes hold of: area abeam, lever from half draught to its middle, drag coefficient."""

    area_m2: float
    lever_m: float
    drag: float


@dataclass(frozen=True, slots=True)
class VesselSpread:
    """What draws of the vessel are made from; None is not known.

    `kg` and `gm` are from the papers, at most one of them; `roll_test` was timed. GM needs `km` to give KG.
    """

    displacement: Estimate | None = None
    kg: Estimate | None = None
    km: Estimate | None = None
    gm: Estimate | None = None
    roll_test: RollTest | None = None


@dataclass(frozen=True, slots=True, eq=False)
class VesselPapers:
    """A vessel in the condition of the lift. `vessel` has best values; `drawn` gives the same with its spread.

    `questions`: what two papers say differently, or what was left out of a table, for a person to look at.
    """

    title: str
    vessel: Vessel
    charts: tuple[LoadChart, ...] = ()
    motions: tuple[Motions, ...] = ()
    derrick: Derrick | None = None
    pivot: Pivot | None = None
    wind: WindArea | None = None
    notes: str = ""
    source: str = ""
    mark: str = ""
    spread: VesselSpread = VesselSpread()
    questions: tuple[str, ...] = ()

    @property
    def headings(self) -> tuple[str, ...]:
        """The headings to the waves that motions are known for."""
        return tuple(m.heading for m in self.motions)

    def head(self, radius_m: float) -> Head:
        """Return where the load hangs with the boom straight abeam at a radius.

        `VesselError` where the boom foot or the height of the head is not known, or the boom does not reach.
        """
        pivot = self.pivot
        if pivot is None:
            raise VesselError(
                f'vessel "{self.title}": not known where the boom foot stands, so not where the load hangs; give '
                "[pivot] with across and height"
            )
        if not (math.isfinite(radius_m) and radius_m > 0.0):
            raise VesselError(f"the radius counts from the boom foot and is above 0 m; got {radius_m:g} m")
        return Head(pivot.y_m + radius_m, self._height_m(radius_m), pivot.x_m, pivot.y_m, pivot.height_m)

    def _height_m(self, radius_m: float) -> float:
        pivot = self.pivot
        assert pivot is not None  # asked by head
        boom = self.derrick.boom_m if self.derrick is not None else pivot.boom_m
        if boom is not None:
            return pivot.height_m + tip_height_m(boom, radius_m)
        if pivot.head_height_m is not None:
            return pivot.head_height_m
        raise VesselError(
            f'vessel "{self.title}": not known how high the boom head stands; give boom or head_height in [pivot], or '
            "the [derrick]"
        )

    def chart_for(self, waters: Waters | None) -> LoadChart | None:
        """Return the chart for a lift in these waters; None where there is none at all.

        One for open water holds in sheltered water too. One for sheltered water is given for open water only where
        there is no other: its derating then counts, and where it has none that is an objection of its check.
        """
        order: tuple[Waters | None, ...] = ("open", "sheltered", None)
        if waters == "sheltered":
            order = ("sheltered", "open", None)
        for wanted in order:
            for chart in self.charts:
                if chart.holds_in == wanted:
                    return chart
        return None

    def motions_for(self, heading: str) -> Motions | None:
        """Return the motions on a heading to the waves, however its capitals are; None where they are not known."""
        wanted = heading_key(heading)
        return next((m for m in self.motions if heading_key(m.heading) == wanted), None) if wanted else None

    def drawn(self, draws: int, rng: np.random.Generator, water_kg_m3: float | None = None) -> Vessel:
        """Return the vessel with draws (n,) of displacement, KG and KM, in the water of the lift where it is given.

        Where papers and rolling test both give a GM, each draw takes the lesser.
        """
        source, spread = Draws(draws, rng), self.spread
        displacement = _of(source, spread.displacement)
        km = _of(source, spread.km)
        heights = [] if spread.kg is None else [source.of(spread.kg)]
        if km is not None:
            if spread.gm is not None:
                heights.append(km - source.of(spread.gm))
            if spread.roll_test is not None:
                heights.append(km - roll_test_gm_m(spread.roll_test, draws, rng))
        kg = np.max(heights, axis=0) if heights else None
        water = self.vessel.water_kg_m3 if water_kg_m3 is None else water_kg_m3
        return replace(self.vessel, displacement_kg=displacement, kg_m=kg, km_m=km, water_kg_m3=water)


def heading_key(heading: str) -> str:
    """Return a heading as it is compared: "Beam seas" and "beam" are one."""
    words = heading.lower().replace("-", " ").split()
    return " ".join(w for w in words if w not in ("sea", "seas", "waves"))


def _of(source: Draws, estimate: Estimate | None) -> Array | None:
    return None if estimate is None else source.of(estimate)
