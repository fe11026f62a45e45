"""Which fails first: sea, vessel or hook, in one sentence."""

from __future__ import annotations

from collections.abc import Sequence

from oakum.lift.checks import Check
from oakum.lift.seaway.curve import Bears
from oakum.lift.seaway.model import SeaAsked
from oakum.lift.splash import LimitCurve, LimitPoint
from oakum.lift.vessel import VesselAnswer

_FLAT_M = 0.002  # the lowest height looked at, and a little


def first_to_fail(
    sea: SeaAsked,
    curve: LimitCurve | None,
    bears: Sequence[Bears],
    still: Sequence[VesselAnswer],
    why_no_curve: str,
) -> str:
    """Return the sentence: what fails in flat water already, else what the rising sea brings up first.

    `still`: the vessel without the forces of the sea. `why_no_curve`: what stands against a curve, where there is
    none.
    """
    flat = [c for a in still for c in a.checks if c.objection and c.utilisation is not None]
    if flat:
        worst = max(flat, key=lambda c: c.utilisation or 0.0)
        return f"The vessel fails first, in flat water already: {worst.objection}."
    point = _point(sea, curve)
    if point is None:
        said = f"Not known which fails first: {why_no_curve or 'no limit of the sea could be given'}."
        return f"{said} {_used(still)}".strip()
    at = f"At Tz {point.tz_s:g} s"
    if point.why_not:
        return f"{at} it is not known which fails first: the method does not hold, {point.why_not[0]}."
    if point.hs_m is None:
        return f"{at} neither sea, vessel nor hook fails up to Hs {point.steepest_m:.2f} m, the steepest sea there is."
    who = _who(point, bears)
    if point.hs_m <= _FLAT_M:
        return f"{at} {who} fails first, in flat water already: {point.objection}."
    plan = "" if sea.hs_m is None else f"; the plan has Hs {sea.hs_m:.2f} m"
    return f"{at} {who} fails first, at Hs {point.hs_m:.2f} m: {point.objection}{plan}."


def _point(sea: SeaAsked, curve: LimitCurve | None) -> LimitPoint | None:
    """Return the point of the plan's period; without one the lowest of the curve."""
    points = () if curve is None else curve.points
    if sea.tz_s is not None:
        return next((p for p in points if abs(p.tz_s - (sea.tz_s or 0.0)) < 1e-9), None)
    known = [p for p in points if p.hs_m is not None and not p.why_not]
    return min(known, key=lambda p: p.hs_m or 0.0, default=points[0] if points else None)


def _who(point: LimitPoint, bears: Sequence[Bears]) -> str:
    said = point.objection or ""
    for one in bears:
        if said.startswith(one.over):
            return one.name
    return "the slack line"


def _used(still: Sequence[VesselAnswer]) -> str:
    """Return how far the vessel is used without the sea, "" where she is not known."""
    rated: list[Check] = [c for a in still if (c := a.governing) is not None]
    if not rated:
        return ""
    worst = max(rated, key=lambda c: c.utilisation or 0.0)
    return f"Without the sea the vessel is used to {100.0 * (worst.utilisation or 0.0):.0f} % ({worst.title})."
