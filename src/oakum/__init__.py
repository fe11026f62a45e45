"""Oakum: from the seabed to the museum."""

__version__ = "0.1.0"
