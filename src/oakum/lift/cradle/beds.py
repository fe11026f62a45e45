"""Beds that give: foam and sandbags as springs, foam squeezed by depth, and how a stiff body shares its weight."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.lift.cradle.errors import CradleError, positive

Array = NDArray[np.float64]

ATMOSPHERE_PA = 101_325.0
_HALVINGS = 80


@dataclass(frozen=True, slots=True)
class Foam:
    """A foam pad: `curve` of (strain, stress in Pa) as its maker gives it at the surface, from (0, 0) on.

    `closed_cells`: whether it holds air that depth squeezes; None: not known. `curve` None: not known.
    """

    name: str
    thickness_m: float
    closed_cells: bool | None
    curve: tuple[tuple[float, float], ...] | None

    def __post_init__(self) -> None:
        positive(f'the thickness of the foam "{self.name}"', self.thickness_m, "m")
        if self.curve is None:
            return
        strain, stress = np.array(self.curve).T
        if self.curve[0] != (0.0, 0.0) or len(self.curve) < 2:
            raise CradleError(
                f'foam "{self.name}": its curve begins at 0 strain, 0 Pa and has one more point at least'
            )
        if np.any(np.diff(strain) <= 0.0) or np.any(np.diff(stress) <= 0.0) or strain[-1] >= 1.0:
            raise CradleError(
                f'foam "{self.name}": strain and stress rise from point to point, and strain stays under 1'
            )

    def strain_under(self, stress_pa: float) -> float | None:
        """Return the strain under a stress at the surface; None where the curve is not known or ends before it."""
        if self.curve is None:
            return None
        strain, stress = np.array(self.curve).T
        return float(np.interp(stress_pa, stress, strain)) if 0.0 <= stress_pa <= stress[-1] else None


def boyle_strain(over_pressure_pa: float) -> float:
    """Return the share of its thickness that a bag of air loses under a pressure over the atmosphere: a bound.

    p V stays the same; no stiffness of the foam's own counted, thickness taken to shrink as the volume.
    """
    return over_pressure_pa / (ATMOSPHERE_PA + over_pressure_pa)


def skeleton_pa(foam: Foam, strain: float) -> float:
    """Return what the cell walls alone bear at a strain: the curve less the air in closed cells.

    Beyond the end of the curve the walls are taken to bear no more than at its end.
    """
    assert foam.curve is not None
    strains, stresses = np.array(foam.curve).T
    walls = stresses - (ATMOSPHERE_PA * strains / (1.0 - strains) if foam.closed_cells else 0.0)
    return float(np.interp(strain, strains, np.maximum(walls, 0.0)))


def strain_at_depth(foam: Foam, over_pressure_pa: float, load_pa: float = 0.0) -> tuple[float, float] | None:
    """Return the least and greatest share of its thickness the foam loses at depth, under a load besides.

    Closed cells: walls and air together resist water pressure and load, p_a e / (1 - e) + walls(e); the least counts
    the walls, the greatest (Boyle) does not. Open cells fill: only the load counts. None where cells or curve
    are not known, or an open foam's curve ends before the load.
    """
    if over_pressure_pa < 0.0 or load_pa < 0.0:
        raise CradleError("pressures on a foam are 0 Pa or more")
    if foam.closed_cells is None or foam.curve is None:
        return None
    if not foam.closed_cells:
        under = foam.strain_under(load_pa)
        return None if under is None else (under, under)
    pressed = over_pressure_pa + load_pa
    most = boyle_strain(pressed)
    low, high = 0.0, most
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        held = ATMOSPHERE_PA * middle / (1.0 - middle) + skeleton_pa(foam, middle)
        low, high = (middle, high) if held < pressed else (low, middle)
    return high, most


def foam_spring_n_m(foam: Foam, area_m2: float, stress_pa: float) -> float | None:
    """Return the spring of a pad at the surface under a stress: area times the slope of its curve over thickness.

    None where the curve is not known or ends before the stress.
    """
    positive(f'the area of the foam "{foam.name}"', area_m2, "m²")
    if foam.curve is None or foam.strain_under(stress_pa) is None:
        return None
    strain, stress = np.array(foam.curve).T
    k = min(int(np.searchsorted(stress, stress_pa, side="right")), len(stress) - 1)
    slope = (stress[k] - stress[k - 1]) / (strain[k] - strain[k - 1])
    return float(slope * area_m2 / foam.thickness_m)


def sand_spring_n_m(modulus_pa: float, area_m2: float, thickness_m: float) -> float:
    """Return the spring of a bed of sandbags: E A / t, with the modulus somebody measured by loading one."""
    positive("the modulus of a sandbag", modulus_pa, "Pa")
    positive("the area of a sandbag", area_m2, "m²")
    positive("the thickness of a sandbag", thickness_m, "m")
    return modulus_pa * area_m2 / thickness_m


def shares_on_springs(places_m: Array, stiffness_n_m: Array, centre_m: Array) -> Array:
    """Return the share (n,) of its weight that a stiff body puts on each of n springs that only push.

    `places_m` (n, 2) in plan, `centre_m` (2,) under the centre of gravity. The body sinks and tilts as a whole;
    springs it would pull on are left out. `CradleError` where it tips over them.
    """
    places = np.asarray(places_m, dtype=np.float64)
    springs = np.asarray(stiffness_n_m, dtype=np.float64)
    if len(places) != len(springs) or np.any(springs <= 0.0):
        raise CradleError("every bed needs its place and a stiffness above 0")
    about = places - np.asarray(centre_m, dtype=np.float64)
    held = np.ones(len(places), dtype=bool)
    for _ in range(len(places) + 1):
        k = np.where(held, springs, 0.0)
        shape = np.column_stack([np.ones(len(about)), about])
        matrix = shape.T @ (k[:, None] * shape)
        solution, _, rank, _ = np.linalg.lstsq(matrix, np.array([1.0, 0.0, 0.0]), rcond=1e-12)
        if np.abs(matrix @ solution - np.array([1.0, 0.0, 0.0])).max() > 1e-9 or rank == 0:
            break
        force = springs * (shape @ solution)
        keep = force > -1e-12
        if np.array_equal(keep & held, held) and not np.any(~held & (force > 1e-12)):
            return np.asarray(np.where(held, np.maximum(force, 0.0), 0.0))
        held = held & keep if np.any(held & ~keep) else keep
        if not held.any():
            break
    raise CradleError(
        "the body tips: its centre of gravity does not lie over its beds; put a bed out beyond it"
    )
