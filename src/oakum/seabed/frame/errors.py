"""What is said where a frame cannot be fitted."""

from __future__ import annotations

from oakum.ground.errors import OakumError


class FrameError(OakumError):
    """Control points that settle no frame; the text says which and what to do."""
