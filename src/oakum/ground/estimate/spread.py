"""Low, best and high of a computed quantity, in numbers and in words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from oakum.ground.estimate.estimates import EstimateError
from oakum.ground.estimate.shares import Driver, drivers
from oakum.ground.estimate.weighted import effective_draws, weighted_mean_sd, weighted_quantile
from oakum.ground.estimate.wording import figures, joined, places_for, plain, shown_unit

_NAMED_FROM = 0.01  # a smaller share is within what chance does to 20,000 draws
_FOR_DRIVERS = 200


@dataclass(frozen=True, slots=True)
class Spread:
    """What the draws of one quantity say.

    `p5`, `best`, `p95`: 5th percentile, median, 95th percentile, in `unit`; `mean`, `sd` likewise.
    `drivers`: the inputs that explain at least 1 % of the variance, greatest first.
    """

    p5: float
    best: float
    p95: float
    mean: float
    sd: float
    unit: str
    drivers: tuple[Driver, ...] = ()

    @property
    def is_exact(self) -> bool:
        """True where nothing with a spread went into the quantity (rounding noise aside)."""
        return self.p95 - self.p5 <= 1e-12 * max(abs(self.p5), abs(self.p95), 1e-6)

    def words(self) -> str:
        """Say it in words, to the figures that the width supports.

        >>> Spread(1515.2, 1710.4, 2017.8, 1730.0, 147.0, "kg").words()
        'likely 1,710 kg; 9 in 10 within 1,515 to 2,018 kg'
        >>> Spread(1710, 1710, 1710, 1710, 0, "kg").words()
        'exactly 1,710 kg as entered'
        """
        unit, factor = shown_unit(self.unit, max(abs(self.p5), abs(self.best), abs(self.p95)))
        if self.is_exact:
            return f"exactly {joined(plain(self.best * factor), unit)} as entered"
        places = places_for(0.5 * (self.p95 - self.p5) * factor)
        best, low, high = (figures(v * factor, places) for v in (self.best, self.p5, self.p95))
        return f"likely {joined(best, unit)}; 9 in 10 within {low} to {joined(high, unit)}"


def spread_of(
    values: ArrayLike,
    unit: str,
    weights: ArrayLike | None = None,
    inputs: Mapping[str, ArrayLike] | None = None,
) -> Spread:
    """Sum up draws.

    `values` has shape (n,), or is one number that has no spread; `unit` is written as it is. `weights` (n,)
    count draws more or less. `inputs` (label -> draws, as `Draws.inputs`) asks for the drivers; with fewer
    than 200 effective draws none are named. Values that are not finite are refused.
    """
    v = np.atleast_1d(np.asarray(values, dtype=np.float64))
    if v.ndim != 1 or v.size == 0:
        raise EstimateError(f"draws are a row of at least one number, got shape {v.shape}")
    if not np.all(np.isfinite(v)):
        raise EstimateError("some draws are not finite numbers; the inputs allow an impossible case")
    low, best, high = weighted_quantile(v, (0.05, 0.5, 0.95), weights)
    mean, sd = weighted_mean_sd(v, weights)
    found: tuple[Driver, ...] = ()
    enough = (v.size if weights is None else effective_draws(weights)) >= _FOR_DRIVERS
    if inputs and enough:
        found = tuple(d for d in drivers(v, inputs, weights) if d.share >= _NAMED_FROM)
    return Spread(float(low), float(best), float(high), mean, sd, unit, found)
