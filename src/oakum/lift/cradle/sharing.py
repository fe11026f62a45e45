"""How a find shares its weight between the places it rests on, and how each place is pressed."""

from __future__ import annotations

import math

import numpy as np

from oakum.lift.cradle.beam import SpreadLoad
from oakum.lift.cradle.beds import shares_on_springs
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.frame import Array, Frame
from oakum.lift.cradle.states import Rest

_GAUSS = 0.5 / math.sqrt(3.0)


def shares(rests: tuple[Rest, ...], frame: Frame, centre_m: Array) -> tuple[Array, bool]:
    """Return the share of the find's weight on both halves of each rest (k, 2), and whether it is known.

    Typed shares are taken as they are, even on both halves (`CradleError` where they do not add up to 1); else the
    find is a stiff body on the springs of its beds, equal ones where not all are known. A bed as long as its rest
    resists tilt as two springs at the Gauss points do. `CradleError` where the find tips off its beds.
    """
    if not rests:
        raise CradleError("the find rests on nothing: name at least one rest on a member")
    typed = [r.share for r in rests]
    if all(s is not None for s in typed):
        given = np.array([float(s or 0.0) for s in typed])
        if abs(given.sum() - 1.0) > 1e-3 or np.any(given < 0.0):
            raise CradleError(f"the shares of the rests add up to {given.sum():.3f}; they must add up to 1")
        return np.repeat(given[:, None] / given.sum() / 2.0, 2, axis=1), True
    known = all(r.stiffness_n_m is not None for r in rests)
    places, stiffness = [], []
    for rest in rests:
        member = frame.member(rest.member)
        middle, long = 0.5 * (rest.from_m + rest.to_m), rest.to_m - rest.from_m
        for side in (-_GAUSS, _GAUSS):
            places.append((np.asarray(member.start_m) + (middle + side * long) * member.way)[:2])
            stiffness.append(0.5 * (rest.stiffness_n_m if known and rest.stiffness_n_m is not None else 1.0))
    found = shares_on_springs(np.array(places), np.array(stiffness), centre_m)
    return np.asarray(found.reshape(-1, 2)), known


def rest_loads(rest: Rest, halves_n: Array) -> list[SpreadLoad]:
    """Return the pressure of a rest along its member for the forces on its two halves: even, slanted, or part of it.

    Where the pull would leave one end (the force beyond a third of the length), it bears on the rest of it only.
    """
    total = float(halves_n.sum())
    if total <= 0.0:
        return []
    long = rest.to_m - rest.from_m
    off = _GAUSS * long * float(halves_n[1] - halves_n[0]) / total  # of the force, from the middle
    if abs(off) <= long / 6.0:
        slant = 6.0 * off / long
        even = total / long
        return [SpreadLoad(rest.from_m, rest.to_m, even * (1.0 - slant), even * (1.0 + slant))]
    bears = 3.0 * (0.5 * long - abs(off))
    peak = 2.0 * total / bears
    if off > 0.0:
        return [SpreadLoad(rest.to_m - bears, rest.to_m, 0.0, peak)]
    return [SpreadLoad(rest.from_m, rest.from_m + bears, peak, 0.0)]
