"""One value with its spread: exact, normal, uniform, triangular or lognormal.

No distribution is cut off anywhere. Where a negative value would be nonsense, ask `positive`, which refuses
a normal that reaches zero instead of trimming it unseen.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal, overload

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtri

from oakum.ground.errors import OakumError

Kind = Literal["exact", "normal", "uniform", "triangular", "lognormal"]
Array = NDArray[np.float64]


class EstimateError(OakumError, ValueError):
    """An estimate that cannot be meant, with a sentence that says what to write instead."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its spread.

    Make one with `exact`, `normal`, `uniform`, `triangular` or `lognormal`. `a`, `b`, `c` are the parameters
    of the kind in that function's order, in whatever unit the caller keeps. `label` names the cause of the
    spread: two estimates with the same non-empty label share one draw.
    """

    kind: Kind
    a: float
    b: float = 0.0
    c: float = 0.0
    label: str = ""

    @property
    def is_exact(self) -> bool:
        """True where there is no spread at all."""
        return self.kind == "exact"

    @property
    def best(self) -> float:
        """What one would write down alone: the value, mean, midpoint, mode or median, by kind."""
        if self.kind == "uniform":
            return 0.5 * (self.a + self.b)
        return self.b if self.kind == "triangular" else self.a

    @property
    def mean(self) -> float:
        """Expected value."""
        match self.kind:
            case "uniform":
                return 0.5 * (self.a + self.b)
            case "triangular":
                return (self.a + self.b + self.c) / 3.0
            case "lognormal":
                return self.a * math.exp(0.5 * math.log(self.b) ** 2)
            case _:
                return self.a

    @property
    def sd(self) -> float:
        """Standard deviation."""
        match self.kind:
            case "normal":
                return self.b
            case "uniform":
                return (self.b - self.a) / math.sqrt(12.0)
            case "triangular":
                low, mode, high = self.a, self.b, self.c
                return math.sqrt(((mode - low) ** 2 + (high - mode) ** 2 + (high - low) ** 2) / 36.0)
            case "lognormal":
                return self.mean * math.sqrt(math.expm1(math.log(self.b) ** 2))
            case _:
                return 0.0

    @overload
    def quantile(self, p: float) -> float: ...
    @overload
    def quantile(self, p: Array) -> Array: ...
    def quantile(self, p: float | Array) -> float | Array:
        """Return the value below which a share `p` (0 to 1) of the possibilities lies."""
        if np.any(np.less(p, 0.0) | np.greater(p, 1.0)):
            raise EstimateError("a share lies between 0 and 1")
        values = self.from_share(p)
        return float(values) if np.ndim(values) == 0 else values

    def from_share(self, u: ArrayLike) -> Array:
        """Turn shares `u` (any shape, 0 to 1) into values: the quantile function."""
        share = np.asarray(u, dtype=np.float64)
        if self.kind == "exact":
            return np.full_like(share, self.a)
        if self.kind == "uniform":
            return self.a + (self.b - self.a) * share
        if self.kind != "triangular":
            return self.from_normal(ndtri(share))
        low, mode, high = self.a, self.b, self.c
        turn = (mode - low) / (high - low)
        rising = low + np.sqrt(share * ((high - low) * (mode - low)))
        falling = high - np.sqrt((1.0 - share) * ((high - low) * (high - mode)))
        return np.where(share < turn, rising, falling)

    def from_normal(self, z: ArrayLike) -> Array:
        """Turn standard normal values `z` (any shape) into values; for normal and lognormal."""
        score = np.asarray(z, dtype=np.float64)
        if self.kind == "normal":
            return self.a + self.b * score
        if self.kind == "lognormal":
            return self.a * np.exp(math.log(self.b) * score)
        raise EstimateError(f"a {self.kind} estimate is not made from a normal one")

    def labelled(self, label: str) -> Estimate:
        """Return the same estimate under another label."""
        return replace(self, label=label)


def _finite(label: str, *values: float) -> tuple[float, ...]:
    numbers = tuple(float(v) for v in values)
    if not all(math.isfinite(v) for v in numbers):
        raise EstimateError(f"{_name(label)}: every number must be finite, got {numbers}")
    return numbers


def _name(label: str) -> str:
    return label or "this estimate"


def exact(value: float, label: str = "") -> Estimate:
    """Return a value without spread."""
    (a,) = _finite(label, value)
    return Estimate("exact", a, label=label)


def normal(mean: float, sd: float, label: str = "") -> Estimate:
    """Return a normal estimate: `mean` plus or minus one standard deviation `sd` > 0."""
    a, b = _finite(label, mean, sd)
    if b <= 0:
        raise EstimateError(f"{_name(label)}: the spread after ± must be greater than zero, got {b:g}")
    return Estimate("normal", a, b, label=label)


def uniform(low: float, high: float, label: str = "") -> Estimate:
    """Return an estimate that may be anything between `low` and `high` alike."""
    a, b = _finite(label, low, high)
    if a >= b:
        raise EstimateError(f"{_name(label)}: a range runs from the smaller to the greater, got {a:g}..{b:g}")
    return Estimate("uniform", a, b, label=label)


def triangular(low: float, mode: float, high: float, label: str = "") -> Estimate:
    """Return an estimate between `low` and `high`, likeliest at `mode`."""
    a, b, c = _finite(label, low, mode, high)
    if not (a <= b <= c and a < c):
        raise EstimateError(
            f"{_name(label)}: write low..likeliest..high in rising order, got {a:g}..{b:g}..{c:g}"
        )
    return Estimate("triangular", a, b, c, label=label)


def lognormal(median: float, factor: float, label: str = "") -> Estimate:
    """Return an estimate known to within a factor.

    `median` > 0 is the middle; `factor` > 1 is the geometric standard deviation: about two chances in three
    lie between `median / factor` and `median * factor`.
    """
    a, b = _finite(label, median, factor)
    if a <= 0 or b <= 1:
        raise EstimateError(f"{_name(label)}: a factor estimate needs a median above 0 and a factor above 1")
    return Estimate("lognormal", a, b, label=label)


def positive(estimate: Estimate) -> Estimate:
    """Return the estimate, refusing it where a quantity that must be positive could reach zero.

    A normal must keep its mean at least four standard deviations above zero (one draw in 30,000 below that
    would be nonsense, and cutting it off would shift the answer unseen).
    """
    name = _name(estimate.label)
    if estimate.kind == "normal" and estimate.a - 4.0 * estimate.b <= 0.0:
        if estimate.a <= 0.0:
            raise EstimateError(f"{name}: must be greater than zero, got {estimate.a:g}")
        low, high = max(0.0, estimate.a - 2 * estimate.b), estimate.a + 2 * estimate.b
        raise EstimateError(
            f"{name}: {estimate.a:g} ± {estimate.b:g} reaches below zero; write what it can be as a range, "
            f"for instance {low:g}..{estimate.a:g}..{high:g}"
        )
    if estimate.kind in ("uniform", "triangular") and estimate.a < 0.0:
        raise EstimateError(f"{name}: the range must not begin below zero, got {estimate.a:g}")
    if estimate.kind == "exact" and estimate.a <= 0.0:
        raise EstimateError(f"{name}: must be greater than zero, got {estimate.a:g}")
    return estimate
