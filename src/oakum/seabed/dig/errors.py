"""What the data of a dig cannot support, said in a sentence for the person at the slate."""

from __future__ import annotations

from oakum.ground.errors import OakumError


class DigError(OakumError, ValueError):
    """Something about a square, its levels or its hours that cannot be meant or cannot be computed."""
