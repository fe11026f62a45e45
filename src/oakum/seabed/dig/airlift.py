"""Sizing an airlift as an order of magnitude: free air, pressure at the injector, the most it could carry.

The relation is Liddell's of 1922 for air-lift wells, as restated in SI; it equals the work of isothermal compression
at an efficiency of about one third. Real digging is set by the excavator's eye, not by the pipe.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import isfinite, log, pi

from oakum.seabed.dig.basis import CAUTIONS, Basis, Sized
from oakum.seabed.dig.errors import DigError

GRAIN_KG_M3 = 2650.0
GRAVITY_M_S2 = 9.81
ATMOSPHERE_PA = 101_325.0
LOSSES_PA = (30_000.0, 50_000.0, 70_000.0)
SPEEDS_M_S = (1.5, 2.0, 3.0)
SOLIDS = (0.05, 0.075, 0.10)
POROSITY = (0.35, 0.40, 0.45)
POOR_BELOW_M, DOUBTFUL_BELOW_M = 3.0, 5.0

BASES = (
    Basis(
        "free air a volume of water, Va/Vw = (3 + l/213) l / (h0 ln(1 + s/h0))",
        "Liddell 1922, as restated; the equivalence with compression work recomputed",
        "read",
    ),
    Basis(
        "lift of the heavier mixture, l' = freeboard + s (rho_m/rho_w - 1)",
        "balance of columns",
        "own calculation",
    ),
    Basis("solids 5 to 10 % of the mixture by volume, grains 2,650 kg/m3", "", "practice, no source"),
    Basis("mixture drawn in at 1.5 to 3 m/s", "", "practice, no source"),
    Basis("losses of 0.3 to 0.7 bar in hose and injector", "", "practice, no source"),
    Basis("works poorly in less than 3 to 5 m of water", "", "practice, no source"),
)


@dataclass(frozen=True, slots=True)
class AirliftAsked:
    """What is to be sized: lengths in metres, density in kg/m3.

    `submergence_m` is from the water surface down to the injector, `freeboard_m` from the water up to the outlet
    (0 where it discharges under water). `free_air_m3_min` and `pressure_bar` (over atmosphere) are what the
    compressor gives, None not known.
    """

    bore_m: float
    submergence_m: float
    freeboard_m: float = 0.0
    water_kg_m3: float = 1025.0
    free_air_m3_min: float | None = None
    pressure_bar: float | None = None


@dataclass(frozen=True, slots=True)
class Sizing:
    """The answer: figures with their range, what stands against it, what is open, on what it rests, cautions."""

    title: str
    figures: tuple[Sized, ...]
    objections: tuple[str, ...]
    open_questions: tuple[str, ...]
    bases: tuple[Basis, ...]
    cautions: tuple[str, ...]

    def figure(self, what: str) -> Sized:
        """Return the figure of this name; KeyError where there is none."""
        for one in self.figures:
            if one.what == what:
                return one
        raise KeyError(what)


def air_ratio(lift_m: float, submergence_m: float, atmosphere_m: float) -> float:
    """Return free air a volume of water lifted, Va/Vw = (3 + l/213) l / (h0 ln(1 + s/h0)).

    `lift_m` above the water (more than 0), `submergence_m` of the injector below it (more than 0), `atmosphere_m`
    the head h0 of one atmosphere: 10.36 m of fresh water, 10.08 m of sea water of 1025 kg/m3.
    """
    if min(lift_m, submergence_m, atmosphere_m) <= 0.0:
        raise DigError(
            "lift, depth of the injector and head of the atmosphere are lengths greater than nothing"
        )
    return (3.0 + lift_m / 213.0) * lift_m / (atmosphere_m * log(1.0 + submergence_m / atmosphere_m))


def mixture_kg_m3(solids: float, water_kg_m3: float, grain_kg_m3: float = GRAIN_KG_M3) -> float:
    """Return the density of water with a share of grains by volume."""
    return water_kg_m3 + solids * (grain_kg_m3 - water_kg_m3)


def mixture_lift_m(freeboard_m: float, submergence_m: float, mixture: float, water_kg_m3: float) -> float:
    """Return the lift of clear water that costs as much as this mixture: freeboard + s (rho_m/rho_w - 1)."""
    return freeboard_m + submergence_m * (mixture / water_kg_m3 - 1.0)


def efficiency(lift_m: float) -> float:
    """Return lifting work over isothermal compression work in the relation: 1 / (3 + l/213)."""
    return 1.0 / (3.0 + lift_m / 213.0)


def airlift(asked: AirliftAsked) -> Sizing:
    """Size an airlift. Raises `DigError` where a measure cannot be meant."""
    _check(asked)
    h0 = atmosphere_head_m(asked.water_kg_m3)
    mouth_m2 = 0.25 * pi * asked.bore_m**2

    def air(solids: float, speed: float) -> float:
        mixture = mixture_kg_m3(solids, asked.water_kg_m3)
        lift = mixture_lift_m(asked.freeboard_m, asked.submergence_m, mixture, asked.water_kg_m3)
        return 60.0 * mouth_m2 * speed * air_ratio(lift, asked.submergence_m, h0)

    def spoil(solids: float, speed: float, porosity: float) -> float:
        return 3600.0 * mouth_m2 * speed * solids / (1.0 - porosity)

    flows = [air(c, v) for c, v in product(SOLIDS, SPEEDS_M_S)]
    most = [spoil(*each) for each in product(SOLIDS, SPEEDS_M_S, POROSITY)]
    column = asked.water_kg_m3 * GRAVITY_M_S2 * asked.submergence_m
    least, likely, greatest = (1e-5 * (column + loss) for loss in LOSSES_PA)
    solid, speed, pores = SOLIDS[1], SPEEDS_M_S[1], POROSITY[1]
    figures = (
        Sized("free air", min(flows), air(solid, speed), max(flows), "m3/min"),
        Sized("pressure at the compressor, over atmosphere", least, likely, greatest, "bar"),
        Sized(
            "spoil in place, upper bound",
            min(most),
            spoil(solid, speed, pores),
            max(most),
            "m3/h",
        ),
    )
    objections, questions = _against(asked, figures)
    return Sizing(
        f"Airlift of {asked.bore_m * 1000:.0f} mm bore", figures, objections, questions, BASES, CAUTIONS
    )


def atmosphere_head_m(water_kg_m3: float) -> float:
    """Return the head of one atmosphere in water of this density, in metres."""
    return ATMOSPHERE_PA / (water_kg_m3 * GRAVITY_M_S2)


def _against(asked: AirliftAsked, figures: tuple[Sized, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    objections, questions = [], []
    depth = asked.submergence_m
    if depth < POOR_BELOW_M:
        objections.append(
            f"the injector is only {depth:g} m under water: an airlift works poorly in less than 3 to 5 m; a water "
            "dredge works there too"
        )
    elif depth < DOUBTFUL_BELOW_M:
        questions.append(
            f"The injector is {depth:g} m under water; between 3 and 5 m an airlift may work poorly. Try it first."
        )
    air, pressure = figures[0], figures[1]
    if asked.free_air_m3_min is None:
        questions.append("What free air the compressor gives is not known, so it is compared with nothing.")
    elif asked.free_air_m3_min < air.low:
        objections.append(
            f"the compressor gives {asked.free_air_m3_min:g} m3/min of free air, less than the least asked for "
            f"({air.low:.1f}); take a smaller bore"
        )
    if asked.pressure_bar is None:
        questions.append("What pressure the compressor gives is not known, so it is compared with nothing.")
    elif asked.pressure_bar < pressure.high:
        objections.append(
            f"the compressor gives {asked.pressure_bar:g} bar over atmosphere; at this depth {pressure.high:.1f} bar "
            "may be needed before any air comes out"
        )
    return tuple(objections), tuple(questions)


def _check(asked: AirliftAsked) -> None:
    numbers = (asked.bore_m, asked.submergence_m, asked.freeboard_m, asked.water_kg_m3)
    if not all(isfinite(v) for v in numbers):
        raise DigError("bore, depth and freeboard are finite lengths in metres")
    if not 0.02 <= asked.bore_m <= 0.6:
        raise DigError(
            f"a bore of {asked.bore_m:g} m is none of an airlift; write it with its unit, as 110 mm"
        )
    if not 0.3 <= asked.submergence_m <= 90.0:
        raise DigError(
            f"the injector lies {asked.submergence_m:g} m under water; the relation holds from about 0.3 to 90 m, "
            "written positive downward"
        )
    if not 0.0 <= asked.freeboard_m <= 10.0:
        raise DigError("the outlet stands 0 to 10 m above the water; write 0 where it discharges under water")
    if not 950.0 <= asked.water_kg_m3 <= 1100.0:
        raise DigError("water weighs between 950 and 1,100 kg/m3")
