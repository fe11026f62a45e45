"""The members of a frame as the splash zone counts them: one by one, each with its own height and added mass."""

from __future__ import annotations

import math

import numpy as np

from oakum.lift.cradle.frame import Frame, Member
from oakum.lift.splash import Part, plate, prism, with_height

_LONGEST = 10.0  # length over width where the tables end


def frame_splash_parts(frame: Frame) -> tuple[Part, ...]:
    """Return every member as a part of a splash body, heights counted from the frame's lowest point.

    Lying members are strips of their width: the plate table to ten widths, beyond it the long strip's pi/4 w^2 a
    metre, raised for their height by the width (a square bar then has 1.55 instead of the exact 1.51 of a long one,
    own calculation). Posts are prisms moving along. How near members shield or crowd each other is not counted.
    Water inside tubes is no part of it: it is trapped water.
    """
    lowest = min(_lowest(m) for m in frame.members)
    return tuple(_part(m, lowest) for m in frame.members)


def _rise(member: Member) -> float:
    """Return half the height that the section adds at the ends of the axis."""
    return member.half_towards(np.array([0.0, 0.0, 1.0]))


def _lowest(member: Member) -> float:
    return min(member.start_m[2], member.end_m[2]) - _rise(member)


def _part(member: Member, lowest_m: float) -> Part:
    section = member.section
    base = _lowest(member) - lowest_m
    height = max(member.start_m[2], member.end_m[2]) + _rise(member) - lowest_m - base
    sealed = section.is_hollow and member.ends == "sealed"
    volume = (section.outside_m2 if sealed else section.area_m2) * member.length_m
    flat = math.hypot(*(b - a for a, b in zip(member.start_m[:2], member.end_m[:2], strict=True)))
    if flat < max(section.width_m, section.depth_m):
        side = math.sqrt(section.width_m * section.depth_m)
        long = min(max(member.length_m, side), _LONGEST * side)
        plan, added = section.width_m * section.depth_m, prism(side, long).volume_m3
    else:
        plan = section.width_m * flat
        added = _strip_m3(section.width_m, flat, section.depth_m)
    round_bottom = section.kind in ("round", "round tube") and member.is_level
    return Part(
        f"frame: {member.name}", base, height, volume, volume / height, plan, added, round_bottom=round_bottom
    )


def _strip_m3(width_m: float, length_m: float, depth_m: float) -> float:
    """Return the added mass over density of a lying strip."""
    flat = plate(width_m, min(length_m, _LONGEST * width_m))
    raised = with_height(flat, width_m**2, depth_m).volume_m3 / flat.volume_m3
    if length_m <= _LONGEST * width_m:
        return flat.volume_m3 * raised
    return math.pi / 4.0 * width_m**2 * length_m * raised
