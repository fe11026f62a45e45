"""How hard inclined legs press a load together."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.lift.slings.bounds import Bounds
from oakum.lift.slings.geometry import Geometry

Array = NDArray[np.float64]


def squeeze_n(shape: Geometry, known: Bounds) -> tuple[Array, Array]:
    """Return the push along x and along y (n,), newtons: what a strut across the top of a crate would carry.

    The horizontal parts of the legs pull the attachments towards each other; along each axis the greater of
    the two sums, one for each sense, is taken, and of the two extreme solutions the worse. A sum of absolute
    values is greatest at an end of the range, so nothing between the extremes is worse.
    """
    worst = []
    for axis in (0, 1):
        part = shape.unit[:, :, axis]
        sums = [
            np.maximum(pull.clip(min=0.0).sum(axis=1), -pull.clip(max=0.0).sum(axis=1))
            for pull in (known.low_end * part, known.high_end * part)
        ]
        worst.append(np.maximum(*sums))
    return worst[0], worst[1]
