"""The kinds of solid a body file knows: what each is measured by, and the solid made from the measures."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids import Barrel, Box, Cylinder, Frustum, HoledDisc, Plank, Ring, Solid
from oakum.lift.body.model import Shape

Dim = float | NDArray[np.float64]
Values = Mapping[str, Dim]

ROUND = ("diameter", "radius", "girth")
"""How a round thing may be measured: across, from the middle, or with the tape round it."""


@dataclass(frozen=True, slots=True)
class ShapeSpec:
    """Keys a shape is measured by.

    A key ending in "diameter" may also be given as radius or girth, the outside of a ring by its wall.
    """

    keys: tuple[str, ...]
    build: Callable[[Shape, Values], Solid]


def across(values: Values, stem: str = "") -> Dim:
    """Return a diameter in metres from whichever of diameter, radius or girth was measured."""
    if f"{stem}diameter" in values:
        return values[f"{stem}diameter"]
    if f"{stem}radius" in values:
        return 2.0 * values[f"{stem}radius"]
    return values[f"{stem}girth"] / math.pi


def alternatives(key: str) -> tuple[str, ...]:
    """Return the keys that give the same measure as `key`."""
    if not key.endswith("diameter"):
        return (key,)
    stem = key.removesuffix("diameter")
    return (*(stem + way for way in ROUND), *(("wall",) if stem == "outer_" else ()))


def _ring(_: Shape, v: Values) -> Solid:
    inner = across(v, "inner_") / 2.0
    return Ring(inner + v["wall"] if "wall" in v else across(v, "outer_") / 2.0, inner, v["height"])


def _holed(shape: Shape, v: Values) -> Solid:
    return HoledDisc(across(v) / 2.0, v["thickness"], holes=shape.bores)


def _barrel(shape: Shape, v: Values) -> Solid:
    return Barrel(across(v, "bulge_"), across(v, "end_"), v["height"], stave=shape.stave)  # type: ignore[arg-type]


SHAPES: Mapping[str, ShapeSpec] = {
    "box": ShapeSpec(("length", "width", "height"), lambda _, v: Box(v["length"], v["width"], v["height"])),
    "plank": ShapeSpec(
        ("length", "width", "thickness"), lambda _, v: Plank(v["length"], v["width"], v["thickness"])
    ),
    "cylinder": ShapeSpec(("diameter", "height"), lambda _, v: Cylinder(across(v) / 2.0, v["height"])),
    "ring": ShapeSpec(("inner_diameter", "outer_diameter", "height"), _ring),
    "holed disc": ShapeSpec(("diameter", "thickness"), _holed),
    "frustum": ShapeSpec(
        ("bottom_diameter", "top_diameter", "height"),
        lambda _, v: Frustum(across(v, "bottom_") / 2.0, across(v, "top_") / 2.0, v["height"]),
    ),
    "barrel": ShapeSpec(("bulge_diameter", "end_diameter", "height"), _barrel),
}
"""Shapes built from measures. "mesh" (a file) and "lump" (a mass or a volume) stand beside them."""

KINDS = (*SHAPES, "mesh", "lump")


def solid_of(shape: Shape, values: Values) -> Solid:
    """Return the solid of a shape for measures in metres, floats or draws (n,).

    A lump becomes a cube of `volume` m3 standing on its place. Raises `SolidError` for impossible measures.
    """
    if shape.kind == "mesh":
        assert shape.mesh is not None  # body files and starts always give one
        return shape.mesh
    if shape.kind == "lump":
        edge = np.cbrt(values["volume"])
        return Box(edge, edge, edge)
    return SHAPES[shape.kind].build(shape, values)


def best_values(shape: Shape) -> dict[str, Dim]:
    """Return the likeliest value of each measure."""
    return {name: estimate.best for name, estimate in shape.dimensions}
