"""Checks of a turning: what pulls, what holds, their anchors, and the friction under the edge."""

from __future__ import annotations

from oakum.ground.estimate import Spread
from oakum.lift.checks import Check, Rule
from oakum.lift.turning import rules
from oakum.lift.turning.pulls import BagPull, LinePull, Pull

_BASIS = "95th percentile of the largest force over all angles"


def limit(
    key: str, title: str, demand: float, capacity: float | None, unit: str, basis: str, rule: Rule
) -> Check:
    """Return a check, with its objection where the capacity is not known or less than the demand."""
    objection = None
    if capacity is None:
        objection = f"{title}: not known what it bears"
    elif demand > capacity * (1.0 + 1e-9):
        shown = f"{demand:,.0f} kg" if unit == "kg" else f"{demand:.2f}"
        most = f"{capacity:,.0f} kg" if unit == "kg" else f"{capacity:.2f}"
        objection = f"{title}: {shown} needed, {most} there"
    return Check(key, title, demand, capacity, unit, basis, rule, objection)


def pull_checks(key: str, does: str, pull: Pull, largest_kg: Spread) -> tuple[Check, ...]:
    """Return the checks of one pull (`does`: "pulling" or "holding"): itself, and a line's anchor."""
    demand, title = largest_kg.p95, f"{does} {pull.words}"
    if isinstance(pull, LinePull):
        factor = pull.anchor_factor
        basis = f"{_BASIS}, times {factor:g}"
        return (
            limit(key, title, demand, pull.wll_kg, "kg", _BASIS, rules.BALANCE),
            limit(
                f"{key}-anchor",
                f"anchor of the {title}",
                factor * demand,
                pull.holding_kg,
                "kg",
                basis,
                rules.BLOCK,
            ),
        )
    if isinstance(pull, BagPull):
        return (limit(key, title, demand, pull.lift_kg, "kg", _BASIS, rules.BALANCE),)
    return (limit(key, title, demand, pull.bears_kg, "kg", _BASIS, rules.BALANCE),)


def friction_check(needed: Spread, bed: float | None) -> Check:
    """Return the check of the edge against sliding."""
    return limit(
        "edge-friction",
        "friction under the edge",
        needed.p95,
        bed,
        "1",
        "95th percentile of the largest need over all angles",
        rules.FRICTION,
    )
