"""What is wrong with a sea, said for the person who typed it."""

from __future__ import annotations

import math

from oakum.ground.errors import OakumError


class WaveError(OakumError, ValueError):
    """A sea that cannot be; the text says what was expected."""


def positive(what: str, value: float, unit: str) -> None:
    """Refuse a number that is not finite and above nothing."""
    if not (math.isfinite(value) and value > 0.0):
        raise WaveError(f"{what} must be more than 0 {unit}; got {value:g} {unit}")
