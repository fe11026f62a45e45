"""Beyond the balance: what must hold the body back, and what a bag that keeps pulling does to it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.turning.errors import TurningError
from oakum.lift.turning.pulls import BagPull, Pull, arms_m
from oakum.lift.turning.section import Section

Array = NDArray[np.float64]


def bag_lift_n(pull: Pull) -> float:
    """Return the constant lift of a bag, N; 0 for other pulls and where it is not known."""
    if isinstance(pull, BagPull) and pull.lift_kg is not None:
        return pull.lift_kg * G_M_S2
    return 0.0


def holding_n(
    section: Section, pull: Pull, hold: Pull | None, angle_deg: Array, moment_nm: Array
) -> tuple[Array, Array, Array]:
    """Return the holding force (n, k) and its parts to the right and up on the body, N; 0 before balance.

    A bag goes on pulling with its lift, so what holds must hold against that too. Where nothing is named
    that holds, the least force that would: square to the way from the edge, where the pull is made fast.
    Raises `TurningError` for a hold that pulls the body on.
    """
    over = np.maximum(-moment_nm, 0.0)
    bag_n = bag_lift_n(pull)
    if bag_n > 0.0:
        _, _, bag_arm = arms_m(section, pull, angle_deg)
        over = np.where(moment_nm < 0.0, np.maximum(bag_n * bag_arm - moment_nm, 0.0), 0.0)
    if hold is None:
        fast = section.turned(section.from_edge(pull.at_m), angle_deg)
        back = 1.0 if section.clockwise else -1.0
        reach = np.hypot(*fast.T)
        way = back * np.stack([-fast[:, 1], fast[:, 0]], axis=-1) / reach[:, None]
        arm = reach
    else:
        _, way, forward = arms_m(section, hold, angle_deg)
        arm = -forward
        used = (over > 0.0).any(axis=0)
        if np.any(arm[used] <= 1e-3 * section.size_m):
            first = angle_deg[used][int(np.argmax(arm[used] <= 1e-3 * section.size_m))]
            raise TurningError(
                f"what is to hold the body does not hold it back at {first:.0f}°: its line runs through the edge "
                "or pulls it on; lead it back the other way"
            )
    force = over / np.where(arm > 0.0, arm, np.inf)[None, :]
    return force, force * way[None, :, 0], force * way[None, :, 1]


def thrown_j(section: Section, pull: Pull, angle_deg: Array, moment_nm: Array) -> Array | None:
    """Return what a bag with constant lift has put into the body beyond its need by the last angle (n,), J.

    None for other pulls and for a lift that is not known; 0 for draws the bag cannot turn at the start.
    Divided by the weight it is the height of a fall that would hit as hard. Water that slows it is not
    counted.
    """
    lift = bag_lift_n(pull)
    if lift <= 0.0:
        return None
    _, _, arm = arms_m(section, pull, angle_deg)
    surplus = lift * arm[None, :] - moment_nm
    given = np.trapezoid(surplus, np.radians(angle_deg), axis=1)
    return np.asarray(np.where(surplus[:, 0] >= 0.0, np.maximum(given, 0.0), 0.0))
