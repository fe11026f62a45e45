"""How hard it pulls, when it goes by itself, what must hold it: one turning as one frozen object."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check, verdict_words
from oakum.lift.draw_bands import band_curve, share_of
from oakum.lift.turning import rules
from oakum.lift.turning.errors import TurningError
from oakum.lift.turning.hold import bag_lift_n, holding_n, thrown_j
from oakum.lift.turning.limits import friction_check, pull_checks
from oakum.lift.turning.moments import Turn, friction_needed, turn, weight_moment_nm
from oakum.lift.turning.pulls import BagPull, LinePull, Pull, fast_on_body
from oakum.lift.turning.section import Section
from oakum.lift.weights.report import Curve

Array = NDArray[np.float64]

ANGLES = 91
_SELDOM = 0.05  # share of the draws up to which a case is left out of an objection
_MOST_FRICTION = 99.0  # shown where the edge lifts off or nearly so


@dataclass(frozen=True, slots=True)
class TurnAnswer:
    """Everything the sheet of one turning says. Forces are load-cell readings, kg; angles from the start.

    `force` is the pull against angle, negative where the body goes by itself: then what holds it must pull
    so much. `edge_sideways`, `edge_upright` are what the bed bears at the edge, `anchor_sideways` and
    `anchor_upright` what a line's anchor bears (None without one). `balance_deg` is where the hanging point
    is over the edge; `goes_by_itself` the share of the draws in which that comes before the end. `work_j` is
    what the pull does up to the balance or the end; `thrown_j` what a bag that keeps pulling has given the
    body beyond what it needs by the time it lands. `slides_at_deg` is the first angle at which the edge
    would slide in one of twenty cases.
    """

    from_deg: float
    to_deg: float
    lands: bool
    force: Curve
    edge_sideways: Curve
    edge_upright: Curve
    anchor_sideways: Curve | None
    anchor_upright: Curve | None
    balance_deg: Spread
    goes_by_itself: float
    largest_pull_kg: Spread
    largest_hold_kg: Spread
    friction: Spread
    slides_at_deg: float | None
    work_j: Spread
    thrown_j: Spread | None
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    open_questions: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)


def turn_over(
    section: Section,
    pull: Pull,
    *,
    hold: Pull | None,
    bed_friction: float | None,
    to_deg: float | None = None,
) -> TurnAnswer:
    """Return the turning of a body from where it lies to `to_deg`, or until it lands on its next side.

    `hold` is what holds it back beyond its balance; `bed_friction` the coefficient between edge and bed,
    None not known. Raises `TurningError` where the pull does not turn it that way at the start.
    """
    fast_on_body(section, pull, f"pulling {pull.words}")
    if hold is not None:
        fast_on_body(section, hold, f"holding {hold.words}")
    section = section.few()
    lands = section.lands_deg()
    end = lands if to_deg is None else min(to_deg, lands)
    if end <= 0.0:
        raise TurningError(f"the turning must go to an angle above 0°, got {end:g}°")
    angles = np.linspace(0.0, end, ANGLES)
    moment = weight_moment_nm(section, angles)
    turned = turn(section, pull, angles)
    angles, said = _with_an_arm(angles, moment, turned)
    count = len(angles)
    moment = moment[:, :count]
    turned = turn(section, pull, angles)
    pulled = np.where((moment > 0.0) & _has_arm(turned), turned.force_n, 0.0)
    held, hold_x, hold_y = holding_n(section, pull, hold, angles, moment)
    ahead = pulled > 0.0
    bag_n = bag_lift_n(pull)
    slow = Turn(
        angles,
        moment,
        pulled - held,
        np.where(ahead, turned.edge_x_n, -hold_x),
        np.where(ahead, turned.edge_y_n, section.weight_n[:, None] - hold_y - bag_n),
        turned.arm_m,
    )
    needed = np.minimum(friction_needed(slow), _MOST_FRICTION)
    balance = section.balance_deg()
    goes = share_of((balance < end) & (balance < angles[-1]))
    pull_kg, hold_kg = pulled / G_M_S2, held / G_M_S2
    largest, most_held = pull_kg.max(axis=1), hold_kg.max(axis=1)
    pulls = spread_of(largest, "kg")
    holds = spread_of(most_held, "kg")
    friction = spread_of(needed.max(axis=1), "1")
    checks = (
        *pull_checks("pull", "pulling", pull, pulls),
        *(pull_checks("hold", "holding", hold, holds) if hold is not None and goes > 0.0 else ()),
        friction_check(friction, bed_friction),
    )
    thrown = thrown_j(section, pull, angles, moment)
    if to_deg is not None and to_deg > lands + 1e-6:
        said.append(
            f"it comes down on its next side at {lands:.0f}°, before the {to_deg:.0f}° it is to be turned"
        )
    said += _objections(section, pull, hold, goes, balance, slow, angles)
    anchored = isinstance(pull, LinePull)
    return TurnAnswer(
        from_deg=0.0,
        to_deg=float(angles[-1]),
        lands=bool(angles[-1] >= lands - 1e-9),
        force=_curve("pull (minus: must be held)", angles, (pulled - held) / G_M_S2, balance),
        edge_sideways=_curve("sideways force on the edge", angles, slow.edge_x_n / G_M_S2, balance),
        edge_upright=_curve("upright force on the edge", angles, slow.edge_y_n / G_M_S2, balance),
        anchor_sideways=_anchor(section, turned, pulled, balance, 0) if anchored else None,
        anchor_upright=_anchor(section, turned, pulled, balance, 1) if anchored else None,
        balance_deg=spread_of(balance, "deg"),
        goes_by_itself=goes,
        largest_pull_kg=pulls,
        largest_hold_kg=holds,
        friction=friction,
        slides_at_deg=_slides_at(needed, angles, bed_friction),
        work_j=spread_of(_work_j(section, angles, balance), "J"),
        thrown_j=None if thrown is None else spread_of(thrown, "J"),
        checks=checks,
        objections=(*said, *(c.objection for c in checks if c.objection is not None)),
        open_questions=_questions(pull, hold),
        assumptions=(*rules.ASSUMPTIONS, *((rules.BAG_GROWS,) if isinstance(pull, BagPull) else ())),
        cautions=rules.CAUTIONS,
    )


def _with_an_arm(angles: Array, moment: Array, turned: Turn) -> tuple[Array, list[str]]:
    """Return the angles up to where the pull loses its arm while it is still needed, and the objection."""
    dead = ~_has_arm(turned) & ((moment > 0.0).mean(axis=0) > _SELDOM)
    if not dead.any():
        return angles, []
    first = int(np.argmax(dead))
    if first < 2:
        raise TurningError(
            "the pull does not turn the body the way it is meant to go: it presses it onto the edge or turns it "
            "back; make it fast elsewhere or change its direction"
        )
    return angles[:first], [
        f"from {angles[first]:.0f}° on the pull no longer turns it: its line runs through the edge or behind it; "
        "move the anchor or make it fast elsewhere"
    ]


def _has_arm(turned: Turn) -> NDArray[np.bool_]:
    """Return at which angles (k,) the pull turns the body the way it is meant to go."""
    return np.asarray(turned.arm_m > 1e-3 * np.abs(turned.arm_m).max())


def _curve(name: str, angles: Array, values: Array, balance: Array) -> Curve:
    middle = float(np.median(balance))
    marks = ((middle, "goes by itself"),) if angles[0] < middle < angles[-1] else ()
    return band_curve(name, ("angle turned", "deg"), (name, "kg"), angles, values, marks)


def _anchor(section: Section, turned: Turn, pulled: Array, balance: Array, axis: int) -> Curve:
    """Return what the anchor bears along one axis: the pull's own force on the body, as the bed's on it."""
    on_body = -turned.edge_x_n if axis == 0 else section.weight_n[:, None] - turned.edge_y_n
    force = np.where(pulled > 0.0, -on_body, 0.0) / G_M_S2
    name = ("sideways", "upright")[axis] + " force on the anchor"
    return _curve(name, turned.angle_deg, force, balance)


def _work_j(section: Section, angles: Array, balance: Array) -> Array:
    """Return the work (n,) up to the balance or the end: weight times what its hanging point is raised."""
    top = np.clip(balance, 0.0, angles[-1])
    reach = np.hypot(*section.arms_m.T)
    height = reach * np.cos(np.radians(balance - top))
    return np.asarray(section.weight_n * np.maximum(height - section.arms_m[:, 1], 0.0))


def _slides_at(needed: Array, angles: Array, friction: float | None) -> float | None:
    if friction is None:
        return None
    sliding = np.mean(needed > friction, axis=0) > _SELDOM
    return float(angles[int(np.argmax(sliding))]) if sliding.any() else None


def _objections(
    section: Section,
    pull: Pull,
    hold: Pull | None,
    goes: float,
    balance: Array,
    slow: Turn,
    angles: Array,
) -> list[str]:
    said = []
    at = float(np.median(balance))
    if goes > 0.0 and hold is None:
        said.append(f"past about {at:.0f}° it goes by itself and nothing is named that holds it")
        past = int(np.clip(np.searchsorted(angles, at), 0, len(angles) - 1))
        if isinstance(pull, BagPull) and slow.arm_m[past] > 0.0:
            said.append(
                f"the bag still pulls when it is past its balance at about {at:.0f}° and throws it over: hold it "
                "back with a line, or let the bag's air go before"
            )
    if bag_lift_n(pull) >= float(np.quantile(section.weight_n, 0.05)):
        said.append("the bag lifts as much as the body may weigh: it carries it away instead of turning it")
    off = share_of((slow.edge_y_n <= 0.0).any(axis=1))
    if off > _SELDOM:
        first = angles[int(np.argmax((slow.edge_y_n <= 0.0).any(axis=0)))]
        said.append(f"at {first:.0f}° the pull lifts the edge off the bed: it swings instead of turning")
    return said


def _questions(pull: Pull, hold: Pull | None) -> tuple[str, ...]:
    lines = [(what, p) for what, p in (("pulls", pull), ("holds", hold)) if isinstance(p, LinePull)]
    return tuple(
        f"not known whether the line that {what} it turns at a block on its anchor; the anchor is counted for twice "
        "the pull"
        for what, line in lines
        if line.through_block is None
    )
