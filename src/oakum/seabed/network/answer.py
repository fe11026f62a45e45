"""What the adjustment says of a site: places, how well they are known, what each reading did, what to doubt."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.ellipses import Ellipse, Ellipsoid, ellipse, ellipsoid
from oakum.seabed.network.handle import Handle

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class SolvedMark:
    """Where a mark lies, in metres, with its covariance (3, 3) in m2 from the sds given to the readings.

    `held` names the axes held as known ("xyz", "z", ""). `readings` counts the rows that touch it. `weak` says
    in words what is barely known ("its height rests on flat tapes: 0.82 m"), "" where nothing is.
    """

    name: str
    x_m: float
    y_m: float
    z_m: float
    cov_m2: Array
    held: str = ""
    readings: int = 0
    weak: str = ""

    @property
    def place(self) -> tuple[float, float, float]:
        """x, y, z."""
        return (self.x_m, self.y_m, self.z_m)

    @property
    def sd_m(self) -> tuple[float, float, float]:
        """Standard deviations of x, y, z."""
        sd = np.sqrt(np.maximum(np.diag(self.cov_m2), 0.0))
        return (float(sd[0]), float(sd[1]), float(sd[2]))

    def ellipse(self, inside: float = 0.95) -> Ellipse:
        """The horizontal ellipse that holds the mark with this probability."""
        return ellipse(self.cov_m2[:2, :2], inside)

    def ellipsoid(self, inside: float = 0.95) -> Ellipsoid:
        """The ellipsoid that holds the mark with this probability."""
        return ellipsoid(self.cov_m2, inside)


@dataclass(frozen=True, slots=True)
class UnsolvedMark:
    """A mark without a place, and why, in words."""

    name: str
    why: str


@dataclass(frozen=True, slots=True)
class ReadingResult:
    """One number read, held against the solution. `unit` is "m" or "deg" and holds for every field but w and tau.

    `part` tells the numbers of one observation apart ("along", "left", "x", "y", "z"), "" where there is only
    one. `residual` is computed minus read. `redundancy` is between 0 (nothing checks it) and 1. `w` and `tau` are
    None where the redundancy is nothing. `error` is the error it would have if it alone were wrong (read minus
    right); `mdb` the smallest error found with the stated power; `moves_m` and `moves_z_m` how far an error
    just missed would shift one of its own marks, level and upright, `moved` that mark. `counted` False: set aside;
    then w is that of the prediction.
    """

    id: str
    text: str
    kind: str
    part: str
    marks: tuple[str, ...]
    unit: str
    value: float
    computed: float
    sd: float
    residual: float
    redundancy: float
    w: float | None
    tau: float | None
    error: float | None
    mdb: float | None
    moves_m: float | None
    moves_z_m: float | None
    moved: str
    counted: bool = True


@dataclass(frozen=True, slots=True)
class Cause:
    """A likely cause of an error: `key` such as "metre", `words` for people, `value` what was perhaps meant."""

    key: str
    words: str
    value: float | None = None


@dataclass(frozen=True, slots=True)
class Suspect:
    """A reading to doubt, in the order found; `error` is read minus right, in `unit`, with its sd.

    `others` are ids of readings the data cannot tell from it: then the error is detectable but not locatable.
    """

    id: str
    part: str
    text: str
    w: float
    unit: str
    error: float
    error_sd: float
    causes: tuple[Cause, ...]
    others: tuple[str, ...]
    words: str

    @property
    def locatable(self) -> bool:
        """Whether the data point at this reading alone."""
        return not self.others


@dataclass(frozen=True, slots=True)
class Twin:
    """A second place that fits as well; `phi` is the rise of the sum of squares. `mark` "" is the whole plan."""

    mark: str
    place_m: tuple[float, float, float] | None
    apart_m: float
    phi: float
    words: str


@dataclass(frozen=True, slots=True)
class Whole:
    """The test of the whole: s0 is the estimated over the stated sd; `low` and `high` bound it where all is well.

    `groups` gives the same per kind of reading: (kind, s0, redundancy).
    """

    phi: float
    freedom: int
    s0: float | None
    low: float | None
    high: float | None
    passed: bool | None
    words: str
    groups: tuple[tuple[str, float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Solved:
    """A further unknown that was solved: a tape's scale or zero, a dive's water level, a compass's turn."""

    what: str
    name: str
    value: float
    sd: float
    unit: str


@dataclass(frozen=True, slots=True, eq=False)
class SiteSolution:
    """The answer. All that is computed from the readings that count, suspects among them.

    `without_suspects` is the same site with the suspects left out (None where there are none): which of the two is
    drawn is for a named person to decide. `datum` says what holds the plan, and what nothing holds.
    """

    marks: tuple[SolvedMark, ...]
    unsolved: tuple[UnsolvedMark, ...]
    readings: tuple[ReadingResult, ...]
    further: tuple[Solved, ...]
    whole: Whole
    datum: tuple[str, ...]
    twins: tuple[Twin, ...]
    suspects: tuple[Suspect, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    iterations: int
    converged: bool
    without_suspects: SiteSolution | None = None
    handle: Handle | None = field(default=None, repr=False)

    def mark(self, name: str) -> SolvedMark:
        """The mark of this name; KeyError where it is not solved."""
        for mark in self.marks:
            if mark.name == name:
                return mark
        raise KeyError(name)

    def reading(self, id: str, part: str = "") -> ReadingResult:
        """The row of this reading; KeyError where there is none."""
        for row in self.readings:
            if row.id == id and row.part == part:
                return row
        raise KeyError(id)

    def relative_ellipse(self, a: str, b: str, inside: float = 0.95) -> Ellipse:
        """The horizontal ellipse of b as seen from a: smaller than either where both share what is uncertain."""
        if self.handle is None:
            raise KeyError("this solution carries no covariance between marks")
        return ellipse(self.handle.between(a, b)[:2, :2], inside)
