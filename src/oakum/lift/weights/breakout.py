"""What the bed holds back: an upper bound that is to be dug away, never a load to overcome by pulling."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Draws, exact, uniform
from oakum.ground.gravity import G_M_S2
from oakum.lift.body.model import Bed
from oakum.lift.body.stuff import drawn

Array = NDArray[np.float64]
Dim = float | Array

BEARING = (6.0, 9.0)
"""Range of the bearing factor N_c of an embedded base in clay (memory, verify)."""


def undrained_breakout_n(
    shear_strength_pa: Dim, base_m2: Dim, side_m2: Dim = 0.0, adhesion: Dim = 0.0, bearing: Dim = 9.0
) -> Dim:
    """Return the immediate breakout force in clay, N: N_c s_u A_base + alpha s_u A_side.

    Undrained, before water has had time to flow in; it falls with the time of a sustained pull. `adhesion` is
    alpha, 0 to 1; `bearing` is N_c, 6 to 9. Good to about half (read in the abstract of NCEL TR R-755, 1972).
    """
    return shear_strength_pa * (bearing * base_m2 + adhesion * side_m2)


def liu_ratio(pull_over_embedded: Dim) -> Dim:
    """Return F/F_r = 1.5 (T/T_m)^-0.07: breakout force over static soil resistance by how long one pulls.

    T is the time of pulling, T_m the time since the body sank in. Valid for 0.001 < T/T_m < 10; ValueError
    outside. Source: Liu, NCEL TR R-635 (1969), read in its abstract.
    """
    ratio = np.asarray(pull_over_embedded, dtype=np.float64)
    if np.any(ratio < 1e-3) or np.any(ratio > 10.0):
        raise ValueError("the ratio of Liu holds for pulling times of 0.001 to 10 times the time embedded")
    found = 1.5 * ratio**-0.07
    return float(found) if found.ndim == 0 else found


def overburden_kg(bed: Bed | None, draws: Draws, water_kg_m3: Dim) -> Dim:
    """Return the submerged mass of the layer on top of the body, kg; 0 where none is described."""
    if (
        bed is None
        or bed.overburden_m is None
        or bed.overburden_area_m2 is None
        or bed.overburden_kg_m3 is None
    ):
        return 0.0
    volume = drawn(draws, bed.overburden_m) * drawn(draws, bed.overburden_area_m2)
    return volume * (drawn(draws, bed.overburden_kg_m3) - water_kg_m3)


def breakout_kg(bed: Bed | None, draws: Draws) -> tuple[Dim | None, tuple[str, ...]]:
    """Return the bound as a load-cell reading, kg (None: no bound), and what could not be answered."""
    if bed is None:
        return None, (
            "the bed is not described: breakout is not computed; dig and undercut until nothing holds",
        )
    if bed.kind != "clay":
        held = (
            "little if it is lifted slowly and water can follow"
            if bed.kind in ("sand", "gravel")
            else "not known"
        )
        return None, (f"breakout from {bed.kind} is not computed ({held}); undercut before lifting",)
    missing = [
        name
        for name, value in (
            ("shear_strength", bed.shear_strength_pa),
            ("base_area", bed.base_area_m2),
            ("side_area", bed.side_area_m2),
            ("adhesion", bed.adhesion),
        )
        if value is None
    ]
    if missing or bed.shear_strength_pa is None or bed.base_area_m2 is None:
        return None, (f"breakout from clay is not computed: {', '.join(missing)} of the bed not known",)
    side = drawn(draws, bed.side_area_m2 or exact(0.0))
    adhesion = drawn(draws, bed.adhesion or exact(0.0))
    bearing = draws.of(uniform(*BEARING, "bearing factor of the clay"))
    strength = drawn(draws, bed.shear_strength_pa)
    force = undrained_breakout_n(strength, drawn(draws, bed.base_area_m2), side, adhesion, bearing)
    factor, questions = _pull_factor(bed, draws)
    return force * factor / G_M_S2, questions


def _pull_factor(bed: Bed, draws: Draws) -> tuple[Dim, tuple[str, ...]]:
    if bed.pull_s is None or bed.embedded_s is None:
        return 1.0, ()
    ratio = drawn(draws, bed.pull_s) / drawn(draws, bed.embedded_s)
    low, high = float(np.min(ratio)), float(np.max(ratio))
    if low < 1e-3 or high > 10.0:
        # Below the range the ratio only grows: its value at the end is no bound, so none is claimed.
        return 2.5, (
            f"pull time over embedded time ({low:.2g} to {high:.2g}) lies outside 0.001 to 10, where the "
            "time effect was measured: 2.5 times the static resistance was taken",
        )
    return liu_ratio(ratio), ()
