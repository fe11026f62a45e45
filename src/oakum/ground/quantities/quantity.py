"""A quantity as typed and as understood."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground import estimate as est
from oakum.ground.errors import OakumError

DIMENSIONS = (
    "length",
    "mass",
    "density",
    "force",
    "pressure",
    "time",
    "angle",
    "volume",
    "area",
    "speed",
    "temperature",
    "fraction",
)
SI_UNITS = dict(
    zip(
        DIMENSIONS,
        ("m", "kg", "kg/m3", "N", "Pa", "s", "rad", "m3", "m2", "m/s", "degC", "1"),
        strict=True,
    )
)


class QuantityError(OakumError, ValueError):
    """A text that is no quantity of the kind asked for, with a sentence that says what to write."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit, kept as typed and as understood.

    All numbers are SI: m, kg, kg/m3, N, Pa, s, rad, m3, m2, m/s, a plain ratio for a fraction; temperatures
    are in degrees Celsius. `value` is the number typed, the middle of a range a..b, or the likeliest of
    a..b..c. `sd` is what stood after ±, one standard deviation; `low`, `high` the ends of a range and `mode`
    the likeliest of three. `unit` is the unit typed, the greatest where there were several.
    """

    text: str
    dimension: str
    value: float
    sd: float | None
    low: float | None
    high: float | None
    mode: float | None
    unit: str

    def estimate(self, label: str = "") -> est.Estimate:
        """Return the estimate it stands for.

        ± gives a normal, a..b a uniform, a..b..c a triangular estimate, a bare value an exact one.
        """
        if self.sd is not None:
            return est.normal(self.value, self.sd, label)
        if self.low is None or self.high is None:
            return est.exact(self.value, label)
        if self.mode is None:
            return est.uniform(self.low, self.high, label)
        return est.triangular(self.low, self.mode, self.high, label)
