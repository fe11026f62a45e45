"""The parts of a weighed body as they hang: every copy with its solid, its mesh and how it is turned."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from oakum.ground.solids import Mesh, Solid
from oakum.lift.body.likely_solid import likely_solid
from oakum.lift.body.model import Body, Part
from oakum.lift.body.placing import Array, likely_frames
from oakum.lift.splash import SplashError
from oakum.lift.weights.drawn import grown

_FACETS = 48  # as many as the emergence curve is cut with
_OF_OBJECT = ("object", "concretion", "sediment")


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One copy of a body part by its likeliest measures, its coat with it."""

    solid: Solid
    mesh: Mesh
    turn: Array


@dataclass(frozen=True, slots=True, eq=False)
class Hanging:
    """A body in the attitude of its file, without rigging and without hollows.

    `object_parts` has holes that are filled too, `pieces` only what stands by itself, by part name. `floor_m` and
    `top_m`: lowest and highest point in the body's frame.
    """

    object_parts: tuple[Part, ...]
    crate_parts: tuple[Part, ...]
    pieces: dict[str, tuple[Piece, ...]]
    floor_m: float
    top_m: float

    def of(self, names: Iterable[str]) -> tuple[Piece, ...]:
        """Return the pieces of parts by name."""
        return tuple(piece for name in names for piece in self.pieces.get(name, ()))

    @property
    def of_object(self) -> tuple[Piece, ...]:
        """The pieces of the object."""
        return self.of(p.name for p in self.object_parts)

    @property
    def everything(self) -> tuple[Piece, ...]:
        """All pieces."""
        return tuple(piece for pieces in self.pieces.values() for piece in pieces)


def hanging(body: Body) -> Hanging:
    """Return a body as it hangs. `SplashError` where nothing hangs but rigging."""
    water = body.water.density_kg_m3.best
    stands = [p for p in body.parts if p.role in (*_OF_OBJECT, "crate") and p.hole_in is None]
    pieces = {p.name: _copies(p, water) for p in stands}
    if not pieces:
        raise SplashError("nothing hangs on the hook but rigging: the body needs an object with a shape")
    low, height = extent([piece for each in pieces.values() for piece in each])
    return Hanging(
        tuple(p for p in body.parts if p.role in _OF_OBJECT),
        tuple(p for p in stands if p.role == "crate"),
        pieces,
        low,
        low + height,
    )


def extent(pieces: Sequence[Piece]) -> tuple[float, float]:
    """Return the lowest point of pieces in the body's frame, and their height."""
    low = min(float(p.mesh.vertices[:, 2].min()) for p in pieces)
    return low, max(float(p.mesh.vertices[:, 2].max()) for p in pieces) - low


def _copies(part: Part, water_kg_m3: float) -> tuple[Piece, ...]:
    solid, below = likely_solid(part, water_kg_m3), 0.0
    if part.coat is not None:
        solid, lower = grown(solid, part.coat, part.coat.thickness_m.best)
        below = float(np.max(lower))
    own = solid.to_mesh(_FACETS)
    return tuple(
        Piece(solid, own.with_vertices((own.vertices - (0.0, 0.0, below)) @ turn.T + origin), turn)
        for turn, origin in likely_frames(part)
    )
