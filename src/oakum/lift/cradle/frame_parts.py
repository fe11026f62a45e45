"""The frame as weight, buoyancy, trapped water and added mass: parts for the weighing, numbers for the splash zone."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from oakum.ground.estimate import Estimate, exact, uniform
from oakum.lift.body.model import Part, Place, Shape, Stuff, Vector, WaterFill
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.frame import Array, Frame, Member
from oakum.lift.cradle.level import hull
from oakum.lift.cradle.sections import Section

_GRID = 400


@dataclass(frozen=True, slots=True)
class FrameNumbers:
    """Sums of a frame at the low and high ends of its densities, kg and m3; `centre_m` of its likely mass.

    `displaced_m3` counts tubes that are sealed with their inside; `trapped_m3` is the inside of the others.
    """

    mass_kg: tuple[float, float]
    displaced_m3: float
    trapped_m3: float
    submerged_kg: tuple[float, float]
    centre_m: Vector


@dataclass(frozen=True, slots=True)
class AddedMassInput:
    """What added-mass tables ask about a frame moving up and down.

    Outline in plan and height, the plan area that members cover, how much of the plan is open in per cent.
    """

    length_m: float
    width_m: float
    height_m: float
    solid_m2: float
    open_percent: float


def frame_numbers(frame: Frame, water_kg_m3: float) -> FrameNumbers:
    """Return the sums of a frame. Members that overlap in a joint are counted whole."""
    low = high = best = displaced = trapped = 0.0
    moment = np.zeros(3)
    for m in frame.members:
        volume = m.section.area_m2 * m.length_m
        inside = (m.section.outside_m2 - m.section.area_m2) * m.length_m
        density = m.density()
        low += density.quantile(0.05) * volume
        high += density.quantile(0.95) * volume
        mass = density.best * volume
        best += mass
        moment += mass * 0.5 * (np.asarray(m.start_m) + np.asarray(m.end_m))
        sealed = m.section.is_hollow and m.ends == "sealed"
        displaced += volume + (inside if sealed else 0.0)
        trapped += 0.0 if sealed else inside
    x, y, z = (moment / best).tolist()
    off = water_kg_m3 * displaced
    return FrameNumbers((low, high), displaced, trapped, (low - off, high - off), (x, y, z))


def frame_parts(frame: Frame, at_m: Vector = (0.0, 0.0, 0.0)) -> tuple[Part, ...]:
    """Return the members as parts of a body, role "crate"; the inside of open tubes as trapped water.

    `at_m`: where the frame's origin lies in the body's frame; axes are parallel. A sealed tube is one part
    of its mean density. `CradleError` for a typed section, whose shape is not known.
    """
    found: list[Part] = []
    for member in frame.members:
        found += _parts(member, np.asarray(at_m))
    return tuple(found)


def _parts(member: Member, at_m: Array) -> list[Part]:
    section = member.section
    if section.kind == "typed":
        raise CradleError(
            f'member "{member.name}": a typed section has no shape; give its mass and volume as a lump in the body file'
        )
    name = f"frame: {member.name}"
    density = member.density()
    if section.is_hollow and member.ends == "sealed":
        share = section.area_m2 / section.outside_m2
        stuff = Stuff(f"sealed tube of {member.material.name}", _times(density, share))
        return [_part(name, member, section.width_m, section.depth_m, at_m, stuff)]
    # the corners of a tube are rounded: its stuff is made as much lighter as its sharp shape is larger
    wall = section.thickness_m or 0.0
    inner = (section.width_m - 2.0 * wall, section.depth_m - 2.0 * wall)
    sharp = _sharp_area(section, inner if section.is_hollow else None)
    stuff = Stuff(f"{member.material.name} of the frame", _times(density, section.area_m2 / sharp))
    outer = _part(name, member, section.width_m, section.depth_m, at_m, stuff)
    if not section.is_hollow:
        return [outer]
    water = WaterFill(exact(1.0) if member.ends is not None else None)
    inside = _part(f"{name}, inside", member, inner[0], inner[1], at_m, None, hole_in=name, fill=water)
    return [outer, inside]


def _sharp_area(section: Section, inner: tuple[float, float] | None) -> float:
    if section.kind in ("round", "round tube"):
        return section.area_m2
    inside = inner[0] * inner[1] if inner is not None else 0.0
    return section.width_m * section.depth_m - inside


def _times(density: Estimate, share: float) -> Estimate:
    if abs(share - 1.0) < 1e-12:
        return density
    if density.is_exact:
        return exact(density.best * share, density.label)
    return uniform(density.quantile(0.0) * share, density.quantile(1.0) * share, density.label)


def _part(
    name: str,
    member: Member,
    width_m: float,
    depth_m: float,
    at_m: Array,
    stuff: Stuff | None,
    *,
    hole_in: str | None = None,
    fill: WaterFill | None = None,
) -> Part:
    """Return one straight part along the member's axis."""
    way = member.way
    azimuth = math.degrees(math.atan2(way[1], way[0]))
    start = np.asarray(member.start_m) + at_m
    if member.section.kind in ("round", "round tube"):
        tilt = math.degrees(math.acos(min(1.0, max(-1.0, float(way[2])))))
        shape = Shape("cylinder", (("diameter", exact(width_m)), ("height", exact(member.length_m))))
        place = _place(start, (0.0, tilt, azimuth))
        return Part(
            name,
            "crate" if hole_in is None else "trapped water",
            shape,
            place,
            stuff,
            hole_in=hole_in,
            fill=fill,
        )
    rise = -math.degrees(math.asin(min(1.0, max(-1.0, float(way[2])))))
    depth, _ = member.axes()
    if math.hypot(way[0], way[1]) < 1e-9:
        # a box turned upright about y has its depth along x, towards -x when it goes up
        azimuth, depth = 0.0, np.array([-float(np.sign(way[2])), 0.0, 0.0])
    middle = start + 0.5 * member.length_m * way - 0.5 * depth_m * depth
    shape = Shape(
        "box",
        (("length", exact(member.length_m)), ("width", exact(width_m)), ("height", exact(depth_m))),
    )
    place = _place(middle, (0.0, rise, azimuth))
    return Part(
        name, "crate" if hole_in is None else "trapped water", shape, place, stuff, hole_in=hole_in, fill=fill
    )


def _place(point: Array, turn_deg: Vector) -> Place:
    x, y, z = (exact(float(v)) for v in point)
    return Place(x, y, z, turn_deg)


def added_mass_input(frame: Frame) -> AddedMassInput:
    """Return outline, height and cover of a frame in plan, by looking down on it on a grid of points."""
    corners = np.array([c for m in frame.members for c in _corners(m)])
    low, high = corners.min(axis=0), corners.max(axis=0)
    size = high - low
    x = low[0] + (np.arange(_GRID) + 0.5) / _GRID * size[0]
    y = low[1] + (np.arange(_GRID) + 0.5) / _GRID * size[1]
    covered = np.zeros((_GRID, _GRID), dtype=bool)
    px, py = np.meshgrid(x, y, indexing="ij")
    for member in frame.members:
        covered |= _covers(member, px, py)
    share = float(covered.mean())
    solid = share * float(size[0] * size[1])
    return AddedMassInput(float(size[0]), float(size[1]), float(size[2]), solid, 100.0 * (1.0 - share))


def _corners(member: Member) -> Array:
    depth, side = member.axes()
    ends = np.array([member.start_m, member.end_m])
    half = [
        0.5 * (a * member.section.depth_m * depth + b * member.section.width_m * side)
        for a in (-1, 1)
        for b in (-1, 1)
    ]
    return np.asarray((ends[:, None, :] + np.array(half)[None]).reshape(-1, 3))


def _covers(member: Member, px: Array, py: Array) -> np.ndarray:
    """Return which points in plan a member covers: inside the outline of its corners seen from above."""
    ring = hull([(float(c[0]), float(c[1])) for c in _corners(member)])
    inside = np.ones(px.shape, dtype=bool)
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        inside &= (bx - ax) * (py - ay) - (by - ay) * (px - ax) >= 0.0
    return inside
