"""Geometries as well-known binary (ISO 13249-3, little endian) in the GeoPackage's own header."""

from __future__ import annotations

import math
import struct
from collections.abc import Sequence

Place = Sequence[float]
UNDEFINED_CARTESIAN = -1
"""The srs_id of coordinates in an undefined plane (OGC 12-128)."""


def point(place: Place) -> bytes:
    """A point with its height."""
    return _headed(struct.pack("<BI3d", 1, 1001, *place), None)


def line(places: Sequence[Place]) -> bytes:
    """A line through places with their heights."""
    body = b"".join(struct.pack("<3d", *place) for place in places)
    return _headed(struct.pack("<BII", 1, 1002, len(places)) + body, places)


def flat_line(places: Sequence[Place]) -> bytes:
    """A line without heights."""
    body = b"".join(struct.pack("<2d", place[0], place[1]) for place in places)
    return _headed(struct.pack("<BII", 1, 2, len(places)) + body, places)


def polygon(ring: Sequence[Place]) -> bytes:
    """An area without heights; the ring is closed here."""
    closed = [*ring, ring[0]]
    body = b"".join(struct.pack("<2d", place[0], place[1]) for place in closed)
    return _headed(struct.pack("<BIII", 1, 3, 1, len(closed)) + body, closed)


def ellipse_ring(
    x: float, y: float, major: float, minor: float, angle_deg: float, corners: int = 72
) -> list[tuple[float, float]]:
    """Return corners on an ellipse, anticlockwise."""
    turn = math.radians(angle_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    found = []
    for i in range(corners):
        t = 2 * math.pi * i / corners
        u, v = major * math.cos(t), minor * math.sin(t)
        found.append((x + u * cos - v * sin, y + u * sin + v * cos))
    return found


def _headed(body: bytes, places: Sequence[Place] | None) -> bytes:
    """Put the header before: magic, version 0, flags, srs, and the envelope of all but a point."""
    if places is None:
        return b"GP" + struct.pack("<BBi", 0, 0b00000001, UNDEFINED_CARTESIAN) + body
    xs, ys = [p[0] for p in places], [p[1] for p in places]
    head = struct.pack("<BBi4d", 0, 0b00000011, UNDEFINED_CARTESIAN, min(xs), max(xs), min(ys), max(ys))
    return b"GP" + head + body
