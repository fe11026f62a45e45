"""What is wrong with a question about a plan, said to the person who asked."""

from __future__ import annotations

from oakum.ground.errors import OakumError


class RaisingError(OakumError, ValueError):
    """A plan, a log or a comparison that cannot be made; the text says what was expected."""
