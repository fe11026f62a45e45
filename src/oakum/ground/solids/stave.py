"""The curve of a barrel's stave: radius and slope along the barrel, and the integral of the radius squared.

`s` runs from -1 at one end to +1 at the other; at s = 0 the diameter is the bulge's, at s = +-1 the ends'.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from oakum.ground.solids.dims import Dim

Stave = Literal["parabolic", "arc", "elliptic"]
STAVES: tuple[Stave, ...] = ("parabolic", "arc", "elliptic")

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(48)


def radius_m(stave: Stave, bulge_m: Dim, end_m: Dim, height_m: Dim, s: Dim) -> Dim:
    """Return the radius at `s`, m, from the bulge diameter, end diameter and height, m."""
    big, small = bulge_m / 2, end_m / 2
    if stave == "parabolic":
        return big - (big - small) * s * s
    if stave == "elliptic":
        return np.sqrt(big * big - (big * big - small * small) * s * s)
    # Arc: the drop from the bulge, written so that a straight stave (no curvature) is no special case.
    half = height_m / 2
    sag = big - small
    curvature = 2 * sag / (sag * sag + half * half)
    x = half * s
    return big - curvature * x * x / (1 + np.sqrt(np.maximum(1 - (curvature * x) ** 2, 0.0)))


def end_slope(stave: Stave, bulge_m: Dim, end_m: Dim, height_m: Dim) -> Dim:
    """Return how fast the radius shrinks along the barrel at its end (m per m, >= 0)."""
    half, sag = height_m / 2, (bulge_m - end_m) / 2
    if stave == "parabolic":
        return 2 * sag / half
    if stave == "elliptic":
        return (bulge_m * bulge_m - end_m * end_m) / (2 * end_m * half)
    return 2 * sag * half / np.maximum(half * half - sag * sag, 1e-12 * half * half)


def mean_square_m2(stave: Stave, bulge_m: Dim, end_m: Dim, height_m: Dim) -> Dim:
    """Return the mean of the squared *diameter* along the barrel, m2 (volume = pi/4 x mean x height).

    Parabola (8 D^2 + 4 D d + 3 d^2)/15 and ellipse (2 D^2 + d^2)/3 in closed form; the arc by 48-point
    Gauss-Legendre quadrature, relative error below 3e-6 at a semicircle and at rounding for any real cask.
    """
    D, d = bulge_m, end_m
    if stave == "parabolic":
        return (8 * D * D + 4 * D * d + 3 * d * d) / 15
    if stave == "elliptic":
        return (2 * D * D + d * d) / 3
    total: Dim = 0.0
    for node, weight in zip(_NODES[24:], _WEIGHTS[24:], strict=True):  # symmetric about the bulge
        r = radius_m(stave, D, d, height_m, float(node))
        total = total + 4 * float(weight) * r * r
    return total
