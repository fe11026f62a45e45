"""The one error of this package: a sentence for the person who gave the shape."""

from __future__ import annotations

from oakum.ground.errors import OakumError


class SolidError(OakumError, ValueError):
    """A shape that cannot be: the message says what was expected and what to do."""
