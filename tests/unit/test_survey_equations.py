"""Every reading's derivatives against finite differences, and what it should say against values worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.seabed.network.equations import EQUATIONS

WIDTH = {"tape": 8, "depth": 3, "level": 2, "bearing": 5, "coordinate": 1, "along": 6, "left": 6, "tie": 11}


@pytest.mark.parametrize("kind", sorted(EQUATIONS))
def test_derivatives_agree_with_finite_differences(kind: str) -> None:
    rng = np.random.default_rng(5)
    v, c = rng.uniform(-4.0, 6.0, (40, WIDTH[kind])), rng.uniform(-0.5, 2.0, (40, 3))
    _, d = EQUATIONS[kind](v, c)
    h = 1e-6
    for column in range(v.shape[1]):
        shift = np.zeros(v.shape[1])
        shift[column] = h
        change = EQUATIONS[kind](v + shift, c)[0] - EQUATIONS[kind](v - shift, c)[0]
        if kind == "bearing":
            change = (change + 180.0) % 360.0 - 180.0
        assert d[:, column] == pytest.approx(change / (2 * h), rel=2e-5, abs=2e-6)


@pytest.mark.parametrize(
    ("kind", "v", "c", "value"),
    [
        ("tape", [0, 0, 0, 3, 4, 12, 0.01, 0.2], [0.0, 0.1, 0], 13 * 1.01 + 0.3),
        ("depth", [-14.2, 0.0, 0.1], [0.5, 0.3, 0], 14.5),
        ("level", [-14.2, -13.9], [0, 0, 0], 0.3),
        ("bearing", [1, 1, 2, 1, 0.0], [-3.0, 0, 0], 93.0),
        ("along", [3, 2, 0, 0, 10, 0], [0, 0, 0], 3.0),
        ("left", [3, 2, 0, 0, 10, 0], [0, 0, 0], 2.0),
        ("tie", [3, 4, 0, 0, 0, 0, 10, 0, 0, 0, 0], [0, 0, 3.0], 4.0),
    ],
)
def test_what_would_be_read(kind: str, v: list[float], c: list[float], value: float) -> None:
    """Own calculation."""
    read, _ = EQUATIONS[kind](np.array([v], float), np.array([c], float))
    assert float(read[0]) == pytest.approx(value, abs=1e-12)
