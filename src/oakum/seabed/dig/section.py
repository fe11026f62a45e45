"""What a section drawing shows: levels near its line, the surfaces cut along it, and what was left out and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from oakum.seabed.dig.errors import DigError
from oakum.seabed.dig.outline import Point
from oakum.seabed.dig.surface import Level, Surface


@dataclass(frozen=True, slots=True)
class OnSection:
    """A level on the section: how far along the line, how high, and how far to the left of the line it was read."""

    name: str
    along_m: float
    z_m: float
    left_m: float


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A level that the section does not show, and why in words."""

    name: str
    left_m: float
    why: str


@dataclass(frozen=True, slots=True)
class Layer:
    """One surface on the section: its levels near the line, and its cut (along, z), empty where it has none."""

    title: str
    shown: tuple[OnSection, ...]
    left_out: tuple[LeftOut, ...]
    cut: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A section from `start` to `end` with its layers, the earliest first."""

    start: Point
    end: Point
    tolerance_m: float
    layers: tuple[Layer, ...]

    @property
    def length_m(self) -> float:
        """Length of the line."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])


def section(
    start: Point,
    end: Point,
    layers: Sequence[tuple[str, Sequence[Level], Surface | None]],
    tolerance_m: float,
) -> Section:
    """Lay levels and surfaces on a vertical section; a level further than `tolerance_m` from the line is left out."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    if length < 1e-3:
        raise DigError("a section runs between two different places; choose another end")
    if not tolerance_m > 0.0:
        raise DigError("say how far from the line a level may lie to be shown, such as 0.2 m")
    made = tuple(
        _layer(title, levels, held, start, end, length, tolerance_m) for title, levels, held in layers
    )
    return Section(start, end, tolerance_m, made)


def _layer(
    title: str,
    levels: Sequence[Level],
    held: Surface | None,
    start: Point,
    end: Point,
    length: float,
    tolerance_m: float,
) -> Layer:
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    shown, left_out = [], []
    for one in levels:
        dx, dy = one.x_m - start[0], one.y_m - start[1]
        along, left = dx * ux + dy * uy, ux * dy - uy * dx
        if abs(left) > tolerance_m:
            why = f"{abs(left):.2f} m from the line, more than {tolerance_m:g} m"
            left_out.append(LeftOut(one.name, left, why))
        elif not -tolerance_m <= along <= length + tolerance_m:
            past = -along if along < 0 else along - length
            left_out.append(LeftOut(one.name, left, f"{past:.2f} m beyond the end of the line"))
        else:
            shown.append(OnSection(one.name, along, one.z_m, left))
    shown.sort(key=lambda one: one.along_m)
    return Layer(
        title, tuple(shown), tuple(left_out), () if held is None else _cut(held, start, (ux, uy), length)
    )


def _cut(held: Surface, start: Point, way: Point, length: float) -> tuple[Point, ...]:
    """Heights along the line at every side of a triangle that it crosses: exact for plane triangles."""
    places = {0.0, length}
    ux, uy = way
    for corners in held.triangles:
        for k in range(3):
            ax, ay = held.nodes[corners[k]] - start
            bx, by = held.nodes[corners[(k + 1) % 3]] - start
            left_a, left_b = ux * ay - uy * ax, ux * by - uy * bx
            if (left_a >= 0) != (left_b >= 0):
                t = left_a / (left_a - left_b)
                along = float((ax + t * (bx - ax)) * ux + (ay + t * (by - ay)) * uy)
                if 0.0 < along < length:
                    places.add(round(along, 9))
    alongs = sorted(places)
    heights = held.heights_m([(start[0] + along * ux, start[1] + along * uy) for along in alongs])
    return tuple((along, z) for along, z in zip(alongs, heights, strict=True) if z is not None)
