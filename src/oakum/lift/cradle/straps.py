"""Straps round a find: how hard they press, how many are needed, where they go, what inclined legs do."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of, weighted_quantile
from oakum.lift.checks import Check
from oakum.lift.cradle import rules
from oakum.lift.cradle.beam import Beam, SpreadLoad, Support
from oakum.lift.cradle.errors import CradleError, positive
from oakum.lift.cradle.network import solve_beam

Array = NDArray[np.float64]
Dim = float | Array

FLATTEST_DEG = 30.0
_MOST_STRAPS = 60


@dataclass(frozen=True, slots=True)
class Straps:
    """Straps of one width under a body `length_m` long, both ends of each led up.

    `shape`: "round" presses all round its `radius_m`; "boxy" only at its edges, whose rounding (edge boards, pads) is
    `radius_m`; None: not known. `from_horizontal_deg`: of the legs, 90 for a spreader as wide as the body.
    `allowable_pa`: what the surface may be pressed with, None: not known.
    """

    count: int
    width_m: float
    length_m: float
    shape: Literal["round", "boxy"]
    radius_m: float | None
    from_horizontal_deg: float
    allowable_pa: float | None


@dataclass(frozen=True, slots=True)
class StrapAnswer:
    """Pressures in Pa, forces in N, places from one end in metres.

    `pressure_pa`: all straps alike; `worst_pa`: at the strap that a stiff body on stiff straps loads most.
    `squeeze_n`: how hard the legs of one strap press the body together. `needed`: straps for the allowable, None
    where it is not known or no number will do.
    """

    places_m: tuple[float, ...]
    tension_n: Spread
    pressure_pa: Spread | None
    worst_pa: Spread | None
    squeeze_n: Spread
    needed: int | None
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


def line_pressure_pa(tension_n: Dim, radius_m: Dim, width_m: Dim) -> Dim:
    """Return the pressure of a taut strap round a radius: T / (r b)."""
    return tension_n / (radius_m * width_m)


def strap_tension_n(weight_n: Dim, count: int, from_horizontal_deg: float = 90.0) -> Dim:
    """Return the tension of each of `count` straps that share alike: W / (2 n sin)."""
    return weight_n / (2.0 * count * math.sin(math.radians(from_horizontal_deg)))


def squeeze_n(weight_n: Dim, count: int, from_horizontal_deg: float) -> Dim:
    """Return the level force of one leg pressing the body together: W / (2 n tan); 0 for upright legs."""
    if from_horizontal_deg >= 90.0:
        return 0.0 * weight_n
    return weight_n / (2.0 * count * math.tan(math.radians(from_horizontal_deg)))


def strap_places_m(count: int, length_m: float) -> tuple[float, ...]:
    """Return the middles of `count` equal lengths: each strap has as much of the body to carry."""
    return tuple((i + 0.5) * length_m / count for i in range(count))


@cache
def greatest_share(count: int, length_m: float = 1.0) -> float:
    """Return the greatest part of an even weight that one of `count` unyielding straps at those places carries."""
    if count == 1:
        return 1.0
    supports = tuple(Support(x) for x in strap_places_m(count, length_m))
    solved = solve_beam(Beam(length_m, 1.0, supports, spread=(SpreadLoad(0.0, length_m, 1.0 / length_m),)))
    return max(solved.reactions_n)


def straps_needed(
    weight_n: float, radius_m: float, width_m: float, allowable_pa: float, from_horizontal_deg: float = 90.0
) -> int | None:
    """Return the least number of straps whose worst one stays at the allowable pressure; None beyond 60."""
    positive("the allowable pressure", allowable_pa, "Pa")
    for count in range(2, _MOST_STRAPS + 1):
        share = greatest_share(count) * weight_n
        if (
            line_pressure_pa(strap_tension_n(share, 1, from_horizontal_deg), radius_m, width_m)
            <= allowable_pa
        ):
            return count
    return None


def straps_answer(weight_n: Array, straps: Straps, weights: Array | None = None) -> StrapAnswer:
    """Return what straps do to a body of these weights (n,), N, in the state they hold it in: water or air.

    `CradleError` for fewer than two straps or legs that cannot be.
    """
    if straps.count < 2:
        raise CradleError("at least two straps are needed: on one the find tips")
    for what, value in (("width of a strap", straps.width_m), ("length of the find", straps.length_m)):
        positive(f"the {what}", value, "m")
    angle = straps.from_horizontal_deg
    if not 0.0 < angle <= 90.0:
        raise CradleError(f"legs stand between 0 and 90 degrees from the horizontal; got {angle:g}")
    weight = np.asarray(weight_n, dtype=np.float64)
    share = greatest_share(straps.count)
    tension = strap_tension_n(weight, straps.count, angle)
    worst_tension = strap_tension_n(share * weight, 1, angle)
    objections = []
    if angle < FLATTEST_DEG:
        objections.append(
            f"the legs of the straps stand at {angle:.0f}° from the horizontal, flatter than 30°: use a spreader"
        )
    pressure = worst = None
    if straps.radius_m is None:
        what = "radius of the find" if straps.shape == "round" else "rounding of the edges under the straps"
        objections.append(f"not known: the {what}; how hard the straps press is not given")
    else:
        positive("the radius under the straps", straps.radius_m, "m")
        pressure = line_pressure_pa(tension, straps.radius_m, straps.width_m)
        worst = line_pressure_pa(worst_tension, straps.radius_m, straps.width_m)
    check = _check(straps, worst, weights)
    if check is not None and check.objection is not None:
        objections.append(check.objection)
    needed = None
    if straps.radius_m is not None and straps.allowable_pa is not None:
        p95 = float(weighted_quantile(weight, 0.95, weights))
        needed = straps_needed(p95, straps.radius_m, straps.width_m, straps.allowable_pa, angle)
    return StrapAnswer(
        strap_places_m(straps.count, straps.length_m),
        spread_of(tension, "N", weights),
        None if pressure is None else spread_of(pressure, "Pa", weights),
        None if worst is None else spread_of(worst, "Pa", weights),
        spread_of(squeeze_n(weight, straps.count, angle), "N", weights),
        needed,
        () if check is None else (check,),
        tuple(objections),
        (
            "The weight is even along the find; the straps lie at the middles of equal lengths, without friction.",
            f"The worst strap carries {100.0 * share:.0f} % of the weight: a stiff find on straps that do not stretch.",
            "A boxy find is pressed at its edges only, its flats not at all."
            if straps.shape == "boxy"
            else "A round find is pressed alike all round the strap's lower half.",
        ),
        (
            rules.SOFT_WOOD,
            "Inclined legs press it together as well as up: a spreader as wide as the find, or a stiff cradle.",
        ),
    )


def _check(straps: Straps, worst: Dim | None, weights: Array | None) -> Check | None:
    if worst is None:
        return None
    demand = float(weighted_quantile(np.asarray(worst), 0.95, weights))
    objection = None
    if straps.allowable_pa is None:
        objection = f"the straps press with {demand / 1000.0:.1f} kPa; not known what the surface bears"
    elif demand > straps.allowable_pa:
        objection = (
            f"the straps press with {demand / 1000.0:.1f} kPa, {straps.allowable_pa / 1000.0:.1f} kPa allowed"
        )
    return Check(
        "straps",
        "pressure under the straps",
        demand,
        straps.allowable_pa,
        "Pa",
        "95th percentile of the weight, worst strap",
        rules.STRAP,
        objection,
    )


def bearing_check(
    title: str, weight_n: Array, area_m2: float, allowable_pa: float | None, weights: Array | None = None
) -> Check:
    """Return the check of a find on an area that bears alike: W / A, against the user's own limit.

    None for the allowable is not known, which is an objection: there is no default.
    """
    positive("the area a find bears on", area_m2, "m²")
    demand = float(weighted_quantile(np.asarray(weight_n, dtype=np.float64), 0.95, weights)) / area_m2
    objection = None
    if allowable_pa is None:
        objection = f"{title}: {demand / 1000.0:.1f} kPa; not known what its surface bears"
    elif demand > allowable_pa:
        objection = f"{title}: {demand / 1000.0:.1f} kPa against {allowable_pa / 1000.0:.1f} kPa allowed"
    return Check(
        "bearing",
        title,
        demand,
        allowable_pa,
        "Pa",
        "95th percentile of the weight over the area in contact",
        rules.BEARING,
        objection,
    )
