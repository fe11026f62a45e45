"""What turns the body or holds it back: a bag, a winch line, or hands."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.lift.turning.errors import TurningError
from oakum.lift.turning.section import OUTSIDE, Section

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class BagPull:
    """A bag made fast at `at_m` of the body (side view, as it lies): pulls straight up.

    `lift_kg` is what it lifts as filled, all the way through; None is not known.
    """

    at_m: tuple[float, float]
    lift_kg: float | None

    @property
    def words(self) -> str:
        """What it is."""
        return "bag"


@dataclass(frozen=True, slots=True)
class LinePull:
    """A line from `at_m` of the body to an anchor at `anchor_m` (side view, which stays where it is).

    `wll_kg` is the least tag of line, fittings and winch, `holding_kg` what the anchor holds in the line's
    direction; None is not known. `through_block`: the line turns at a block on the anchor and goes on to a
    winch elsewhere, so that the anchor may bear twice the pull; None, not known, is counted so.
    """

    at_m: tuple[float, float]
    anchor_m: tuple[float, float]
    wll_kg: float | None = None
    holding_kg: float | None = None
    through_block: bool | None = None

    @property
    def anchor_factor(self) -> float:
        """How many times the pull the anchor may bear."""
        return 1.0 if self.through_block is False else 2.0

    @property
    def words(self) -> str:
        """What it is."""
        return "winch line"


@dataclass(frozen=True, slots=True)
class HandPull:
    """People who push or pull at `at_m`, always square to the way from the edge.

    `people` of them, each with `each_kg` under water; None is not known.
    """

    at_m: tuple[float, float]
    people: int | None
    each_kg: float | None

    @property
    def words(self) -> str:
        """What it is."""
        return "hands"

    @property
    def bears_kg(self) -> float | None:
        """What they manage together, None where not known."""
        return None if self.people is None or self.each_kg is None else self.people * self.each_kg


Pull = BagPull | LinePull | HandPull


def direction(section: Section, pull: Pull, place_m: Array) -> Array:
    """Return the unit vectors (k, 2) of a pull at the turned places (k, 2), both as seen from the edge."""
    if isinstance(pull, BagPull):
        return np.broadcast_to(np.array([0.0, 1.0]), place_m.shape)
    if isinstance(pull, HandPull):
        turn = -1.0 if section.clockwise else 1.0
        square = turn * np.stack([-place_m[:, 1], place_m[:, 0]], axis=-1)
        return np.asarray(square / np.hypot(*place_m.T)[:, None])
    way = section.from_edge(pull.anchor_m)[None, :] - place_m
    length = np.hypot(*way.T)
    if np.any(length < 1e-9):
        raise TurningError("the body turns right onto the anchor of its line; move the anchor")
    return np.asarray(way / length[:, None])


def arms_m(section: Section, pull: Pull, angle_deg: Array) -> tuple[Array, Array, Array]:
    """Return places (k, 2), directions (k, 2) and arms (k,) of a pull about the edge.

    An arm is positive where the pull turns the body the way it is meant to go. Raises `TurningError` where
    the pull is made fast at the edge itself.
    """
    fast = section.from_edge(pull.at_m)
    if float(np.hypot(*fast)) < 1e-6 * section.size_m:
        raise TurningError("a pull at the edge it turns on turns nothing; make it fast away from the edge")
    place = section.turned(fast, angle_deg)
    way = direction(section, pull, place)
    turn = -1.0 if section.clockwise else 1.0
    arm = turn * (place[:, 0] * way[:, 1] - place[:, 1] * way[:, 0])
    return place, way, np.asarray(arm)


def fast_on_body(section: Section, pull: Pull, what: str) -> None:
    """Refuse a pull that is made fast outside the outline of the body."""
    off = section.outside_m(pull.at_m)
    if off > OUTSIDE * section.size_m:
        raise TurningError(
            f"the {what} is made fast {off:.2f} m outside the body; give a point of its outline, or draw the frame "
            "it is made fast to into the outline"
        )
