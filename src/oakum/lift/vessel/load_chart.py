"""The load chart of crane or derrick: greatest load against radius, straight between points, nothing outside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.stability import Array, Dim
from oakum.lift.vessel.typed_rows import RowNote

Waters = Literal["sheltered", "open"]
"""Where a chart holds, and where the lift is: harbour and flat water, or a seaway."""


@dataclass(frozen=True, slots=True)
class Derating:
    """What a chart for sheltered water is multiplied with in a seaway, by whom: at most 1."""

    factor: float
    source: str

    def __post_init__(self) -> None:
        if not 0.0 < self.factor <= 1.0:
            raise VesselError(
                f"a derating factor is above 0 and at most 1, got {self.factor:g}; 0.75 takes a quarter off"
            )
        if not self.source.strip():
            raise VesselError("a derating factor needs its source: the page of the papers, or who gave it")


@dataclass(frozen=True, slots=True)
class LoadChart:
    """Points of the chart by rising radius: `radius_m` and `load_kg` (load-cell reading, force / g).

    `gaps_m`: radii that the chart lists without a load; nothing is said between their neighbours. `holds_in`:
    waters the chart is for, None: not known. `list_limit_deg`: the list up to which its maker says it holds,
    None: not known. `page`: where the papers have it.
    """

    name: str
    radius_m: tuple[float, ...]
    load_kg: tuple[float, ...]
    gaps_m: tuple[float, ...] = ()
    holds_in: Waters | None = None
    derating: Derating | None = None
    list_limit_deg: float | None = None
    page: str = ""
    notes: tuple[RowNote, ...] = field(default=())

    def __post_init__(self) -> None:
        radii, loads = np.asarray(self.radius_m), np.asarray(self.load_kg)
        if len(radii) < 2 or len(radii) != len(loads):
            raise VesselError(
                f'chart "{self.name}": it has {len(radii)} usable points; at least two radii with a load are needed'
            )
        if np.any(np.diff(radii) <= 0.0) or radii[0] < 0.0:
            raise VesselError(
                f'chart "{self.name}": its radii must rise from row to row, each once, from 0 on'
            )
        if np.any(loads < 0.0) or not np.all(np.isfinite(loads)):
            raise VesselError(f'chart "{self.name}": a load cannot be less than nothing')
        rising = np.flatnonzero(np.diff(loads) > 1e-9 * loads.max())
        if len(rising):
            k = int(rising[0])
            raise VesselError(
                f'chart "{self.name}" rises with radius: {loads[k]:,.0f} kg at {radii[k]:g} m, but '
                f"{loads[k + 1]:,.0f} kg at {radii[k + 1]:g} m; check the two rows, or whether the columns were swapped"
            )

    def capacity_kg(self, radius_m: Dim) -> Array:
        """Return the load at radii, straight between the points; NaN outside the chart and in its gaps.

        No derating; see `factor_in`.
        """
        radius = np.asarray(radius_m, dtype=np.float64)
        found = np.interp(radius, self.radius_m, self.load_kg, left=np.nan, right=np.nan)
        for low, high in self.unsaid_m():
            found = np.where((radius > low) & (radius < high), np.nan, found)
        return np.asarray(found)

    def stepped_kg(self, radius_m: float) -> float | None:
        """Return the load at the next greater radius that the chart lists: never more than the straight line."""
        if not self.radius_m[0] <= radius_m <= self.radius_m[-1]:
            return None
        return next(load for r, load in zip(self.radius_m, self.load_kg, strict=True) if r >= radius_m - 1e-9)

    def unsaid_m(self) -> tuple[tuple[float, float], ...]:
        """Return the stretches of radius about which the chart says nothing, each between two of its points."""
        inside = [g for g in self.gaps_m if self.radius_m[0] < g < self.radius_m[-1]]
        stretches = {
            (max(r for r in self.radius_m if r < g), min(r for r in self.radius_m if r > g)) for g in inside
        }
        return tuple(sorted(stretches))

    def factor_in(self, waters: Waters | None) -> float | None:
        """Return what the chart is multiplied with for a lift in these waters; None where nobody said.

        A derating that is given always counts: it can only lower.
        """
        if self.derating is not None:
            return self.derating.factor
        if self.holds_in == "open" or (self.holds_in == "sheltered" and waters == "sheltered"):
            return 1.0
        return None

    def why_outside(self, radius_m: float) -> str | None:
        """Say why the chart has no load at a radius; None where it has one."""
        first, last = self.radius_m[0], self.radius_m[-1]
        if not first <= radius_m <= last:
            return (
                f'a radius of {radius_m:.2f} m is outside the chart "{self.name}" ({first:g} to {last:g} m); '
                "nothing is read beyond its ends"
            )
        for low, high in self.unsaid_m():
            if low < radius_m < high:
                return (
                    f'the chart "{self.name}" lists a radius between {low:g} and {high:g} m without a load; nothing is '
                    f"read there, so not at {radius_m:.2f} m either"
                )
        return None


def sorted_points(points: Sequence[tuple[float, float, int]], name: str) -> list[tuple[float, float]]:
    """Return (radius, load) by rising radius, of (radius, load, row). `VesselError` for two loads at one radius, or
    a load that rises.
    """
    ordered: list[tuple[float, float, int]] = []
    for radius, load, row in sorted(points):
        if ordered and abs(radius - ordered[-1][0]) < 1e-6:
            if abs(load - ordered[-1][1]) > 1e-6 * max(load, 1.0):
                first, second = sorted((row, ordered[-1][2]))
                raise VesselError(
                    f'chart "{name}": rows {first} and {second} have one radius and two loads; strike one'
                )
            continue
        if ordered and load > ordered[-1][1] * (1.0 + 1e-9):
            at, before, first = ordered[-1]
            raise VesselError(
                f'chart "{name}" rises with radius: {before:,.0f} kg at {at:g} m (row {first}), but {load:,.0f} kg at '
                f"{radius:g} m (row {row}); check the two rows, or whether the columns were swapped"
            )
        ordered.append((radius, load, row))
    return [(radius, load) for radius, load, _ in ordered]
