"""Where members meet: found from their lines and sizes, named, and how one ends on the other."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

import numpy as np

from oakum.lift.cradle.frame import Array, Frame, Member, Point

How = Literal["laps", "butts", "cuts into"]
"""Side by side; end against side; or one through the other, which needs a notch."""

_AXIAL = 0.9  # cosine between the gap and an axis from which on the member ends on the other


@dataclass(frozen=True, slots=True)
class Joint:
    """Two members that meet at `point_m`, each at a distance from its start. `angle_deg` between their axes."""

    name: str
    first: str
    second: str
    point_m: Point
    first_at_m: float
    second_at_m: float
    how: How
    angle_deg: float

    def at_m(self, member: str) -> float:
        """Return the distance from a member's start."""
        return self.first_at_m if member == self.first else self.second_at_m

    def other(self, member: str) -> str:
        """Return the member it meets."""
        return self.second if member == self.first else self.first


def joints(frame: Frame) -> tuple[Joint, ...]:
    """Return every joint, numbered J1, J2, ... in the order of the members."""
    found: list[Joint] = []
    for a, b in combinations(frame.members, 2):
        met = _meeting(a, b, frame.tolerance_m)
        if met is not None:
            s, t, how = met
            first = np.asarray(a.start_m) + s * a.way
            second = np.asarray(b.start_m) + t * b.way
            x, y, z = (0.5 * (first + second)).tolist()
            angle = math.degrees(math.acos(min(1.0, abs(float(a.way @ b.way)))))
            found.append(Joint(f"J{len(found) + 1}", a.name, b.name, (x, y, z), s, t, how, angle))
    return tuple(found)


def _meeting(a: Member, b: Member, tolerance_m: float) -> tuple[float, float, How] | None:
    s, t, gap = _nearest(a, b)
    distance = float(np.linalg.norm(gap))
    if distance < 1e-9:
        ends = _at_end(a, s, b) or _at_end(b, t, a)
        return s, t, "butts" if ends else "cuts into"
    way = gap / distance
    along_a, along_b = abs(float(way @ a.way)), abs(float(way @ b.way))
    reach = (0.0 if along_a > _AXIAL else a.half_towards(way)) + (
        0.0 if along_b > _AXIAL else b.half_towards(way)
    )
    if distance > reach + tolerance_m:
        return None
    if max(along_a, along_b) > _AXIAL:
        return s, t, "butts"
    if distance >= reach - tolerance_m:
        return s, t, "laps"
    ends = _at_end(a, s, b) or _at_end(b, t, a)
    return s, t, "butts" if ends else "cuts into"


def _at_end(member: Member, at_m: float, other: Member) -> bool:
    """Whether a place on a member is at one of its ends, give or take the size of what it meets."""
    size = max(other.section.width_m, other.section.depth_m)
    return at_m < size or at_m > member.length_m - size


def _nearest(a: Member, b: Member) -> tuple[float, float, Array]:
    """Return the distances from the starts of the nearest points of two axes, and the gap from first to second."""
    u, v = a.way, b.way
    w = np.asarray(a.start_m) - np.asarray(b.start_m)
    uv, uw, vw = float(u @ v), float(u @ w), float(v @ w)
    square = 1.0 - uv * uv
    s = (uv * vw - uw) / square if square > 1e-12 else 0.0
    s = min(max(s, 0.0), a.length_m)
    t = min(max(uv * s + vw, 0.0), b.length_m)
    s = min(max(uv * t - uw, 0.0), a.length_m)
    gap = (np.asarray(b.start_m) + t * v) - (np.asarray(a.start_m) + s * u)
    return s, t, np.asarray(gap)
