"""Waterlogged wood: density from its condition.

Fully saturated wood is cell wall and water, nothing else. With the basic density R (oven-dry mass over wet
volume) the cell wall takes the share R / rho_cw of the volume and water the rest. Wood that still holds air,
recent wood above all, is lighter than this and may float; salts and iron in the wood make it heavier.

Definitions of basic density and greatest water content: review of methods for waterlogged archaeological
wood, Heritage Science 8:83 (2020), table 2 (read). The formulas follow from them (own calculation).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Estimate, triangular
from oakum.ground.materials.table import MaterialError

Density = float | NDArray[np.float64]
CELL_WALL_KG_M3 = 1500.0


@dataclass(frozen=True, slots=True)
class WoodClass:
    """A condition class of waterlogged oak: Umax above `from_percent` up to `to_percent`."""

    name: str
    from_percent: float
    to_percent: float
    words: str


# De Jong 1977 as widely quoted (memory, verify). McConnachie, Eaton and Jones, e-Preservation Science 5
# (2008) 29-35, found the limits different for other woods and wide ranges within one timber (read).
OAK_CLASSES = (
    WoodClass("III", 0.0, 185.0, "little degraded"),
    WoodClass("II", 185.0, 400.0, "degraded, with a sound core"),
    WoodClass("I", 400.0, float("inf"), "badly degraded"),
)


def cell_wall() -> Estimate:
    """Return the density of the cell wall, kg/m3: 1500, in the literature 1460 to 1530 (memory, verify)."""
    return triangular(1460.0, CELL_WALL_KG_M3, 1530.0, "density of the cell wall")


def saturated_density(basic: Density, water: Density, cell_wall: Density = CELL_WALL_KG_M3) -> Density:
    """Return the density of wood whose pores are full: R + (1 - R / rho_cw) rho_w, all in kg/m3.

    `basic` lies above 0 and below `cell_wall`; `water` is that in the pores, 900 to 1300 kg/m3. Floats or
    arrays that broadcast.
    """
    _check(basic, water, cell_wall)
    return basic + (1.0 - basic / cell_wall) * water


def submerged_density(basic: Density, water: Density, cell_wall: Density = CELL_WALL_KG_M3) -> Density:
    """Return what a cubic metre of saturated wood weighs in the same water: R (1 - rho_w / rho_cw), kg/m3."""
    _check(basic, water, cell_wall)
    return basic * (1.0 - water / cell_wall)


def umax_from_basic(
    basic: Density, pore_water: Density = 1000.0, cell_wall: Density = CELL_WALL_KG_M3
) -> Density:
    """Return the greatest water content, percent of the dry mass: 100 rho_w (1 / R - 1 / rho_cw)."""
    _check(basic, pore_water, cell_wall)
    return 100.0 * pore_water * (1.0 / basic - 1.0 / cell_wall)


def basic_from_umax(
    umax_percent: Density, pore_water: Density = 1000.0, cell_wall: Density = CELL_WALL_KG_M3
) -> Density:
    """Return the basic density, kg/m3, from the greatest water content in percent of the dry mass.

    1 / (U / (100 rho_w) + 1 / rho_cw). `umax_percent` lies between 20 and 2000: less is no waterlogged wood,
    and a ratio taken for percent. `pore_water` is the water of the laboratory sample, fresh as a rule; salt
    left in the dry sample makes Umax read too low.
    """
    if np.any(np.less(umax_percent, 20.0)) or np.any(np.greater(umax_percent, 2000.0)):
        raise MaterialError(
            "Umax must lie between 20 and 2000 % of the dry mass; 1.5 times the dry mass is written 150 %"
        )
    return 1.0 / (umax_percent / (100.0 * pore_water) + 1.0 / cell_wall)


def times_air_dry(basic: Density, water: Density, moisture: float = 0.12) -> Density:
    """Return how many times its own air-dry mass a piece weighs when saturated, out of the water.

    `moisture` is the water content of the air-dry wood, a ratio to the oven-dry mass (0.05 to 0.3). The rule
    "half as much again" is wrong by this: 1.9 for sound oak, 4 to 8 for degraded oak.
    """
    if not 0.05 <= moisture <= 0.3:
        raise MaterialError(f"air-dry wood holds 5 to 30 % of water, got {100 * moisture:g} %")
    return saturated_density(basic, water) / (basic * (1.0 + moisture))


def oak_class(umax_percent: float) -> WoodClass:
    """Return the condition class of waterlogged oak. For oak alone: other woods have other limits."""
    basic_from_umax(umax_percent)  # refuses what cannot be
    return next(c for c in OAK_CLASSES if umax_percent <= c.to_percent)


def _check(basic: Density, water: Density, cell_wall: Density) -> None:
    if np.any(np.less_equal(basic, 0.0)) or np.any(np.greater_equal(basic, cell_wall)):
        raise MaterialError(
            "the basic density of wood lies between 0 and that of its cell wall, about 1500 kg/m3: "
            "it is the oven-dry mass over the wet volume"
        )
    if np.any(np.less(water, 900.0)) or np.any(np.greater(water, 1300.0)):
        raise MaterialError("the density of water must lie between 900 and 1300 kg/m3")
