"""The parts of a body as placed pieces at their likeliest measures, with their outlines."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from oakum.draw.outline import Outline, View, outline
from oakum.ground.solids import Mesh
from oakum.lift import Body, PlacedPart, SedimentFill, WaterFill, placed_parts

FACETS = 36


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """One placed piece: vertices (n, 3) in metres in the body's frame, triangles (m, 3)."""

    name: str
    role: str
    vertices: NDArray[np.float64]
    faces: NDArray[np.int64]


@lru_cache(maxsize=16)
def drawn_parts(body: Body, view: View) -> tuple[tuple[Shown, Outline], ...]:
    """Return every piece with its outline in a view; remembered: a moved water level changes neither."""
    return tuple((piece, outline(piece.vertices, piece.faces, view)) for piece in shown_parts(body))


@lru_cache(maxsize=16)
def shown_parts(body: Body) -> tuple[Shown, ...]:
    """Return every part, every copy of it, and its coat of concretion where it has one."""
    pieces: list[Shown] = []
    for placed in placed_parts(body, FACETS):
        count = placed.part.count
        pieces += _copies(placed.name, _role(placed), placed.mesh, count)
        if placed.coat is not None:
            pieces += _copies(f"{placed.name}, concretion", "concretion", placed.coat, count)
    return tuple(pieces)


def _role(placed: PlacedPart) -> str:
    """Return a piece's role; a hollow goes by what fills it."""
    match placed.part.fill:
        case WaterFill():
            return "trapped water"
        case SedimentFill():
            return "sediment"
    return placed.role


def _copies(name: str, role: str, mesh: Mesh, count: int) -> list[Shown]:
    """Take the copies of a repeated part apart; they follow each other in one mesh."""
    points, triangles = len(mesh.vertices) // count, len(mesh.faces) // count
    return [
        Shown(name, role, mesh.vertices[k * points : (k + 1) * points], mesh.faces[:triangles])
        for k in range(count)
    ]
