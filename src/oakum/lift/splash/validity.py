"""Where the simplified method holds, and why it does not elsewhere."""

from __future__ import annotations

import numpy as np

from oakum.ground.waves import LONGEST_TZ_S, shortest_tz_s, steepest_hs_m, wave_length_m
from oakum.lift.splash.body import SplashBody
from oakum.lift.splash.errors import SplashError
from oakum.lift.splash.forces import Water
from oakum.lift.splash.line import Line
from oakum.lift.splash.rules import MOST_PERIOD_RATIO, SMALL_AGAINST_WAVE
from oakum.lift.splash.tip import TipMotion

TIP_UNKNOWN = "the motion of the boom head in this sea is not known: give a response table, or what was seen"
LINE_UNKNOWN = (
    "the stiffness of the hoist line is not known: no snap can be given and resonance cannot be ruled out"
)


def periods_s(hs_m: float, water: Water) -> tuple[float, ...]:
    """Return the periods to scan for a height: the shortest it can have, then whole seconds up to 13 s.

    Raises `SplashError` where the sea is too high for any of them.
    """
    shortest = shortest_tz_s(hs_m, water.g_m_s2)
    if shortest > LONGEST_TZ_S:
        raise SplashError(
            f"Hs {hs_m:g} m has no period up to {LONGEST_TZ_S:g} s: the method ends with seas of "
            f"{steepest_hs_m(LONGEST_TZ_S, None, water.g_m_s2):.1f} m"
        )
    whole = np.arange(np.floor(shortest) + 1.0, LONGEST_TZ_S + 0.5)
    found = (shortest, *(float(t) for t in whole))
    if water.depth_m is None:
        return found
    kept = tuple(t for t in found if hs_m <= steepest_hs_m(t, water.depth_m, water.g_m_s2) * (1 + 1e-9))
    if not kept:
        raise SplashError(
            f"Hs {hs_m:g} m is impossible in {water.depth_m:g} m of water: the greatest waves would break"
        )
    return kept


def why_not(
    body: SplashBody, line: Line | None, water: Water, tz_s: float, tip: TipMotion | None
) -> tuple[str, ...]:
    """Return why the simplified method does not hold at a mean period; empty where it does."""
    said = []
    if tz_s > LONGEST_TZ_S + 1e-9:
        said.append(f"Tz {tz_s:g} s is beyond {LONGEST_TZ_S:g} s, where its periods end")
    length = float(wave_length_m(tz_s, water.depth_m, water.g_m_s2))
    if body.longest_m > SMALL_AGAINST_WAVE * length:
        said.append(
            f"the body is {body.longest_m:.2g} m long, more than a fifth of the wave of {length:.2g} m "
            f"at Tz {tz_s:.3g} s: it is not small against the wave"
        )
    if tip is None:
        said.append(TIP_UNKNOWN)
    else:
        try:
            tip.amplitudes(np.array([0.1]), tz_s)
        except SplashError as problem:
            said.append(str(problem))
    if line is None:
        said.append(LINE_UNKNOWN)
        return tuple(said)
    moving = body.high(body.mass_kg) + water.density_kg_m3 * (
        body.added_m3 + sum(h.plan_m2 * h.height_m for h in body.hollows)
    )
    own = float(line.period_s(moving))
    if own > MOST_PERIOD_RATIO * tz_s:
        said.append(
            f"the load bobs on its line in {own:.2g} s, more than 0.3 of Tz {tz_s:.3g} s: the line "
            "adds to the motion"
        )
    return tuple(said)
