"""A frame as a list of members: what each is made of, how thick, from where to where."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Estimate, exact, uniform
from oakum.ground.materials import saturated_density
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.sections import Section
from oakum.lift.cradle.steel import SteelGrade
from oakum.lift.cradle.strength import Material

Array = NDArray[np.float64]
Point = tuple[float, float, float]

MemberKind = Literal["runner", "bearer", "rail", "post", "brace"]
"""Runners lie along, bearers across; rails hold sideways, posts stand, braces stiffen. Runners and bearers bend."""

TubeEnds = Literal["open", "drilled", "sealed"]
"""What is inside a tube: water that runs out at its ends, water that runs out of drilled holes, or air."""

STEEL_KG_M3 = 7850.0
_LEVEL = 1e-6
_WET_SHARE = 1.12  # a class is weighed at 12 % moisture


@dataclass(frozen=True, slots=True)
class Member:
    """One member from `start_m` to `end_m`, the ends of its axis in the frame's own x, y, z.

    `density_kg_m3`: of what it is made of, as it will be in the water; None: steel 7,850, timber between dry and
    full of water. `ends`: for tubes, None: not known.
    """

    name: str
    kind: MemberKind
    section: Section
    material: Material
    start_m: Point
    end_m: Point
    density_kg_m3: Estimate | None = None
    ends: TubeEnds | None = None

    @property
    def length_m(self) -> float:
        """Length of the axis."""
        return math.dist(self.start_m, self.end_m)

    @property
    def way(self) -> Array:
        """Unit vector from start to end."""
        return np.asarray((np.asarray(self.end_m) - np.asarray(self.start_m)) / self.length_m)

    @property
    def is_level(self) -> bool:
        """Whether start and end are at one height."""
        return abs(self.end_m[2] - self.start_m[2]) < _LEVEL

    @property
    def bends(self) -> bool:
        """Whether it is part of the grid that carries by bending."""
        return self.kind in ("runner", "bearer")

    def axes(self) -> tuple[Array, Array]:
        """Return the directions of depth and width; a post has its depth along x."""
        way = self.way
        if math.hypot(way[0], way[1]) < 1e-9:
            return np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
        side = np.cross([0.0, 0.0, 1.0], way)
        side = side / np.linalg.norm(side)
        return np.cross(way, side), side

    def half_towards(self, direction: Array) -> float:
        """Return how far its sides stand from its axis towards a direction."""
        depth, side = self.axes()
        across = abs(float(direction @ depth)) * self.section.depth_m
        return 0.5 * (across + abs(float(direction @ side)) * self.section.width_m)

    @property
    def e_pa(self) -> float:
        """Modulus for deflection and sharing."""
        return self.material.e_pa if isinstance(self.material, SteelGrade) else self.material.e_mean_pa

    def density(self) -> Estimate:
        """Return the density of its material with its spread."""
        if self.density_kg_m3 is not None:
            return self.density_kg_m3
        if isinstance(self.material, SteelGrade):
            return exact(STEEL_KG_M3, "density of steel")
        dry = max(row.rho_mean_kg_m3 for row in self.material.editions)
        wet = float(saturated_density(dry / _WET_SHARE, 1027.0))
        return uniform(dry, wet, f"density of the frame's timber, {self.material.name}")


@dataclass(frozen=True, slots=True)
class Frame:
    """A cradle, frame or crate. `tolerance_m`: how far members may be from touching and still be joined."""

    title: str
    members: tuple[Member, ...]
    tolerance_m: float = 0.005

    def __post_init__(self) -> None:
        names = [m.name for m in self.members]
        twice = sorted({n for n in names if names.count(n) > 1})
        if twice:
            raise CradleError(
                f'frame "{self.title}": each member needs its own name; twice: {", ".join(twice)}'
            )
        if not names:
            raise CradleError(f'frame "{self.title}" has no members')
        for m in self.members:
            if not (math.isfinite(m.length_m) and m.length_m > 1e-3):
                raise CradleError(f'member "{m.name}" has no length: its start and end are one point')
            if m.bends and not m.is_level:
                raise CradleError(
                    f'member "{m.name}" is a {m.kind} and not level: runners and bearers lie level; call it a brace'
                )

    def member(self, name: str) -> Member:
        """Return a member by its name."""
        found = next((m for m in self.members if m.name == name), None)
        if found is None:
            raise CradleError(
                f'frame "{self.title}" has no member "{name}"; there are {", ".join(m.name for m in self.members)}'
            )
        return found
