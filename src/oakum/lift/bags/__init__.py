"""Lifting bags: lift and air at depth, which bags, the rise, the valve, and one bag failing.

`answer` gives the whole `BagAnswer` for a `BagLoad` on a `BagSet`; `propose` chooses bags for a weight. The
functions below them take arrays over draws: pressures and depths in `gas`, motion in `travel`, valve flow in
`valve_m3_s`.
"""

from oakum.lift.bags.air import AirNeed, AirSupply, air_need, cylinder_gives_m3
from oakum.lift.bags.answer import BagAnswer, answer
from oakum.lift.bags.ascent import Ascent, BagLoad, balance_m3
from oakum.lift.bags.compressibility import compressibility, gives_m3
from oakum.lift.bags.errors import BagError
from oakum.lift.bags.failed import FailedBag, failed_bags
from oakum.lift.bags.gas import (
    ATMOSPHERE_PA,
    BAR_PA,
    Column,
    absolute_pa,
    air_density_kg_m3,
    boyle_m3,
    free_air_m3,
    lift_kg_per_m3,
)
from oakum.lift.bags.kinds import TAKEN_AT, Bag, BagKind, BagSet, CrownLine, Eye, TakenAt
from oakum.lift.bags.motion import Path, held_m3, terminal_m_s, travel
from oakum.lift.bags.neutral import net_force_n
from oakum.lift.bags.sizing import Proposal, propose
from oakum.lift.bags.vent import expansion_m3_s, valve_area_m2, valve_m3_s

__all__ = [
    "ATMOSPHERE_PA",
    "BAR_PA",
    "TAKEN_AT",
    "AirNeed",
    "AirSupply",
    "Ascent",
    "Bag",
    "BagAnswer",
    "BagError",
    "BagKind",
    "BagLoad",
    "BagSet",
    "Column",
    "CrownLine",
    "Eye",
    "FailedBag",
    "Path",
    "Proposal",
    "TakenAt",
    "absolute_pa",
    "air_density_kg_m3",
    "air_need",
    "answer",
    "balance_m3",
    "boyle_m3",
    "compressibility",
    "cylinder_gives_m3",
    "expansion_m3_s",
    "failed_bags",
    "free_air_m3",
    "gives_m3",
    "held_m3",
    "lift_kg_per_m3",
    "net_force_n",
    "propose",
    "terminal_m_s",
    "travel",
    "valve_area_m2",
    "valve_m3_s",
]
