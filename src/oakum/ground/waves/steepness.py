"""Which wave height a period can carry before the greatest waves break."""

from __future__ import annotations

from math import pi, sqrt, tanh

from oakum.ground.gravity import G_M_S2
from oakum.ground.waves.dispersion import wave_length_m
from oakum.ground.waves.errors import WaveError, positive

LONGEST_TZ_S = 13.0
"""Upper end of the periods scanned (DNV-RP-H103, 4.3; memory, verify)."""

_STEEP = 8.9  # Tz >= 8.9 sqrt(Hs/g): a greatest wave of 1.8 Hs is a seventh of its length (read, DNV-RP-H103 4.3.2)
_GREATEST = 1.8
_MICHE = 0.142  # H <= 0.142 L tanh(k h), Miche 1944 (memory, verify)


def shortest_tz_s(hs_m: float, g_m_s2: float = G_M_S2) -> float:
    """Return the shortest mean period a significant height can have in deep water, s: 8.9 sqrt(Hs/g)."""
    return _STEEP * sqrt(hs_m / g_m_s2)


def steepest_hs_m(tz_s: float, depth_m: float | None = None, g_m_s2: float = G_M_S2) -> float:
    """Return the greatest significant height a mean period can carry, m.

    g (Tz / 8.9)^2 in deep water; in water of a depth also 1.8 Hs <= 0.142 L tanh(k h), the lesser.
    """
    deep = g_m_s2 * (tz_s / _STEEP) ** 2
    if depth_m is None:
        return deep
    length = float(wave_length_m(tz_s, depth_m, g_m_s2))
    return min(deep, _MICHE * length * tanh(2.0 * pi * depth_m / length) / _GREATEST)


def check_sea(hs_m: float, tz_s: float, depth_m: float | None = None, g_m_s2: float = G_M_S2) -> None:
    """Refuse a sea that cannot be: `WaveError` says which height or period would."""
    positive("the significant wave height Hs", hs_m, "m")
    positive("the mean period Tz", tz_s, "s")
    if depth_m is not None:
        positive("the depth of the water", depth_m, "m")
    steepest = steepest_hs_m(tz_s, depth_m, g_m_s2)
    if hs_m <= steepest * (1.0 + 1e-9):
        return
    shortest = shortest_tz_s(hs_m, g_m_s2)
    where = "" if depth_m is None else f" in {depth_m:g} m of water"
    at_most = f"with Tz {tz_s:g} s{where} Hs is at most {steepest:.2f} m"
    if tz_s < shortest:
        raise WaveError(
            f"Tz {tz_s:g} s is impossible for Hs {hs_m:g} m: the greatest waves would break. For this Hs, Tz is "
            f"at least {shortest:.1f} s; {at_most}. Check whether the period is Tz or Tp"
        )
    raise WaveError(f"Hs {hs_m:g} m is impossible{where}: the greatest waves would break; {at_most}")
