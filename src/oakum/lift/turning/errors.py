"""What is wrong with a turning, said for the person who typed it."""

from __future__ import annotations

from oakum.ground.errors import OakumError


class TurningError(OakumError, ValueError):
    """A section, edge, pull or step that cannot be; the text says what was expected."""
