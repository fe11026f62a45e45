"""The one error of this package: a rig that cannot be, said to the person who drew it."""

from __future__ import annotations

from oakum.ground.errors import OakumError


class SlingError(OakumError, ValueError):
    """A rig for which no forces can be given: the message says which leg or point and what to do."""
