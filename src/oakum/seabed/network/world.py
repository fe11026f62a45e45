"""From a plan that lies anyhow to the site's frame: turned upright, then onto known marks, fixes and bearings."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.fit import rigid
from oakum.seabed.network.rows import Network

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

UNCLEAR = 40.0
"""Misfits (gaps over sd, capped) nearer than this do not tell a plan from its mirror image: both are adjusted."""


def on_the_world(
    network: Network,
    places: Array,
    placed: Bools,
    heights: Array,
    given: Array,
    anticlockwise: tuple[str, str, str] | None,
) -> tuple[tuple[Array, ...], bool]:
    """The plan and its mirror image, each laid on what is known, the better first; whether both must be tried.

    Where nothing tells the two apart only the image with the three marks of `anticlockwise` (else the first three)
    running that way is given.
    """
    options: list[tuple[float, bool, Array]] = []
    for mirror in (False, True):
        flipped = places * [-1.0, 1.0, 1.0] if mirror else places
        upright = _upright(flipped, placed, heights)
        laid = _laid(network, upright, given)
        options.append(
            (_misfit(network, laid, given), runs_anticlockwise(network.names, laid, anticlockwise), laid)
        )
    if options[0][0] == options[1][0]:
        return (options[0 if options[0][1] else 1][2],), False
    unclear = abs(options[0][0] - options[1][0]) < UNCLEAR
    if (unclear and options[1][1] and not options[0][1]) or (not unclear and options[1][0] < options[0][0]):
        options.reverse()
    return tuple(laid for _, _, laid in options), unclear


def runs_anticlockwise(names: tuple[str, ...], places: Array, three: tuple[str, str, str] | None) -> bool:
    """Whether three marks (the first three by name where None, the next where they lie in a line) run so."""
    if three is not None and set(three) <= set(names):
        a, b, c = (places[names.index(name), :2] for name in three)
        return float((b - a)[0] * (c - a)[1] - (b - a)[1] * (c - a)[0]) > 0.0
    for k in range(2, len(names)):
        first, second, third = places[0, :2], places[1, :2], places[k, :2]
        u, v = second - first, third - first
        area = float(u[0] * v[1] - u[1] * v[0])
        if abs(area) > 0.05 * float(np.hypot(*u) * np.hypot(*v)):
            return area > 0.0
    return True


def _upright(places: Array, placed: Bools, heights: Array) -> Array:
    """Turned so that z fits the known heights, or, without enough of them, so that the marks lie flattest."""
    known = placed & np.isfinite(heights)
    if known.sum() >= 3 and np.allclose(places[known, 2], heights[known], atol=0.5):
        return places
    sample = places[placed] if placed.sum() >= 3 else places
    middle = sample.mean(axis=0)
    _, _, axes = np.linalg.svd(sample - middle)
    normal = axes[2]
    if known.sum() >= 4:
        arms = np.column_stack([places[known] - middle, np.ones(int(known.sum()))])
        slope = np.linalg.lstsq(arms, heights[known], rcond=1e-3)[0][:3]
        if 0.7 < float(np.linalg.norm(slope)) < 1.4:
            normal = slope / np.linalg.norm(slope)
    x = axes[0] - normal * (axes[0] @ normal)
    x = x / max(float(np.linalg.norm(x)), 1e-9)
    turn = np.vstack([x, np.cross(normal, x), normal])
    out = (places - middle) @ turn.T
    if known.any():
        up = float(np.median(heights[known] - out[known, 2]))
        down = out * [1.0, -1.0, -1.0]
        lower = float(np.median(heights[known] - down[known, 2]))
        gaps = [float(np.abs(heights[known] - o[known, 2] - s).sum()) for o, s in ((out, up), (down, lower))]
        out = out if gaps[0] <= gaps[1] else down
        out[:, 2] += up if gaps[0] <= gaps[1] else lower
    return np.asarray(out)


def _known_xy(network: Network, given: Array) -> tuple[Ints, Array, Array]:
    """Marks of known or fixed x and y with their sd: indices, places, sd."""
    known: dict[int, tuple[float, float, float]] = {}
    seen: dict[int, dict[int, tuple[float, float]]] = {}
    for group in network.groups:
        if group.equation == "coordinate":
            for column, value, sd in zip(group.columns[:, 0], group.read, group.sd, strict=True):
                mark, axis = divmod(int(column), 3)
                if mark < len(network.names) and axis < 2:
                    seen.setdefault(mark, {})[axis] = (float(value), float(sd))
    for mark, axes in seen.items():
        if len(axes) == 2:
            known[mark] = (axes[0][0], axes[1][0], max(axes[0][1], axes[1][1]))
    for mark in np.flatnonzero(np.isfinite(given[:, :2]).all(axis=1)).tolist():
        known[mark] = (float(given[mark, 0]), float(given[mark, 1]), 0.02)
    order = np.array(sorted(known), dtype=np.int64)
    table = np.array([known[m] for m in sorted(known)]).reshape(-1, 3)
    return order, table[:, :2], table[:, 2]


def _laid(network: Network, places: Array, given: Array) -> Array:
    """Turned level and shifted onto known marks and bearings."""
    out = places.copy()
    marks, target, sd = _known_xy(network, given)
    if len(marks) >= 2:
        turn, shift = rigid(places[marks, :2], target, 1.0 / sd**2)
        out[:, :2] = places[:, :2] @ turn.T + shift
        return out
    turned = _bearing_turn(network, places)
    if turned is not None:
        c, s = np.cos(turned[0]), np.sin(turned[0])
        out[:, :2] = places[:, :2] @ np.array([[c, -s], [s, c]]).T
    if len(marks) == 1:
        out[:, :2] += target[0] - out[marks[0], :2]
    return out


def _bearing_turn(network: Network, places: Array) -> tuple[float, float] | None:
    """Anticlockwise turn (radians) that brings the plan onto its bearings of known declination, and their misfit."""
    ground = len(network.given) - 1
    for group in network.groups:
        if group.equation == "bearing":
            known = group.columns[:, 4] == ground
            if known.any():
                c = group.columns[known]
                flat = places.ravel()
                dx, dy = flat[c[:, 2]] - flat[c[:, 0]], flat[c[:, 3]] - flat[c[:, 1]]
                wanted = np.radians(group.read[known] + group.constants[known, 0])
                gap = np.exp(1j * (np.arctan2(dx, dy) - wanted))
                mean = gap.sum()
                spread = np.degrees(np.angle(gap / mean)) / group.sd[known]
                return float(np.angle(mean)), float(np.minimum(np.abs(spread), 10.0).sum())
    return None


def _misfit(network: Network, places: Array, given: Array) -> float:
    """How badly a plan that has been laid out misses known marks and bearings, capped reading by reading."""
    marks, target, sd = _known_xy(network, given)
    total = 0.0
    if len(marks) >= 2:
        gaps = np.linalg.norm(places[marks, :2] - target, axis=1) / np.maximum(sd, 0.05)
        total += float(np.minimum(gaps, 30.0).sum())
    turned = _bearing_turn(network, places)
    return total + (turned[1] if turned is not None else 0.0)
