"""What is wrong with a splash-zone question, said for the person who typed it."""

from __future__ import annotations

import math

from oakum.ground.errors import OakumError


class SplashError(OakumError, ValueError):
    """A body, line, tip motion or step that cannot be; the text says what was expected."""


def positive(what: str, value: float, unit: str) -> None:
    """Refuse a number that is not finite and above nothing."""
    if not (math.isfinite(value) and value > 0.0):
        raise SplashError(f"{what} must be more than {_with(0.0, unit)}; got {_with(value, unit)}")


def not_negative(what: str, value: float, unit: str) -> None:
    """Refuse a number that is not finite or is below nothing."""
    if not (math.isfinite(value) and value >= 0.0):
        raise SplashError(f"{what} must be {_with(0.0, unit)} or more; got {_with(value, unit)}")


def _with(value: float, unit: str) -> str:
    return f"{value:g} {unit}".rstrip()
