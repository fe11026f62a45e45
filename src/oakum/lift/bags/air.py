"""Where the air comes from and whether there is enough of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of
from oakum.lift.bags.compressibility import gives_m3
from oakum.lift.bags.errors import BagError, not_negative, positive
from oakum.lift.bags.gas import ATMOSPHERE_PA, BAR_PA, Column, absolute_pa, free_air_m3
from oakum.lift.bags.kinds import BagSet

Array = NDArray[np.float64]

SupplyFor = Literal["bags only", "a diver's breathing supply"]


@dataclass(frozen=True, slots=True)
class AirSupply:
    """Cylinders of one size for the bags.

    `volume_m3` is the water volume of one cylinder, pressures are as the gauge shows them (over the
    atmosphere), `reserve_pa` what must stay in it, `count` how many there are. `serves` says whose air it is.
    `loss_share` is the share of the air let out that never reaches a bag; `fills` how often all bags are
    filled, the trial lift counted. None is not known. Raises `BagError`.
    """

    volume_m3: float
    fill_pa: float
    count: int
    reserve_pa: float | None
    serves: SupplyFor | None
    loss_share: float | None = None
    fills: int | None = None

    def __post_init__(self) -> None:
        positive("the water volume of a cylinder", self.volume_m3, "m³")
        positive("the filling pressure of a cylinder", self.fill_pa, "Pa")
        if self.fill_pa > 50e6:
            raise BagError(
                f"a filling pressure of {self.fill_pa / BAR_PA:,.0f} bar is beyond any diving cylinder; check the unit"
            )
        if self.count < 1:
            raise BagError(f"the number of cylinders must be at least 1, got {self.count}")
        if self.reserve_pa is not None:
            not_negative("the reserve pressure", self.reserve_pa, "Pa")
            if self.reserve_pa >= self.fill_pa:
                raise BagError("the reserve must be below the filling pressure of the cylinder")
        if self.loss_share is not None and not 0.0 <= self.loss_share < 1.0:
            raise BagError(f"the share of air lost must lie between 0 and 1, got {self.loss_share:g}")
        if self.fills is not None and self.fills < 1:
            raise BagError(f"the bags are filled at least once, got {self.fills}")


@dataclass(frozen=True, slots=True)
class AirNeed:
    """Free air for the bags, and what the cylinders give at that depth.

    `likely_atm_m3` and `likely_bar_m3`: for the likely load in balance, one fill, at 1 atmosphere and at
    1 bar. `needed_bar_m3`: all bags full, every fill, losses counted. Of each cylinder `given_bar_m3` comes
    out at that depth, `reserve_bar_m3` is kept as reserve, and `below_ambient_bar_m3` cannot come out at all
    because the water presses as much; the greater of the two stays. `lost_to_real_air` is the share that real air
    gives less than pressure times volume. None where it needs what is not known.
    """

    depth_m: float
    likely_atm_m3: Spread
    likely_bar_m3: Spread
    full_bar_m3: float
    needed_bar_m3: float
    given_bar_m3: float | None
    reserve_bar_m3: float | None
    below_ambient_bar_m3: float | None
    lost_to_real_air: float | None
    at_hand_bar_m3: float | None
    cylinders_needed: int | None
    objections: tuple[str, ...]


def cylinder_gives_m3(supply: AirSupply, depth_m: float, column: Column) -> float:
    """Return what one cylinder gives at a depth, m3 of free air at 1 bar; 0 where it cannot flow."""
    full, stop = _pressures(supply, depth_m, column)
    return gives_m3(supply.volume_m3, full, stop)


def air_need(
    bags: BagSet,
    balance_m3: Array,
    supply: AirSupply | None,
    column: Column,
    weights: Array | None = None,
) -> AirNeed:
    """Return the air for a set of bags; `balance_m3` (n,) is the air at depth that balances each draw."""
    depth = bags.depth_m
    full = float(free_air_m3(bags.full_m3(column).sum(), depth, column, BAR_PA))
    atm = spread_of(free_air_m3(balance_m3, depth, column, ATMOSPHERE_PA), "m3", weights)
    bar = spread_of(free_air_m3(balance_m3, depth, column, BAR_PA), "m3", weights)
    if supply is None:
        said = ("not known where the air for the bags comes from",)
        return AirNeed(depth, atm, bar, full, full, None, None, None, None, None, None, said)
    needed = full * (supply.fills or 1) / (1.0 - (supply.loss_share or 0.0))
    highest, stop = _pressures(supply, depth, column)
    given = cylinder_gives_m3(supply, depth, column)
    ideal = supply.volume_m3 * max(highest - stop, 0.0) / BAR_PA
    return AirNeed(
        depth_m=depth,
        likely_atm_m3=atm,
        likely_bar_m3=bar,
        full_bar_m3=full,
        needed_bar_m3=needed,
        given_bar_m3=given,
        reserve_bar_m3=supply.volume_m3 * (supply.reserve_pa or 0.0) / BAR_PA,
        below_ambient_bar_m3=supply.volume_m3 * float(absolute_pa(depth, column)) / BAR_PA,
        lost_to_real_air=1.0 - given / ideal if ideal > 0.0 else None,
        at_hand_bar_m3=given * supply.count,
        cylinders_needed=ceil(needed / given - 1e-9) if given > 0.0 else None,
        objections=tuple(_objections(bags, supply, column, given, needed)),
    )


def _pressures(supply: AirSupply, depth_m: float, column: Column) -> tuple[float, float]:
    """Return the absolute pressure of a full cylinder, and where it stops: reserve or ambient."""
    reserve = (supply.reserve_pa or 0.0) + column.air_pressure_pa
    return supply.fill_pa + column.air_pressure_pa, max(reserve, float(absolute_pa(depth_m, column)))


def _objections(bags: BagSet, supply: AirSupply, column: Column, given: float, needed: float) -> list[str]:
    found = []
    if supply.serves is None:
        found.append("not known whether the air for the bags is anybody's breathing supply")
    elif supply.serves != "bags only":
        found.append(
            "the air for the bags comes from a diver's breathing supply: never fill a bag from it; "
            "bring cylinders for the bags alone"
        )
    for value, what in (
        (supply.reserve_pa, "what must stay in the cylinders"),
        (supply.loss_share, "how much air is lost in filling"),
        (supply.fills, "how often the bags are filled, the trial lift counted"),
    ):
        if value is None:
            found.append(f"not known {what}")
    at_hand = given * supply.count
    if given <= 0.0:
        found.append(
            f"at {bags.depth_m:g} m the water presses as much as these cylinders: nothing comes out of them"
        )
    elif at_hand < needed:
        share = at_hand / needed
        found.append(
            f"the bags are deeper than their air allows: full at {bags.depth_m:g} m they need "
            f"{1000 * needed:,.0f} l of free air at 1 bar, the cylinders give {1000 * at_hand:,.0f} l there "
            f"({100 * share:.0f} %); bring {ceil(needed / given - 1e-9)} such cylinders"
        )
    return found
