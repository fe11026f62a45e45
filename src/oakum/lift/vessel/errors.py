"""What is wrong with a vessel, its chart or its motions, said for the person who typed it."""

from __future__ import annotations

from oakum.ground.errors import OakumError


class VesselError(OakumError, ValueError):
    """A vessel, a chart or a table that cannot be; the text says what was expected and what to do."""
