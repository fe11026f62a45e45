"""The two curves of a weight sheet: hook load against height, and against time while it drains."""

from __future__ import annotations

import numpy as np

from oakum.lift.weights.conditioning import Use
from oakum.lift.weights.emergence import Emergence
from oakum.lift.weights.report import Curve
from oakum.lift.weights.sums import Sums, total
from oakum.lift.weights.weighing import CURVE_DRAWS, banded

_LEVELS = 45
_TIMES = 41
_LONGEST_S = 1800.0  # nobody keeps a body hanging longer


def emergence_curve(ready: Emergence, use: Use) -> Curve:
    """Return the hook load from wholly under water to clear of it."""
    margin = 0.08 * ready.height_m
    even = np.linspace(-ready.height_m - margin, margin, _LEVELS)
    levels = np.union1d(even, (-ready.height_m, 0.0))  # the corners of the curve are points of it
    loads = ready.loads_kg(ready.shares(levels), slice(0, CURVE_DRAWS))
    marks = ((-ready.height_m, "top breaks the surface"), (0.0, "clear of the water"))
    return _curve(
        "hook load while it emerges",
        ("height of the lowest point above the water", "m"),
        levels,
        loads,
        use,
        marks,
    )


def draining_curve(sums: Sums, use: Use) -> Curve | None:
    """Return the hook load after the body is clear, while it drains; None where no water runs out."""
    running = [w for w in sums.waters if w.rate is not None and float(np.max(w.head_m)) > 0.0]
    if not running:
        return None
    empty = max(float(np.quantile(w.empty_s(), 0.95)) for w in running)
    times = np.linspace(0.0, min(1.1 * empty, _LONGEST_S), _TIMES)
    some = slice(0, CURVE_DRAWS)
    full = sums.drawn.full
    columns = [(sums.mass_kg + full(total(w.after_kg(float(t)) for w in sums.waters)))[some] for t in times]
    marks = ((empty, "likely empty (P95)"),) if empty <= _LONGEST_S else ()
    loads = np.column_stack(columns)
    return _curve(
        "hook load while it drains", ("time after clearing the surface", "s"), times, loads, use, marks
    )


def _curve(
    name: str,
    x: tuple[str, str],
    places: np.ndarray,
    loads: np.ndarray,
    use: Use,
    marks: tuple[tuple[float, str], ...],
) -> Curve:
    bands = [banded(loads[:, i], use) for i in range(loads.shape[1])]
    low, best, high = zip(*bands, strict=True)
    return Curve(name, *x, "hook load", "kg", tuple(float(v) for v in places), low, best, high, marks)
