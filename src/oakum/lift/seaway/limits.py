"""Radius and wind at which an objection appears."""

from __future__ import annotations

import math

import numpy as np

from oakum.lift.checks import Check, Rule
from oakum.lift.seaway.afloat import Alongside, low_gm
from oakum.lift.seaway.answer import Limit
from oakum.lift.vessel import (
    Afloat,
    Boom,
    Head,
    LoadChart,
    VesselAnswer,
    VesselError,
    afloat,
    greatest_radius_m,
    greatest_wind_m_s,
)

WIND = Rule(
    "seaway-wind",
    "steady wind abeam and the load together heel her no further than her limit",
    "rho C A V^2 / 2 on the area abeam; moment balance for small angles",
    mark="memory, verify",
)
GUSTS = "wind: steady and abeam; a gust heels further, and books count half as much again"

_WHAT_RADIUS, _WHAT_WIND = "radius of the boom head", "wind abeam"
_ROUNDS = 6
_NEAR_M = 0.005


def radius_limit(beside: Alongside, in_air: VesselAnswer, added_kg: float) -> Limit:
    """Return the radius at which load chart or heel limit is first reached, outward from the chart's least.

    The load in air at its 95th percentile with the forces of the sea, GM at its 5th. Where the head stands at another
    height for another radius, it is found for the radius itself.
    """
    asked = beside.inputs.sea.radius_m
    lift = beside.lift("in air", added_kg)
    chart = lift.chart
    why = ""
    if chart is None:
        why = "no limit: the vessel's papers have no load chart"
    elif chart.factor_in(lift.waters) is None:
        why = f'no limit: not known what the chart "{chart.name}" is worth in these waters'
    state = None if why else afloat(lift)
    if not why and (state is None or in_air.heel_deg is None):
        why = "no limit: the heel of the vessel is not known"
    if why or chart is None or state is None:
        return Limit(_WHAT_RADIUS, "m", None, None, asked, why)
    load = beside.p95_kg("in air") + added_kg
    heel = in_air.heel_limit_deg
    found, boom = _solved(beside, chart, chart.factor_in(lift.waters) or 0.0, load, heel, state)
    furthest = chart.radius_m[-1]
    if found is None:
        why = f"no objection found out to {furthest:g} m, the end of the chart"
        return Limit(_WHAT_RADIUS, "m", None, None, asked, why, furthest)
    further = found + 1e-6
    by_heel = heel is not None and math.degrees(boom.heel_rad(load, further)) > heel
    allowed = float(chart.capacity_kg(boom.radius_m(load, further)))
    if math.isnan(allowed):
        said = "with the heel the radius is outside the load chart"
    elif by_heel:
        said = f"she heels {heel:g}° under {load:,.0f} kg"
    else:
        said = f"the load chart allows no more than {load:,.0f} kg"
    return Limit(_WHAT_RADIUS, "m", found, said, asked, "", furthest)


def _solved(
    beside: Alongside, chart: LoadChart, factor: float, load_kg: float, heel: float | None, state: Afloat
) -> tuple[float | None, Boom]:
    """Return the radius, and the boom at its height there."""
    head, found = beside.head, None
    boom = _boom(beside, head, state)
    for _ in range(_ROUNDS):
        before = found
        found = greatest_radius_m(boom, chart, factor, load_kg, 90.0 if heel is None else heel, chart.radius_m[0])
        if found is None or (before is not None and abs(found - before) < _NEAR_M):
            break
        try:
            head = beside.papers.head(found)
        except VesselError:
            break  # the boom does not reach there: its height at the lift's own radius stands
        boom = _boom(beside, head, state)
    return found, boom


def _boom(beside: Alongside, head: Head, state: Afloat) -> Boom:
    """Return single values of the vessel: GM at its 5th percentile, the rest at the median."""
    assert beside.vessel.km_m is not None and head.foot_y_m is not None and head.foot_height_m is not None
    km = float(np.median(beside.vessel.km_m))
    other = sum(item.mass_kg * item.y_m for item in beside.vessel.aboard or ())
    return Boom(
        float(np.median(state.before_kg)),
        km - low_gm(state.gm_before_m),
        km,
        0.0,
        head.foot_y_m,
        head.foot_height_m,
        head.height_m,
        other,
    )


def wind_limit(beside: Alongside, in_air: VesselAnswer, added_kg: float) -> Limit:
    """Return the wind abeam at which load and wind reach the heel limit: load at P95, GM with it at P5."""
    asked, area = beside.inputs.sea.wind_m_s, beside.papers.wind
    why = ""
    if area is None:
        why = "no limit: area and lever of the wind are not in the vessel's papers"
    elif in_air.heel_limit_deg is None:
        why = "no limit: nobody gave a heel limit"
    state = None if why else afloat(beside.lift("in air", added_kg))
    if not why and (state is None or state.heel_rad is None):
        why = "no limit: the heel of the vessel is not known"
    if why or area is None or state is None or in_air.heel_limit_deg is None:
        return Limit(_WHAT_WIND, "m/s", None, None, asked, why)
    limit = in_air.heel_limit_deg
    value = greatest_wind_m_s(
        limit,
        float(np.median(state.displacement_kg)),
        low_gm(state.gm_m),
        float(np.quantile(state.moment_kg_m, 0.95)),
        area.area_m2,
        area.lever_m,
        area.drag,
    )
    said = f"wind and load heel her {limit:g}°" if value > 0.0 else f"the load alone heels her {limit:g}°"
    return Limit(_WHAT_WIND, "m/s", value, said, asked)


def wind_check(limit: Limit) -> Check | None:
    """Return the check of the plan's wind; None where wind or limit is not known, which is said elsewhere."""
    if limit.asked is None or limit.value is None:
        return None
    objection = None
    if limit.asked > limit.value:
        objection = (
            f"wind {limit.asked:g} m/s abeam: an objection appears at {limit.value:.1f} m/s ({limit.objection})"
        )
    basis = "load at its 95th percentile with the forces of the sea, GM at its 5th"
    return Check("wind-heel", "wind abeam, load in air", limit.asked, limit.value, "m/s", basis, WIND, objection)


def wind_objections(limit: Limit) -> tuple[str, ...]:
    """Return what is not known of the wind."""
    said = []
    if limit.value is None:
        said.append(f"heel by wind is not checked: {limit.why_not.removeprefix('no limit: ')}")
    if limit.asked is None:
        said.append("the wind of the plan is not known: the heel it makes is not checked")
    return tuple(said)
