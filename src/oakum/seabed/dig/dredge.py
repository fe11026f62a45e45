"""Sizing a water dredge as an order of magnitude: flow, head and the pump that drives its eductor.

A jet of clear water draws the mixture in; most of the jet's power is lost in mixing. It works in very shallow water
too, where an airlift does not.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import isfinite, pi

from oakum.seabed.dig.airlift import GRAVITY_M_S2, POROSITY, SOLIDS, SPEEDS_M_S, Sizing, mixture_kg_m3
from oakum.seabed.dig.basis import DREDGE_CAUTIONS, Basis, Sized
from oakum.seabed.dig.errors import DigError

EFFICIENCY = (0.15, 0.20, 0.30)
FRICTION = (0.018, 0.022, 0.030)

BASES = (
    Basis(
        "head: rise above water, weight of the grains on the rise, friction, speed",
        "energy a weight",
        "own calculation",
    ),
    Basis("friction factor of the hose 0.018 to 0.030 (Darcy)", "smooth to worn hose", "memory, verify"),
    Basis("an eductor passes on 15 to 30 % of its jet's power", "jet pumps in handbooks", "memory, verify"),
    Basis("solids 5 to 10 % of the mixture by volume, drawn in at 1.5 to 3 m/s", "", "practice, no source"),
)


@dataclass(frozen=True, slots=True)
class DredgeAsked:
    """What is to be sized: `bore_m` of suction and discharge, `hose_m` their length, `rise_m` from mouth to outlet.

    `freeboard_m` is how far the outlet stands above the water (0 under water), `pump_bar` the pressure of the
    pump at the eductor's nozzle over the water around it.
    """

    bore_m: float
    hose_m: float
    rise_m: float
    pump_bar: float
    freeboard_m: float = 0.0
    water_kg_m3: float = 1025.0
    pump_m3_h: float | None = None


def head_m(asked: DredgeAsked, solids: float, speed_m_s: float, friction: float) -> float:
    """Return the head that the eductor must give to the mixture, in metres of water."""
    heavier = mixture_kg_m3(solids, asked.water_kg_m3) / asked.water_kg_m3
    moving = heavier * speed_m_s**2 / (2.0 * GRAVITY_M_S2)
    lift = heavier * asked.freeboard_m + (heavier - 1.0) * max(0.0, asked.rise_m - asked.freeboard_m)
    return lift + moving * (1.0 + friction * asked.hose_m / asked.bore_m)


def dredge(asked: DredgeAsked) -> Sizing:
    """Size a dredge. Raises `DigError` where a measure cannot be meant."""
    _check(asked)
    mouth_m2 = 0.25 * pi * asked.bore_m**2
    jet_pa = 1e5 * asked.pump_bar

    def pump(solids: float, speed: float, friction: float, share: float) -> float:
        """Clear water a second to the nozzle: power given to the mixture over efficiency, over jet pressure."""
        power = asked.water_kg_m3 * GRAVITY_M_S2 * head_m(asked, solids, speed, friction) * mouth_m2 * speed
        return 3600.0 * power / (share * jet_pa)

    heads = [head_m(asked, *each) for each in product(SOLIDS, SPEEDS_M_S, FRICTION)]
    flows = [pump(*each) for each in product(SOLIDS, SPEEDS_M_S, FRICTION, EFFICIENCY)]
    spoil = [3600.0 * mouth_m2 * v * c / (1.0 - p) for c, v, p in product(SOLIDS, SPEEDS_M_S, POROSITY)]
    middle = (SOLIDS[1], SPEEDS_M_S[1])
    slow, usual, fast = (3600.0 * mouth_m2 * v for v in SPEEDS_M_S)
    figures = (
        Sized("mixture drawn in", slow, usual, fast, "m3/h"),
        Sized("head of the eductor", min(heads), head_m(asked, *middle, FRICTION[1]), max(heads), "m"),
        Sized(
            "pump at the nozzle", min(flows), pump(*middle, FRICTION[1], EFFICIENCY[1]), max(flows), "m3/h"
        ),
        Sized(
            "spoil in place, upper bound",
            min(spoil),
            3600.0 * mouth_m2 * middle[1] * middle[0] / (1.0 - POROSITY[1]),
            max(spoil),
            "m3/h",
        ),
    )
    objections, questions = [], []
    if asked.pump_m3_h is None:
        questions.append(
            "What the pump delivers at this pressure is not known, so it is compared with nothing."
        )
    elif asked.pump_m3_h < figures[2].low:
        objections.append(
            f"the pump delivers {asked.pump_m3_h:g} m3/h at {asked.pump_bar:g} bar, less than the least asked for "
            f"({figures[2].low:.0f}); take a smaller bore or a shorter hose"
        )
    title = f"Dredge of {asked.bore_m * 1000:.0f} mm bore"
    return Sizing(title, figures, tuple(objections), tuple(questions), BASES, DREDGE_CAUTIONS)


def _check(asked: DredgeAsked) -> None:
    lengths = (asked.bore_m, asked.hose_m, asked.rise_m, asked.pump_bar, asked.freeboard_m)
    if not all(isfinite(v) for v in lengths):
        raise DigError("bore, hose, rise and pressure are finite numbers")
    if not 0.02 <= asked.bore_m <= 0.6:
        raise DigError(
            f"a bore of {asked.bore_m:g} m is none of a dredge on a dig; write it with its unit, as 100 mm"
        )
    if not 0.5 <= asked.hose_m <= 300.0:
        raise DigError("suction and discharge together are 0.5 to 300 m long")
    if not 0.0 <= asked.freeboard_m <= 10.0 or not 0.0 <= asked.rise_m <= asked.hose_m:
        raise DigError(
            "the outlet stands 0 to 10 m above the water, and rises no higher than the hose is long"
        )
    if not 0.5 <= asked.pump_bar <= 40.0:
        raise DigError("the pressure of the pump at the nozzle is 0.5 to 40 bar")
