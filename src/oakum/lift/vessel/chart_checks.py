"""Checks of load chart and derrick under draws of load and heel."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from oakum.ground.estimate import Spread, spread_of, weighted_quantile
from oakum.lift.checks import Check
from oakum.lift.vessel import rules
from oakum.lift.vessel.derrick import derrick_forces
from oakum.lift.vessel.particulars import VesselLift
from oakum.lift.vessel.stability import Array, heeled_radius_m

P95_LOAD = "95th percentile of the load"


@dataclass(slots=True)
class Findings:
    """Collects checks and sentences."""

    checks: list[Check] = field(default_factory=list)
    objections: list[str] = field(default_factory=list)
    questions: list[str] = field(default_factory=list)
    advice: list[str] = field(default_factory=list)

    def take(self, check: Check | None, objection: str | None) -> None:
        """Keep a check and its objection."""
        if check is not None:
            self.checks.append(check)
        if objection is not None:
            self.objections.append(objection)


@dataclass(frozen=True, slots=True)
class ChartFound:
    """What the chart says: radius upright and with the heel, and the load it allows; None where not known."""

    upright_m: float | None = None
    radius_m: Spread | None = None
    allowed_kg: float | None = None
    factor: float | None = None


def p95(values: Array, weights: Array | None) -> float:
    """Return the 95th percentile of draws (n,)."""
    return float(weighted_quantile(values, 0.95, weights))


def chart_checks(lift: VesselLift, heel: Array | None, found: Findings) -> ChartFound:
    """Add the checks of the load chart, read at the radius with the heel; return what it says."""
    chart, head, weights = lift.chart, lift.head, lift.load.use_weights
    demand = p95(lift.load.load_kg, weights)
    if chart is None:
        found.take(
            Check("chart", "load chart", demand, None, "kg", P95_LOAD, rules.CHART, "no load chart"),
            "no load chart: what crane or derrick bears at this radius is not known",
        )
        return ChartFound()
    found.questions += [f'chart "{chart.name}", {note.words}' for note in chart.notes if note.why != "blank"]
    factor = chart.factor_in(lift.waters)
    if factor is None:
        found.objections.append(_no_factor(chart.name, chart.holds_in, lift.waters))
    if not chart.page:
        found.questions.append(f'chart "{chart.name}": not said on which page of the papers it is')
    if head.foot_y_m is None or head.foot_height_m is None:
        found.take(
            Check("chart", "load chart", demand, None, "kg", P95_LOAD, rules.CHART, "radius not known"),
            f'chart "{chart.name}": not known where the boom foot is, so the radius is not known either',
        )
        return ChartFound(factor=factor)
    upright = abs(head.y_m - head.foot_y_m)
    if heel is None:
        found.objections.append(f'chart "{chart.name}": read upright only, since the heel is not known')
    tilt = np.zeros(len(lift.load.load_kg)) if heel is None else np.maximum(heel, 0.0)
    radius = np.maximum(heeled_radius_m(upright, head.height_m - head.foot_height_m, tilt), upright)
    furthest = p95(radius, weights)
    outside = next(
        (w for r in (upright, furthest) if (w := chart.why_outside(r)) is not None),
        None,
    )
    allowed = None
    if outside is None and factor is not None:
        allowed = float(chart.capacity_kg(furthest)) * factor
    objection = outside
    if allowed is not None and demand > allowed:
        objection = (
            f'chart "{chart.name}": {demand:,.0f} kg against {allowed:,.0f} kg at {furthest:.2f} m, the radius with '
            "the heel"
        )
    words = f"{P95_LOAD}; radius {furthest:.2f} m with the heel, {upright:.2f} m upright"
    if factor is not None and factor < 1.0 and chart.derating is not None:
        words += f"; derated by {factor:g} ({chart.derating.source})"
    found.take(
        Check("chart", f'load chart "{chart.name}"', demand, allowed, "kg", words, rules.CHART, objection),
        objection,
    )
    stepped = chart.stepped_kg(furthest)
    fits = None if stepped is None or factor is None else stepped * factor
    if allowed is not None and objection is None and fits is not None and demand > fits:
        found.advice.append(
            f'chart "{chart.name}": only the straight line between two radii allows it; the next greater radius has '
            f"{fits:,.0f} kg"
        )
    _list(lift, heel, found)
    return ChartFound(upright, spread_of(radius, "m", weights), allowed, factor)


def _no_factor(name: str, holds_in: str | None, waters: str | None) -> str:
    if holds_in is None:
        return f'chart "{name}": not known whether it holds in sheltered or in open water'
    if waters is None:
        return f'chart "{name}" holds in {holds_in} water; not said in which water the lift is'
    return (
        f'chart "{name}" holds in sheltered water and the lift is in open water: its derating for a seaway is not '
        "known; ask for it in the papers"
    )


def _list(lift: VesselLift, heel: Array | None, found: Findings) -> None:
    chart = lift.chart
    assert chart is not None
    if chart.list_limit_deg is None:
        found.objections.append(f'chart "{chart.name}": not known up to which list it holds')
        return
    if heel is None:
        return
    demand = p95(np.degrees(np.abs(heel)), lift.load.use_weights)
    objection = None
    if demand > chart.list_limit_deg:
        objection = f'chart "{chart.name}" holds up to a list of {chart.list_limit_deg:g}°; she may heel {demand:.1f}°'
    found.take(
        Check(
            "chart-list",
            "list for the load chart",
            demand,
            chart.list_limit_deg,
            "deg",
            "95th percentile of the heel",
            rules.LIST,
            objection,
        ),
        objection,
    )


def derrick_checks(lift: VesselLift, heel: Array | None, found: Findings) -> None:
    """Add the checks of topping lift and boom, with the heel."""
    derrick, head = lift.derrick, lift.head
    if derrick is None:
        return
    if head.foot_y_m is None:
        found.objections.append(f'derrick "{derrick.name}": its radius is not known')
        return
    tilt = np.zeros(len(lift.load.load_kg)) if heel is None else np.maximum(heel, 0.0)
    forces = derrick_forces(derrick, abs(head.y_m - head.foot_y_m), lift.load.load_kg, tilt)
    if derrick.runner_parts is None:
        found.objections.append(
            f'derrick "{derrick.name}": not known whether the hauling part runs down the boom and over how many parts'
        )
    for key, title, demand, capacity, rule in (
        ("topping-lift", "topping lift", forces.topping, derrick.topping_wll_kg, rules.TOPPING),
        ("boom", "thrust in the boom", forces.thrust, derrick.boom_bears_kg, rules.BOOM),
    ):
        size, objection = p95(demand, lift.load.use_weights), None
        if capacity is None:
            objection = f'derrick "{derrick.name}", {title}: {size:,.0f} kg; not known what it bears'
        elif size > capacity:
            objection = (
                f'derrick "{derrick.name}", {title}: {size:,.0f} kg against {capacity:,.0f} kg allowed'
            )
        found.take(
            Check(
                key,
                f"{title} of {derrick.name}",
                size,
                capacity,
                "kg",
                "95th percentile, with the heel",
                rule,
                objection,
            ),
            objection,
        )
