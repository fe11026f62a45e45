"""From the compass to true north and to the north of a map grid. Degrees, clockwise; east positive.

Deviation by iron is not corrected: such a bearing is not used.
"""

from __future__ import annotations

import math


def true_bearing(magnetic_deg: float, declination_deg: float) -> float:
    """Return the bearing from true north, 0 to 360: magnetic plus declination (east positive)."""
    return (magnetic_deg + declination_deg) % 360.0


def grid_bearing(true_deg: float, convergence_deg: float) -> float:
    """Return the bearing from grid north: true less convergence (positive where grid north is east of true north)."""
    return (true_deg - convergence_deg) % 360.0


def bearing_of(dx_m: float, dy_m: float) -> float:
    """Return the direction of a step east and north as a bearing, 0 to 360."""
    return math.degrees(math.atan2(dx_m, dy_m)) % 360.0
