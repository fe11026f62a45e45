"""What is wrong with a splash-zone question, said for the person who typed it."""

from __future__ import annotations

import math

from oakum.ground.errors import OakumError


class SplashError(OakumError, ValueError):
    """A body, line, tip motion or step that cannot be; the text says what was expected."""


def positive(what: str, value: float, unit: str) -> None:
    """Refuse a number that is not finite and above nothing."""
    if not (math.isfinite(value) and value > 0.0):
        raise SplashError(f"{what} must be more than 0 {unit}; got {value:g} {unit}")


def not_negative(what: str, value: float, unit: str) -> None:
    """Refuse a number that is not finite or is below nothing."""
    if not (math.isfinite(value) and value >= 0.0):
        raise SplashError(f"{what} must be 0 {unit} or more; got {value:g} {unit}")
