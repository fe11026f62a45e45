"""How high single waves of a sea get: the law of Rayleigh for a narrow band in deep water."""

from __future__ import annotations

from math import log, sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.waves.errors import WaveError


def height_odds(height_over_hs: ArrayLike) -> NDArray[np.float64]:
    """Return the share of waves higher than a multiple of Hs: exp(-2 (H/Hs)^2).

    Rayleigh's law after Longuet-Higgins, On the statistical distribution of the heights of sea waves, Journal
    of Marine Research 11 (1952) (memory, verify).

    >>> round(float(height_odds(1.0)), 4)
    0.1353
    """
    return np.asarray(np.exp(-2.0 * np.square(np.asarray(height_over_hs, dtype=np.float64))))


def most_probable_largest(waves: float) -> float:
    """Return the most probable height of the greatest of a number of waves, over Hs: sqrt(ln N / 2).

    >>> round(most_probable_largest(1000), 3)
    1.858
    """
    if not waves > 1.0:
        raise WaveError(f"the greatest of a number of waves needs more than one wave; got {waves:g}")
    return sqrt(log(waves) / 2.0)
