"""What is wrong with a cradle, a beam, a strap or a bed, said for the person who typed it."""

from __future__ import annotations

import math

from oakum.ground.errors import OakumError


class CradleError(OakumError, ValueError):
    """A part of a cradle that cannot be; the text says what was expected and what to do."""


def positive(what: str, value: float, unit: str) -> None:
    """Refuse a number that is not finite and above nothing."""
    if not (math.isfinite(value) and value > 0.0):
        raise CradleError(f"{what} must be more than 0 {unit}; got {value:g} {unit}")
