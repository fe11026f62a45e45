"""Checks of the limits of the stability book and of the published criteria of the vessel's class."""

from __future__ import annotations

import numpy as np

from oakum.ground.estimate import weighted_quantile
from oakum.lift.checks import Check
from oakum.lift.vessel import rules
from oakum.lift.vessel.afloat import Afloat, why_no_freeboard
from oakum.lift.vessel.chart_checks import Findings, p95
from oakum.lift.vessel.criteria import Measured, criteria_for, judged, least_gm_fishing_m
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.particulars import VesselLift
from oakum.lift.vessel.stability import lifting_threshold_kg_m


def heel_limit_deg(lift: VesselLift) -> float | None:
    """Return the strictest heel limit of book, criteria and chart; None where nobody gave one."""
    book = lift.vessel.book
    limits = [] if book is None or book.heel_limit_deg is None else [book.heel_limit_deg]
    if lift.vessel.vessel_class is not None:
        limits += [c.value for c in criteria_for(lift.vessel.vessel_class) if c.quantity == "heel_deg"]
    if lift.chart is not None and lift.chart.list_limit_deg is not None:
        limits.append(lift.chart.list_limit_deg)
    return min(limits, default=None)


def criteria_checks(lift: VesselLift, state: Afloat | None, found: Findings) -> None:
    """Add the checks of the book's own limits and of the criteria of the class."""
    vessel, book = lift.vessel, lift.vessel.book
    measures = _measures(lift, state)
    if book is not None:
        for key, words, limit, quantity, least in (
            ("book-heel", "heel limit of the stability book", book.heel_limit_deg, "heel_deg", False),
            (
                "book-freeboard",
                "freeboard limit of the stability book",
                book.freeboard_limit_m,
                "freeboard_m",
                True,
            ),
        ):
            value = measures[quantity].value
            if limit is None or value is None:
                continue
            demand, capacity = (limit, value) if least else (value, limit)
            objection = f"{words}: {value:.2f} against {limit:g}" if demand > capacity else None
            unit = "m" if least else "deg"
            basis = measures[quantity].basis
            found.take(Check(key, words, demand, capacity, unit, basis, rules.BOOK, objection), objection)
    if vessel.vessel_class is None:
        found.objections.append("the class of vessel is not said: no published criteria are chosen")
        return
    if book is not None and book.curve is not None:
        measures |= {name: Measured(v, f"righting curve, {book.curve.page}", "the curve is too short")
                     for name, v in book.curve.measures().items()}  # fmt: skip
    for criterion in criteria_for(vessel.vessel_class):
        found.take(*judged(criterion, measures))


def _measures(lift: VesselLift, state: Afloat | None) -> dict[str, Measured]:
    """Return what criteria ask for, each at its worse end."""
    vessel, weights = lift.vessel, lift.load.use_weights
    gone = "displacement, KG or KM is not known"
    if state is None:
        return {q: Measured(None, "", gone) for q in _QUANTITIES}
    low_gm = float(weighted_quantile(state.gm_m, 0.05, weights))
    heel = None if state.heel_rad is None else p95(np.degrees(np.abs(state.heel_rad)), weights)
    free = None if state.freeboard_m is None else float(weighted_quantile(state.freeboard_m, 0.05, weights))
    over: float | None = None
    why = "freeboard and beam are not known"
    if vessel.freeboard_m is not None and vessel.beam_m is not None and state.heel_rad is not None:
        most = lifting_threshold_kg_m(state.displacement_kg, state.gm_m, vessel.freeboard_m, vessel.beam_m)
        over = p95(state.moment_kg_m / np.asarray(most), weights)
    formula, why_formula = _fishing(lift, low_gm)
    return {
        "gm_m": Measured(low_gm, "5th percentile of GM with the load"),
        "heel_deg": Measured(heel, "95th percentile of the heel", "GM with the load is not above 0"),
        "freeboard_m": Measured(free, "5th percentile at the low corner", why_no_freeboard(lift)),
        "moment_over_threshold": Measured(over, "95th percentile of moment over 0.67 D GM f / B", why),
        "gm_over_formula": Measured(formula, "5th percentile of GM over the formula", why_formula),
    }


_QUANTITIES = ("gm_m", "heel_deg", "freeboard_m", "moment_over_threshold", "gm_over_formula")


def _fishing(lift: VesselLift, low_gm: float) -> tuple[float | None, str]:
    v = lift.vessel
    if v.beam_m is None or v.freeboard_m is None or v.depth_m is None:
        return None, "beam, freeboard and depth are needed"
    if v.superstructure_m is None or v.length_m is None:
        return None, "length and length of the superstructures are needed"
    try:
        asked = least_gm_fishing_m(v.beam_m, v.freeboard_m, v.depth_m, v.superstructure_m, v.length_m)
    except VesselError as error:
        return None, str(error)
    return low_gm / asked, ""
