"""Values with a spread, their draws, and what the draws say in words.

A value that somebody measured, read from a table or guessed is an `Estimate`. `Draws` turns estimates into
arrays of equally likely values; estimates with the same label share one draw, because they share one cause.
`spread_of` sums a computed array up as a `Spread`: low, best, high, in words, with what drives the width.
"""

from oakum.ground.estimate.draws import Draws
from oakum.ground.estimate.estimates import (
    Estimate,
    EstimateError,
    exact,
    lognormal,
    normal,
    positive,
    triangular,
    uniform,
)
from oakum.ground.estimate.shares import Driver, drivers
from oakum.ground.estimate.spread import Spread, spread_of
from oakum.ground.estimate.weighted import effective_draws, weighted_mean_sd, weighted_quantile
from oakum.ground.estimate.wording import figures

__all__ = [
    "Draws",
    "Driver",
    "Estimate",
    "EstimateError",
    "Spread",
    "drivers",
    "effective_draws",
    "exact",
    "figures",
    "lognormal",
    "normal",
    "positive",
    "spread_of",
    "triangular",
    "uniform",
    "weighted_mean_sd",
    "weighted_quantile",
]
