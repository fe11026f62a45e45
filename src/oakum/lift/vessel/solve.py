"""One vessel under one load: heel, freeboard, chart, criteria, sudden loss, put together."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from oakum.ground.estimate import Spread, spread_of, weighted_quantile
from oakum.lift.checks import Check
from oakum.lift.vessel import rules
from oakum.lift.vessel.afloat import Afloat, afloat, checked, not_known
from oakum.lift.vessel.answer import VesselAnswer
from oakum.lift.vessel.chart_checks import ChartFound, Findings, chart_checks, derrick_checks, p95
from oakum.lift.vessel.criteria_checks import criteria_checks, heel_limit_deg
from oakum.lift.vessel.limits import Boom, chart_load_kg, smallest_root
from oakum.lift.vessel.particulars import VesselLift
from oakum.lift.vessel.stability import (
    SMALL_ANGLE_DEG,
    Array,
    lifting_threshold_kg_m,
    wall_sided_to_rad,
)


def vessel_answer(lift: VesselLift) -> VesselAnswer:
    """Return everything about the vessel under a load; checks on the 95th percentile of what is bad.

    What is not known is an objection where a check needs it. `VesselError` for numbers that cannot be.
    """
    checked(lift)
    vessel, weights = lift.vessel, lift.load.use_weights
    found = Findings()
    state = afloat(lift)
    _unknown(lift, state, found)
    heel = None if state is None else state.heel_rad
    chart = chart_checks(lift, heel, found)
    derrick_checks(lift, heel, found)
    limit = heel_limit_deg(lift)
    if state is not None:
        _range(lift, state, found)
        _lost(lift, state, found)
    criteria_checks(lift, state, found)
    free = None if state is None else state.freeboard_m
    threshold = None
    if state is not None and vessel.freeboard_m is not None and vessel.beam_m is not None:
        each = lifting_threshold_kg_m(state.displacement_kg, state.gm_m, vessel.freeboard_m, vessel.beam_m)
        threshold = float(weighted_quantile(each, 0.05, weights))
    return VesselAnswer(
        state=lift.load.state,
        load_kg=spread_of(lift.load.load_kg, "kg", weights),
        heel_deg=_degrees(heel, weights),
        wall_sided_deg=_degrees(None if state is None else state.wall_sided_rad, weights),
        gm_m=None if state is None else spread_of(state.gm_m, "m", weights),
        gm_before_m=None if state is None else spread_of(state.gm_before_m, "m", weights),
        freeboard_m=None if free is None else spread_of(free, "m", weights),
        first_roll_deg=_degrees(None if state is None else state.first_roll_rad, weights),
        upright_m=chart.upright_m,
        radius_m=chart.radius_m,
        chart_kg=chart.allowed_kg,
        chart_load_kg=_chart_load(lift, state, chart),
        heel_limit_deg=limit,
        heel_load_kg=_heel_load(lift, state, limit),
        threshold_kg_m=threshold,
        book_page=None if vessel.book is None else f"{vessel.book.title}, {vessel.book.page}",
        checks=tuple(sorted(found.checks, key=_hardest, reverse=True)),
        objections=tuple(dict.fromkeys(found.objections)),
        advice=tuple(found.advice),
        open_questions=tuple(found.questions),
        assumptions=rules.ASSUMPTIONS,
        cautions=rules.CAUTIONS,
        chart_notes=() if lift.chart is None else lift.chart.notes,
    )


def _hardest(check: Check) -> tuple[bool, float]:
    return check.utilisation is None, check.utilisation or 0.0


def _degrees(angle: Array | None, weights: Array | None) -> Spread | None:
    if angle is None or not np.all(np.isfinite(angle)):
        return None
    return spread_of(np.degrees(angle), "deg", weights)


def _unknown(lift: VesselLift, state: Afloat | None, found: Findings) -> None:
    """Object to what the answer needs and nobody said."""
    vessel = lift.vessel
    missing = not_known(vessel)
    if missing:
        found.objections.append(
            f"not known: {', '.join(missing)} of the vessel; without them no heel is given"
        )
    if vessel.book is None:
        found.objections.append("the vessel's own stability book is not quoted: title, page, condition")
    elif not vessel.book.page.strip():
        found.objections.append("the page of the stability book is not said")
    if vessel.free_surfaces is None:
        found.objections.append("not known which tanks and holds have a free surface; none is counted")
    if vessel.aboard is None:
        found.objections.append(
            "not known who and what is aboard besides the displacement; nobody is counted"
        )
    if state is None:
        return
    share = float(np.average(state.gm_m <= 0.0, weights=lift.load.use_weights))
    if state.heel_rad is None:
        found.objections.append(
            f"GM with the load is not above 0 in {max(100.0 * share, 0.1):.1f} % of the draws: she would not come back "
            "upright; no heel is given"
        )


def _range(lift: VesselLift, state: Afloat, found: Findings) -> None:
    """Object to a heel beyond what the formula holds for."""
    vessel = lift.vessel
    if state.heel_rad is None:
        return
    limit, why = SMALL_ANGLE_DEG, "small angles"
    if vessel.freeboard_m is None or vessel.draught_m is None or vessel.beam_m is None:
        found.objections.append(
            "not known at which heel deck edge or bilge is reached: freeboard, draught and beam are needed"
        )
    else:
        sides = math.degrees(float(wall_sided_to_rad(vessel.freeboard_m, vessel.draught_m, vessel.beam_m)))
        if sides < limit:
            limit, why = sides, "deck edge or bilge"
    demand = p95(np.degrees(np.abs(state.heel_rad)), lift.load.use_weights)
    objection = None
    if demand > limit:
        objection = (
            f"the heel of {demand:.1f}° is beyond the range of the formula, {limit:.1f}° ({why}): take the righting "
            "curve of the stability book"
        )
    found.take(
        Check(
            "heel-range", f"range of the heel formula ({why})", demand, limit, "deg", "95th percentile of the heel",
            rules.RANGE, objection,
        ),
        objection,
    )  # fmt: skip


def _lost(lift: VesselLift, state: Afloat, found: Findings) -> None:
    """Add the check of the first roll after the load is lost."""
    roll, limit = state.first_roll_rad, lift.vessel.floods_at_deg
    if roll is None:
        found.objections.append("the roll after a sudden loss of the load is not known")
        return
    if not np.all(np.isfinite(roll)):
        found.objections.append("after a sudden loss of the load she may roll over to the other side")
        return
    demand = p95(np.degrees(roll), lift.load.use_weights)
    objection = None
    if limit is None:
        objection = (
            f"after a sudden loss of the load she may roll {demand:.1f}° to the other side; not known at which heel "
            "water comes in"
        )
    elif demand > limit:
        objection = (
            f"after a sudden loss of the load she may roll {demand:.1f}° to the other side; water comes in at "
            f"{limit:g}°"
        )
    found.take(
        Check(
            "lost-load", "first roll after a sudden loss", demand, limit, "deg",
            "95th percentile, undamped", rules.LOST, objection,
        ),
        objection,
    )  # fmt: skip


def _boom(lift: VesselLift, state: Afloat, share: float) -> Boom | None:
    """Return single values of the vessel, GM at a share of its draws; None where the boom foot is not known."""
    vessel, head, weights = lift.vessel, lift.head, lift.load.use_weights
    if head.foot_y_m is None or head.foot_height_m is None or vessel.km_m is None:
        return None
    km = float(np.median(vessel.km_m))
    gm = float(weighted_quantile(state.gm_before_m, share, weights))
    other = float(np.median(state.moment_kg_m - lift.load.load_kg * head.y_m))
    before = float(np.median(state.before_kg))
    return Boom(before, km - gm, km, 0.0, head.foot_y_m, head.foot_height_m, head.height_m, other)


def _heel_load(lift: VesselLift, state: Afloat | None, limit: float | None) -> float | None:
    """Return the load at which the heel limit is reached with GM at its 5th percentile; None where not known."""
    if state is None or limit is None:
        return None
    head = replace(lift.head, foot_y_m=0.0, foot_height_m=0.0)
    boom = _boom(replace(lift, head=head), state, 0.05)
    if boom is None:
        return None
    return smallest_root(
        lambda load: abs(boom.heel_rad(load, head.y_m)) - math.radians(limit), 0.0, boom.displacement_kg
    )


def _chart_load(lift: VesselLift, state: Afloat | None, chart: ChartFound) -> float | None:
    """Return the greatest load by chart with the heel it makes itself, GM at its 5th percentile."""
    if state is None or lift.chart is None or chart.factor is None or chart.upright_m is None:
        return None
    boom = _boom(lift, state, 0.05)
    return None if boom is None else chart_load_kg(boom, lift.chart, chart.factor, chart.upright_m)
