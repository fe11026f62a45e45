"""The spring of each leg: typed, from its EA, or for wire rope from its diameter."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.legs import Leg

Array = NDArray[np.float64]

WIRE_E_PA = 80e9
WIRE_FILL = 0.785


def wire_rope_ea_n(diameter_m: float) -> float:
    """Return EA of a wire rope, newtons: 80,000 N/mm2 on 0.785 d2 (0027/ND rev 11.2, 5.6.13: read)."""
    return WIRE_E_PA * WIRE_FILL * diameter_m**2


def stiffness(legs: Sequence[Leg], length_m: Array) -> tuple[Array | None, tuple[str, ...]]:
    """Return the spring of each leg (k,), N/m, and what was assumed; None where one is not known."""
    springs: list[float] = []
    said: list[str] = []
    for leg, length in zip(legs, length_m, strict=True):
        for value in (leg.stiffness_n_m, leg.ea_n):
            if value is not None and not (value > 0.0 and math.isfinite(value)):
                raise SlingError(f'leg "{leg.name}": its stiffness must be greater than zero, got {value:g}')
        if leg.stiffness_n_m is not None:
            springs.append(leg.stiffness_n_m)
        elif leg.ea_n is not None:
            springs.append(leg.ea_n / float(length))
        elif leg.kind == "wire rope" and leg.diameter_m is not None:
            springs.append(wire_rope_ea_n(leg.diameter_m) / float(length))
            said.append(
                f'leg "{leg.name}": stiffness of wire rope from its diameter, E 80,000 N/mm² on 0.785 d²'
            )
        else:
            return None, (f'leg "{leg.name}": its stiffness is not known, so no elastic sharing is given',)
    return np.array(springs), tuple(said)
