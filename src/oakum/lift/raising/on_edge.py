"""The same body turned on edge, in the same draws: what the sea asks of it otherwise."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

import numpy as np

from oakum.ground.estimate import exact
from oakum.lift.body.model import Body, Part, Place, Vector
from oakum.lift.body.placing import Array, about, likely_place, turning
from oakum.lift.weights.drawn import draw
from oakum.lift.weights.sums import Sums, summed

Axis = Literal["x", "y"]


def on_edge(sums: Sums, axis: Axis) -> Sums:
    """Return the sums of the body turned a quarter about a level axis.

    Masses and volumes are the same in every draw; places are the likeliest ones. Water that a hollow held lying may
    run out of it standing: it is counted full in both.
    """
    drawn = sums.drawn
    return summed(draw(turned_body(drawn.body, axis), drawn.draws), sums.frame)


def turned_body(body: Body, axis: Axis) -> Body:
    """Return the body turned a quarter about its x or its y axis."""
    quarter = np.round(about(axis, 0.5 * np.pi))
    return replace(body, parts=tuple(_turned(part, quarter) for part in body.parts))


def _turned(part: Part, quarter: Array) -> Part:
    x, y, z = (float(v) for v in quarter @ likely_place(part))
    place = Place(exact(x), exact(y), exact(z), turns_deg(quarter @ turning(part)))
    repeat = part.repeat
    if repeat is not None:
        repeat = replace(
            repeat,
            around=None if repeat.around is None else _axis(repeat.around, quarter),
            centre_m=_vector(quarter, repeat.centre_m),
            step_m=None if repeat.step_m is None else _vector(quarter, repeat.step_m),
        )
    return replace(part, place=place, repeat=repeat)


def _axis(name: str, quarter: Array) -> str:
    """Return the axis that takes the place of one; its direction does not matter for copies at even angles."""
    return "xyz"[int(np.argmax(np.abs(quarter[:, "xyz".index(name)])))]


def _vector(quarter: Array, vector: Vector) -> Vector:
    x, y, z = (float(v) for v in quarter @ np.array(vector))
    return x, y, z


def turns_deg(matrix: Array) -> Vector:
    """Return the turns about x, then y, then z, that make a rotation matrix (3, 3); z is 0 where x alone says it."""
    about_y = -math.asin(min(1.0, max(-1.0, float(matrix[2, 0]))))
    if abs(matrix[2, 0]) > 1.0 - 1e-9:  # x and z turn about one line then
        about_x, about_z = math.atan2(-float(matrix[1, 2]), float(matrix[1, 1])), 0.0
    else:
        about_x = math.atan2(float(matrix[2, 1]), float(matrix[2, 2]))
        about_z = math.atan2(float(matrix[1, 0]), float(matrix[0, 0]))
    return math.degrees(about_x), math.degrees(about_y), math.degrees(about_z)
