"""The sums over all terms that every answer is made of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oakum.lift.body.model import SedimentFill, WaterFill
from oakum.lift.weights.drawn import Drawn, Term
from oakum.lift.weights.hold import Held, held_water

Array = NDArray[np.float64]
Dim = float | Array


@dataclass(frozen=True, slots=True)
class Sums:
    """Masses and volumes over the draws (n,), kg and m3. `frame`: names of the parts that are the cradle's frame."""

    drawn: Drawn
    waters: tuple[Held, ...]
    solids: tuple[Term, ...]  # all terms but trapped water
    mass_kg: Array  # solids with saturated sediment, crate and rigging
    volume_m3: Array  # what they displace
    rigging_kg: Array  # in air
    rigging_submerged_kg: Array
    sediment_lost_kg: Array  # runs out with the water
    frame: frozenset[str] = frozenset()

    @property
    def submerged_kg(self) -> Array:
        """Load-cell reading, hanging free under water, with rigging."""
        return self.mass_kg - self.drawn.water_kg_m3 * self.volume_m3

    @property
    def water_clear_kg(self) -> Array:
        """Trapped water on the hook just clear of the surface."""
        return self.drawn.full(total(w.clear_kg for w in self.waters))

    @property
    def frame_submerged_kg(self) -> Array:
        """What the frame adds to the load under water; 0 without one, below 0 where its timber floats."""
        mine = [t for t in self.solids if t.name in self.frame]
        volume = self.drawn.full(total(t.volume_m3 for t in mine))
        return self.drawn.full(total(t.mass_kg for t in mine)) - self.drawn.water_kg_m3 * volume

    @property
    def frame_clear_kg(self) -> Array:
        """What the frame adds to the load just clear of the surface, the water in its tubes with it."""
        solids = total(t.mass_kg for t in self.solids if t.name in self.frame)
        return self.drawn.full(solids + total(w.clear_kg for w in self.waters if w.term.name in self.frame))

    @property
    def water_left_kg(self) -> Array:
        """Trapped water that no hole lets out."""
        return self.drawn.full(total(w.left_kg for w in self.waters))


def total(values: Iterable[Dim]) -> Dim:
    """Return the sum, 0 of nothing."""
    result: Dim = 0.0
    for value in values:
        result = result + value
    return result


def summed(drawn: Drawn, frame: frozenset[str] = frozenset()) -> Sums:
    """Return the sums of a drawn body; `frame`: names of the parts that are the cradle's."""
    solids = tuple(t for t in drawn.terms if not isinstance(t.fill, WaterFill))
    rigging = [t for t in solids if t.role == "rigging"]
    rig_mass = drawn.full(total(t.mass_kg for t in rigging))
    rig_volume = drawn.full(total(t.volume_m3 for t in rigging))
    lost: list[Dim] = []
    for term in solids:
        if isinstance(term.fill, SedimentFill) and term.fill.stays is not None:
            stays = term.fill.stays
            share = stays.best if stays.is_exact else drawn.draws.of(stays)
            lost.append(term.mass_kg * (1.0 - share))
    return Sums(
        drawn=drawn,
        waters=tuple(held_water(drawn, t) for t in drawn.terms if isinstance(t.fill, WaterFill)),
        solids=solids,
        mass_kg=drawn.full(total(t.mass_kg for t in solids)),
        volume_m3=drawn.full(total(t.volume_m3 for t in solids)),
        rigging_kg=rig_mass,
        rigging_submerged_kg=rig_mass - drawn.water_kg_m3 * rig_volume,
        sediment_lost_kg=drawn.full(total(lost)),
        frame=frame,
    )


def without_frame(sums: Sums) -> Sums:
    """Return the sums of the find alone, in the same draws."""
    if not sums.frame:
        return sums
    drawn = sums.drawn
    parts = tuple(p for p in drawn.body.parts if p.name not in sums.frame)
    terms = tuple(t for t in drawn.terms if t.name not in sums.frame)
    return summed(replace(drawn, body=replace(drawn.body, parts=parts), terms=terms))
