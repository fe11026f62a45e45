"""Force against angle: the pull that balances the weight about the edge, and what the edge bears.

About the edge E, with the body turned by phi, weight W acting at S and a pull F at P in the direction u:
F (P x u) = W x_S, counted in the sense of turning. The edge bears what is left, R = (0, W) - F u. Slow
turning: nothing is counted for water that has to be moved, nor for the bed holding on.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.lift.turning.pulls import Pull, arms_m
from oakum.lift.turning.section import Section

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Turn:
    """A turning over draws (n, k) and angles (k,), slow, with the pull always as strong as balance needs.

    `moment_nm` is what the weight turns back with; negative where the body goes by itself. `force_n` the
    pull, negative where it would have to push, NaN where it has no arm. `edge_x_n`, `edge_y_n`: the force of
    the bed on the edge, to the right and up. `arm_m` (k,) of the pull.
    """

    angle_deg: Array
    moment_nm: Array
    force_n: Array
    edge_x_n: Array
    edge_y_n: Array
    arm_m: Array


def weight_moment_nm(section: Section, angle_deg: Array) -> Array:
    """Return the moment (n, k) with which the weight turns the body back; negative: on by itself."""
    turned = section.turned(section.arms_m, angle_deg)
    turn = -1.0 if section.clockwise else 1.0
    return np.asarray(turn * section.weight_n[:, None] * turned[..., 0])


def raised_m(section: Section, angle_deg: Array) -> Array:
    """Return how far (n, k) the hanging point is above where it was at the start, m."""
    turned = section.turned(section.arms_m, angle_deg)
    return np.asarray(turned[..., 1] - section.arms_m[:, None, 1])


def turn(section: Section, pull: Pull, angle_deg: Array) -> Turn:
    """Return pull and edge forces at the angles (k,), degrees from the pose at the start."""
    moment = weight_moment_nm(section, angle_deg)
    _, way, arm = arms_m(section, pull, angle_deg)
    short = np.abs(arm) < 1e-9 * section.size_m
    force = moment / np.where(short, np.nan, arm)[None, :]
    return Turn(
        angle_deg,
        moment,
        force,
        -force * way[None, :, 0],
        section.weight_n[:, None] - force * way[None, :, 1],
        arm,
    )


def friction_needed(turned: Turn) -> Array:
    """Return the friction (n, k) the bed must give the edge, |R_x| / R_y; inf where the edge lifts off."""
    with np.errstate(divide="ignore", invalid="ignore"):
        needed = np.abs(turned.edge_x_n) / turned.edge_y_n
    return np.asarray(np.where(turned.edge_y_n > 0.0, needed, np.inf))
