"""Rolling a barrel or a gun over the bed or up a plank to its chocks, and what a chock holds.

A cylinder of radius R whose hanging point lies e off its axis rolls without sliding. About the line it
stands on, F h = W (R sin(a) - e sin(psi - a)): a the slope, h the height of the pull over the slope (R at the
axle, 2 R for a line laid over the top), psi the angle of the hanging point from the top towards the way it
rolls.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.estimate import Spread, spread_of
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.draw_bands import band_curve, picked
from oakum.lift.turning import rules
from oakum.lift.turning.errors import TurningError
from oakum.lift.turning.limits import friction_check, limit
from oakum.lift.turning.section import MOST_DRAWS
from oakum.lift.weights.report import Curve

Array = NDArray[np.float64]

STEEPEST_DEG = 30.0
"""Slope beyond which rolling is refused."""

_ANGLES = 121


@dataclass(frozen=True, slots=True, eq=False)
class Roller:
    """A round body that rolls: radius, draws (n,) of submerged weight and of the hanging point off the axis.

    `start_deg` is the angle of the hanging point from the top towards the way it rolls, at the start; None is
    not known: the worst of all is taken. Raises `TurningError`.
    """

    radius_m: float
    weight_n: Array
    offset_m: Array
    start_deg: float | None
    weights: Array | None = None

    def few(self, most: int = MOST_DRAWS) -> Roller:
        """Return at most so many draws that count alike and stand for all."""
        some = picked(len(self.weight_n), self.weights, most)
        offset = np.broadcast_to(self.offset_m, self.weight_n.shape)[some]
        return replace(self, weight_n=self.weight_n[some], offset_m=offset, weights=None)

    def __post_init__(self) -> None:
        if not self.radius_m > 0.0:
            raise TurningError(f"the radius of what rolls must be more than 0 m, got {self.radius_m:g} m")
        if float(np.median(self.weight_n)) <= 0.0:
            raise TurningError("it floats: nothing that floats is rolled")
        if np.any(np.asarray(self.offset_m) < 0.0) or np.any(np.asarray(self.offset_m) >= self.radius_m):
            raise TurningError("the hanging point must lie inside the cylinder, 0 m or more off its axis")


@dataclass(frozen=True, slots=True)
class RollAnswer:
    """Rolling once round. Forces along the slope, load-cell readings, kg; negative: must be held back.

    `distance_m` is the way it goes in one turn. `pull` is against the angle rolled; where the start is not
    known every draw has its hanging point at the worst place all the way. `chock_holds_kg` is the push up to
    which the chock holds, None where no chock was asked for.
    """

    distance_m: float
    pull: Curve
    largest_pull_kg: Spread
    largest_hold_kg: Spread
    friction: Spread
    chock_holds_kg: Spread | None
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]


def rolling_n(roller: Roller, slope_deg: float, height_m: float, rolled_deg: ArrayLike) -> Array:
    """Return the pull (n, k) up the slope at `height_m` over it, N; `rolled_deg` (k,) from the start."""
    slope = np.radians(slope_deg)
    at = np.radians(np.asarray(rolled_deg, dtype=np.float64) + (roller.start_deg or 0.0))
    offset = np.broadcast_to(roller.offset_m, roller.weight_n.shape)[:, None]
    arm = roller.radius_m * np.sin(slope) - offset * np.sin(at - slope)[None, :]
    return np.asarray(roller.weight_n[:, None] * arm / height_m)


def chock_holds_n(roller: Roller, chock_m: float, slope_deg: float, height_m: float) -> Array:
    """Return the push (n,) along the slope at `height_m` over it that rolls it over a chock, N.

    The chock has a square edge `chock_m` high at right angles to the slope, less than the radius and less
    than the push; the slope is positive up towards the chock. The hanging point is taken at its worst.
    Negative: it does not hold even without a push. On the level and at the axle of a round body with its
    weight on the axis this is W sqrt(2 R c - c^2) / (R - c).
    """
    radius = roller.radius_m
    if not 0.0 < chock_m < min(radius, height_m):
        raise TurningError(
            f"a chock must be higher than nothing, and lower than the axle ({radius:g} m) and the push "
            f"({height_m:g} m); got {chock_m:g} m"
        )
    slope = np.radians(slope_deg)
    behind = np.sqrt(2.0 * radius * chock_m - chock_m**2) * np.cos(slope) + (radius - chock_m) * np.sin(slope)
    return np.asarray(roller.weight_n * (behind - roller.offset_m) / (height_m - chock_m))


def roll(
    roller: Roller,
    *,
    slope_deg: float,
    pull_height_m: float,
    bed_friction: float | None,
    line_wll_kg: float | None,
    chock_m: float | None = None,
    push_kg: float | None = None,
) -> RollAnswer:
    """Return the rolling of a round body up a slope (0: level, negative: down), and what its chock holds.

    `pull_height_m` over the slope: the radius for a line at the axle, twice that over the top.
    `push_kg` is what the chock has to hold (swell, current, a line let go), None not known. Raises
    `TurningError` for slopes beyond 30 degrees and a pull outside the body.
    """
    if abs(slope_deg) > STEEPEST_DEG:
        raise TurningError(
            f"a slope of {slope_deg:g}° is too steep to roll on; lay planks of at most {STEEPEST_DEG:g}°"
        )
    if not 0.0 < pull_height_m <= 2.0 * roller.radius_m:
        raise TurningError(
            f"the pull must be between the bed and the top of the body, {2 * roller.radius_m:g} m; "
            f"got {pull_height_m:g} m"
        )
    roller = roller.few()
    angles = np.linspace(0.0, 360.0, _ANGLES)
    force = rolling_n(roller, slope_deg, pull_height_m, angles)
    largest, least = force.max(axis=1), force.min(axis=1)
    slope = np.radians(slope_deg)
    weight = roller.weight_n[:, None]
    needed = np.abs(weight * np.sin(slope) - force) / (weight * np.cos(slope))
    pulls = spread_of(np.maximum(largest, 0.0) / G_M_S2, "kg")
    holds = spread_of(np.maximum(-least, 0.0) / G_M_S2, "kg")
    friction = spread_of(needed.max(axis=1), "1")
    basis = "95th percentile of the largest force in one turn, held back or pulled"
    hardest = max(pulls.p95, holds.p95)
    made = [
        limit("roll-line", "line that rolls it", hardest, line_wll_kg, "kg", basis, rules.BALANCE),
        friction_check(friction, bed_friction),
    ]
    chock = None
    if chock_m is not None:
        chock = spread_of(
            chock_holds_n(roller, chock_m, slope_deg, pull_height_m) / G_M_S2, "kg", roller.weights
        )
        made.append(_chock_check(chock, push_kg))
    if roller.start_deg is None:
        force = np.broadcast_to(largest[:, None], force.shape)
    said = [c.objection for c in made if c.objection is not None]
    if chock is None:
        said.append("no chock is named that keeps it from rolling on")
    return RollAnswer(
        distance_m=2.0 * float(np.pi) * roller.radius_m,
        pull=band_curve(
            "pull up the slope (minus: must be held)",
            ("angle rolled", "deg"),
            ("pull along the slope", "kg"),
            angles,
            force / G_M_S2,
        ),
        largest_pull_kg=pulls,
        largest_hold_kg=holds,
        friction=friction,
        chock_holds_kg=chock,
        checks=tuple(made),
        objections=tuple(said),
        assumptions=(
            *rules.ASSUMPTIONS[:2],
            "It rolls without sliding on planks that do not give way, and keeps its direction.",
            "Chocks have a square edge and stay where they are.",
        ),
        cautions=rules.CAUTIONS[:2],
    )


def _chock_check(holds: Spread, push_kg: float | None) -> Check:
    """Return the check of a chock: what it must hold against the 5th percentile of what it does."""
    key, title, rule = "roll-chock", "chock", rules.CHOCK
    basis = "5th percentile of the push that rolls it over the chock"
    if push_kg is None:
        words = "chock: not known what push it must hold"
        return Check(key, title, 0.0, holds.p5, "kg", basis, rule, words)
    return limit(key, title, push_kg, max(holds.p5, 0.0), "kg", basis, rule)
