"""What a count in an ensemble says of the odds: the interval of Clopper and Pearson."""

from __future__ import annotations

from dataclasses import dataclass

from scipy.special import betaincinv

from oakum.lift.splash.errors import SplashError


@dataclass(frozen=True, slots=True)
class Odds:
    """`count` of `members` did; the share lies between `low` and `high` with at least `confidence`."""

    count: int
    members: int
    low: float
    high: float
    confidence: float

    @property
    def share(self) -> float:
        """The share seen."""
        return self.count / self.members

    @property
    def words(self) -> str:
        """In words, with the interval."""
        return (
            f"in {self.count:,} of {self.members:,} seas; odds between {100 * self.low:.2g} and "
            f"{100 * self.high:.2g} % with confidence {100 * self.confidence:g} %"
        )


def clopper_pearson(count: int, members: int, confidence: float = 0.95) -> Odds:
    """Return the exact binomial interval of a share, from a count among independent members.

    Clopper and Pearson, The use of confidence or fiducial limits, Biometrika 26 (1934), through the inverse
    of the incomplete beta function (memory, verify). Raises `SplashError` where the count cannot be.
    """
    if members < 1 or not 0 <= count <= members:
        raise SplashError(f"a count lies between 0 and the number of members; got {count} of {members}")
    if not 0.0 < confidence < 1.0:
        raise SplashError(f"a confidence lies between 0 and 1; got {confidence:g}")
    tail = 0.5 * (1.0 - confidence)
    low = 0.0 if count == 0 else float(betaincinv(count, members - count + 1, tail))
    high = 1.0 if count == members else float(betaincinv(count + 1, members - count, 1.0 - tail))
    return Odds(count, members, low, high, confidence)
