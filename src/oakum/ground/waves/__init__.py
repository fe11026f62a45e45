"""Waves: how long they are, how their motion dies away with depth, how a sea is spread over periods, random seas.

`wave_number_rad_m` solves the dispersion relation, `Jonswap` is the spectrum, `components` cuts it into pieces
and `gaussian_coefficients` makes seas of them from a passed generator. Linear theory throughout.
"""

from oakum.ground.waves.dispersion import (
    decay,
    decay_slope_per_m,
    deep_length_m,
    wave_length_m,
    wave_number_rad_m,
)
from oakum.ground.waves.errors import WaveError
from oakum.ground.waves.random_sea import (
    Components,
    Sea,
    components,
    gaussian_coefficients,
    regular,
    regular_coefficients,
)
from oakum.ground.waves.spectrum import Jonswap, peakedness, tp_from_tz_s, tz_over_tp
from oakum.ground.waves.statistics import height_odds, most_probable_largest
from oakum.ground.waves.steepness import (
    LONGEST_TZ_S,
    check_sea,
    shortest_tz_s,
    steepest_hs_m,
)

__all__ = [
    "LONGEST_TZ_S",
    "Components",
    "Jonswap",
    "Sea",
    "WaveError",
    "check_sea",
    "components",
    "decay",
    "decay_slope_per_m",
    "deep_length_m",
    "gaussian_coefficients",
    "height_odds",
    "most_probable_largest",
    "peakedness",
    "regular",
    "regular_coefficients",
    "shortest_tz_s",
    "steepest_hs_m",
    "tp_from_tz_s",
    "tz_over_tp",
    "wave_length_m",
    "wave_number_rad_m",
]
