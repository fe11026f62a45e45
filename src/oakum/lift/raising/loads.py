"""The draws of a weighing as slings, bags and turnings want them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.bags import BagLoad
from oakum.lift.slings import Load
from oakum.lift.weights.conditioning import Use
from oakum.lift.weights.hanging import points
from oakum.lift.weights.sums import Sums

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Draw:
    """Loads over the draws (n,) kg and the points they hang from (n, 3) m, rigging left out.

    `rigging_water_kg`, `rigging_air_kg` (n,): what hangs between hook and load, None where neither body nor
    rig file says.
    """

    water_kg: Array
    air_kg: Array
    water_m: Array
    air_m: Array
    rigging_water_kg: Array | None
    rigging_air_kg: Array | None
    weights: Array | None

    @property
    def hook_water_kg(self) -> Array:
        """Hook load hanging free under water, rigging with it where known."""
        return self.water_kg if self.rigging_water_kg is None else self.water_kg + self.rigging_water_kg

    @property
    def hook_air_kg(self) -> Array:
        """Hook load just clear of the surface, rigging with it where known."""
        return self.air_kg if self.rigging_air_kg is None else self.air_kg + self.rigging_air_kg

    def load(self, state: str) -> Load:
        """Return what the slings carry, "under water" or "in air"."""
        under = state == "under water"
        weight = self.water_kg if under else self.air_kg
        return Load(state, weight * G_M_S2, self.water_m if under else self.air_m, self.weights)

    def first(self, most: int) -> Draw:
        """Return the first draws only."""
        cut = slice(0, most)
        return Draw(
            self.water_kg[cut],
            self.air_kg[cut],
            self.water_m[cut],
            self.air_m[cut],
            None if self.rigging_water_kg is None else self.rigging_water_kg[cut],
            None if self.rigging_air_kg is None else self.rigging_air_kg[cut],
            None if self.weights is None else self.weights[cut],
        )


def drawn_loads(sums: Sums, use: Use, rigging_kg: float | None) -> Draw:
    """Return the loads of summed draws under one use of them.

    Rigging is taken from the body's own parts; where it has none, `rigging_kg` of the rig file; where both
    say, the greater.
    """
    found = points(sums)
    extra = use.extra_kg if use.extra_kg is not None else 0.0
    water = sums.submerged_kg - sums.rigging_submerged_kg + extra
    air = sums.mass_kg + sums.water_clear_kg - sums.rigging_kg + extra
    has_own = any(t.role == "rigging" for t in sums.solids)
    rig_water, rig_air = (
        _rigging(own, has_own, rigging_kg) for own in (sums.rigging_submerged_kg, sums.rigging_kg)
    )
    return Draw(water, air, found.hanging, found.gravity_in_air, rig_water, rig_air, use.weights)


def _rigging(own_kg: Array, has_own: bool, typed_kg: float | None) -> Array | None:
    if not has_own:
        return None if typed_kg is None else np.full(len(own_kg), typed_kg)
    return own_kg if typed_kg is None else np.maximum(own_kg, typed_kg)


def bag_load(draw: Draw, added_kg: float | None) -> BagLoad:
    """Return the load of the bags: what hangs under water with its rigging, and all that moves with it."""
    moving = draw.hook_air_kg + (added_kg or 0.0)
    return BagLoad(draw.hook_water_kg, moving, added_kg is not None, draw.weights, draw.water_m[:, :2])
