"""Where the first objection appears: greatest load, greatest radius, greatest wind; the smallest root counts."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from oakum.ground.gravity import G_M_S2
from oakum.lift.splash import first_crossing
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.load_chart import LoadChart
from oakum.lift.vessel.stability import kg_with_load_m

AIR_KG_M3 = 1.25


def smallest_root(excess: Callable[[float], float], low: float, high: float) -> float | None:
    """Return the first place from `low` on where `excess` of one number rises above 0, None where it never does."""
    return first_crossing(lambda places: np.array([excess(float(x)) for x in places]), low, high)


@dataclass(frozen=True, slots=True)
class Boom:
    """Single values for a limit: vessel without load (free surfaces taken off GM), boom foot and head, metres."""

    displacement_kg: float
    kg_m: float
    km_m: float
    free_surface_m: float
    foot_y_m: float
    foot_height_m: float
    head_height_m: float
    other_moment_kg_m: float = 0.0

    def heel_rad(self, load_kg: float, radius_m: float) -> float:
        """Return the heel under a load at an upright radius; a right angle where GM is no longer above 0."""
        total = self.displacement_kg + load_kg
        kg = kg_with_load_m(self.displacement_kg, self.kg_m, load_kg, self.head_height_m)
        gm = self.km_m - float(kg) - self.free_surface_m * self.displacement_kg / total
        if gm <= 0.0:
            return math.pi / 2.0
        moment = load_kg * (self.foot_y_m + radius_m) + self.other_moment_kg_m
        return math.atan(moment / (total * gm))  # `heel_rad` of single numbers: asked some thousand times

    def radius_m(self, load_kg: float, radius_m: float) -> float:
        """Return the radius the chart is read at: the greatest on the way to the heel that the load gives."""
        over = self.head_height_m - self.foot_height_m
        furthest = math.atan2(max(over, 0.0), radius_m)  # beyond this heel the head comes in again
        heel = min(max(self.heel_rad(load_kg, radius_m), 0.0), furthest)
        return radius_m * math.cos(heel) + over * math.sin(heel)  # `heeled_radius_m`, likewise


def chart_load_kg(boom: Boom, chart: LoadChart, factor: float, radius_m: float) -> float:
    """Return the greatest load that the chart allows at an upright radius, read at the radius with its own heel.

    The load heels the vessel, the heel lengthens the radius, the chart then allows less: the smallest load at which
    the chart is reached. 0 where the unloaded radius is outside the chart already.
    """

    def excess(load_kg: float) -> float:
        allowed = float(chart.capacity_kg(boom.radius_m(load_kg, radius_m))) * factor
        return 1.0 if math.isnan(allowed) else load_kg - allowed

    found = smallest_root(excess, 0.0, max(chart.load_kg))
    return 0.0 if found is None else found


def greatest_radius_m(
    boom: Boom, chart: LoadChart, factor: float, load_kg: float, heel_limit_deg: float, least_m: float
) -> float | None:
    """Return the upright radius at which the chart or the heel limit is first reached, from `least_m` outward.

    None where neither is reached within the chart; `least_m` where one is over already.
    """

    def excess(radius_m: float) -> float:
        allowed = float(chart.capacity_kg(boom.radius_m(load_kg, radius_m))) * factor
        over = 1.0 if math.isnan(allowed) else load_kg / max(allowed, 1e-9) - 1.0
        return max(over, math.degrees(boom.heel_rad(load_kg, radius_m)) / heel_limit_deg - 1.0)

    return smallest_root(excess, least_m, chart.radius_m[-1])


def wind_moment_nm(
    area_m2: float, lever_m: float, wind_m_s: float, drag: float, air_kg_m3: float = AIR_KG_M3
) -> float:
    """Return the heeling moment of wind abeam: rho C A V^2 / 2 times the lever from half draught to the area."""
    return 0.5 * air_kg_m3 * drag * area_m2 * wind_m_s**2 * lever_m


def greatest_wind_m_s(
    heel_limit_deg: float,
    displacement_kg: float,
    gm_m: float,
    load_moment_kg_m: float,
    area_m2: float,
    lever_m: float,
    drag: float,
) -> float:
    """Return the wind abeam at which load and wind together reach a heel; D and GM with the load.

    Steady wind; a gust heels further (textbooks count half as much again). 0 where the load alone reaches it.
    `VesselError` where GM is not above 0.
    """
    if not gm_m > 0.0:
        raise VesselError(f"GM is {gm_m:.2f} m with the load: no wind heel is given")
    left = math.tan(math.radians(heel_limit_deg)) * displacement_kg * gm_m - load_moment_kg_m
    unit = wind_moment_nm(area_m2, lever_m, 1.0, drag)
    return math.sqrt(max(left, 0.0) * G_M_S2 / unit)
