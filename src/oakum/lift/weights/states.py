"""The five weight states, from the seabed to the deck, as load-cell readings."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread
from oakum.lift.weights.report import FrameShare, StateWeight
from oakum.lift.weights.sums import Sums

Array = NDArray[np.float64]
Dim = float | Array

TITLES = {
    "seabed": "breaking out of the seabed",
    "submerged": "hanging free under water",
    "clear": "just clear of the surface",
    "drained": "hanging, drained",
    "deck": "on deck",
}


def state_loads(sums: Sums, breakout_kg: Dim | None, overburden_kg: Dim) -> dict[str, Array]:
    """Return the load of every state over the draws (n,), kg.

    Seabed: submerged weight, overburden and the breakout bound (none where the bed allows no bound).
    Submerged: mass less the water displaced; trapped water weighs nothing there. Clear: everything, trapped
    water and saturated sediment included. Drained: what runs out has run out. Deck: drained, without rigging.
    """
    full = sums.drawn.full
    drained = sums.mass_kg - sums.sediment_lost_kg + sums.water_left_kg
    return {
        "seabed": sums.submerged_kg + full(overburden_kg) + full(0.0 if breakout_kg is None else breakout_kg),
        "submerged": sums.submerged_kg,
        "clear": sums.mass_kg + sums.water_clear_kg,
        "drained": drained,
        "deck": drained - sums.rigging_kg,
    }


def states(
    loads: dict[str, Array],
    spread: Callable[[Array], Spread],
    *,
    has_breakout: bool,
    frame: FrameShare | None = None,
) -> tuple[StateWeight, ...]:
    """Return the states with what each means; `spread` sums an array up. `frame`: how much of them it is."""
    seabed = (
        "an upper bound, to be dug away and never to be pulled against: submerged weight, overburden and "
        "what the clay may hold back at once"
        if has_breakout
        else "submerged weight and overburden only: what the bed holds back is not known and comes on top "
        "until it is dug away"
    )
    explanations = {
        "seabed": seabed,
        "submerged": "the mass less the mass of the water it displaces; trapped water weighs nothing here",
        "clear": "the whole mass, wood with its pores full, with trapped water, sediment, crate and rigging: "
        "the greatest load on the hook in still water",
        "drained": "after trapped water has run out of its holes; what no hole lets out, and the sediment "
        "that stays, still hangs there",
        "deck": "what the deck carries: as drained, without the rigging; it goes on dripping",
    }
    if frame is not None:
        for key, part in (("submerged", frame.submerged_kg), ("clear", frame.clear_kg)):
            explanations[key] += f"; of it the frame of the cradle: {part.words()}"
    return tuple(StateWeight(key, TITLES[key], spread(loads[key]), explanations[key]) for key in TITLES)
