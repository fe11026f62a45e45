"""What divers bring up: the readings, the marks they join, the instruments, and what is held as known.

Everything is SI with angles in degrees. None or "" is not known. Every reading has an `id` (the entry it came
from), the `text` as written, and the names of its marks. Nothing is refused here: what cannot be used is named
by the adjustment and left out, and the rest is solved.

Axes of the site: right-handed, x east, y north, z up. Depths are positive down.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Tape:
    """A slope distance between two marks, as read.

    Its sd is `hypot(sd_m, sd_per_m * length_m)`; both None is not known. `tape` names the tape itself, so that
    a scale or zero error common to its readings can be corrected or solved (see `TapeMeasure`).
    """

    id: str
    a: str
    b: str
    length_m: float
    sd_m: float | None = None
    sd_per_m: float | None = None
    tape: str = ""
    dive: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """A depth read on a gauge at a mark.

    `water_level_m` is the height of the water surface in the site's heights at that moment. Where it is None,
    all readings of one gauge on one dive share an unknown water level: only their differences count.
    `above_m` is how far the gauge was held above the mark.
    """

    id: str
    mark: str
    depth_m: float
    sd_m: float | None = None
    gauge: str = ""
    dive: str = ""
    water_level_m: float | None = None
    above_m: float = 0.0
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A difference of height by plumb, tube or bubble: how far `b` is above `a`."""

    id: str
    a: str
    b: str
    rise_m: float
    sd_m: float | None = None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing:
    """A compass bearing from `a` to `b`, clockwise from the compass's north.

    `declination_deg` (east positive) plus what turns true north to site north is added to it. Where it is None,
    all bearings of one `compass` share an unknown turn and only their differences count.
    """

    id: str
    a: str
    b: str
    bearing_deg: float
    sd_deg: float | None = None
    declination_deg: float | None = None
    compass: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fix:
    """A surface position carried down to a mark by a plumb line or a buoy line, already in site axes.

    The horizontal sd of each axis is `hypot(sd_m, line_m * tan(lean_deg))`: `line_m` is the length of the line
    and `lean_deg` how far it may lean (one sd). `z_m` None: the fix gives no height.
    """

    id: str
    mark: str
    x_m: float
    y_m: float
    z_m: float | None = None
    sd_m: float | None = None
    sd_z_m: float | None = None
    line_m: float | None = None
    lean_deg: float | None = None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offset:
    """A baseline offset: how far along the horizontal line from `base_a` to `base_b`, and how far to its left.

    `left_m` negative is to the right. Either may be None when only the other was read.
    """

    id: str
    mark: str
    base_a: str
    base_b: str
    along_m: float | None
    left_m: float | None
    sd_along_m: float | None = None
    sd_left_m: float | None = None
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tie:
    """One leg of a two-tape fix: a slope distance to a mark from a chainage on a taut baseline.

    `at_m` is measured from `base_a` along the straight line to `base_b`. A two-tape fix is two of these (or two
    `Tape` readings where the tapes start at marks). `side` is "left" or "right" of the line, "" not known.
    """

    id: str
    mark: str
    base_a: str
    base_b: str
    at_m: float
    length_m: float
    sd_m: float | None = None
    sd_per_m: float | None = None
    tape: str = ""
    side: str = ""
    text: str = ""


Observation = Tape | Depth | Level | Bearing | Fix | Offset | Tie


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A mark and where it is thought to lie (yesterday's solution, say); None is not known.

    The place is a start, never a reading. In a site with nothing to hold it, the new plan is laid on these
    places as closely as it will go, so that the plan does not turn from one day to the next.
    """

    name: str
    x_m: float | None = None
    y_m: float | None = None
    z_m: float | None = None

    @property
    def place(self) -> tuple[float, float, float] | None:
        """The place where all three are known."""
        if self.x_m is None or self.y_m is None or self.z_m is None:
            return None
        return (self.x_m, self.y_m, self.z_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Datum:
    """Coordinates of a mark taken as known: held where `sd_m` is None, else counted as readings of that sd.

    Only the coordinates given are known. `sd_z_m` is the sd of the height, `sd_m` where it is None.
    """

    mark: str
    x_m: float | None = None
    y_m: float | None = None
    z_m: float | None = None
    sd_m: float | None = None
    sd_z_m: float | None = None
    id: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TapeMeasure:
    """A tape: reads `(1 + scale) * distance + zero_m`.

    `scale` and `zero_m` are what is known of it. With `solve_scale` or `solve_zero` the error is an unknown of the
    adjustment, where an sd is given beside it starting from the known value with that sd.
    """

    name: str
    scale: float = 0.0
    zero_m: float = 0.0
    solve_scale: bool = False
    solve_zero: bool = False
    scale_sd: float | None = None
    zero_sd_m: float | None = None
    longest_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """A depth gauge. Where `offset_sd_m` is given, each dive's readings share an offset of about that size."""

    name: str
    offset_sd_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AssumedSd:
    """What is taken where a reading has no sd; each use is named among the assumptions.

    Sources: tape 25 mm (Holt 2003, IJNA, abstract; read), gauge 0.1 m (Green 2004 p. 117; read), levels,
    bearings and offsets practice, no source.
    """

    tape_m: float = 0.025
    tape_per_m: float = 0.0
    depth_m: float = 0.1
    level_m: float = 0.02
    bearing_deg: float = 2.0
    fix_m: float = 5.0
    fix_z_m: float = 1.0
    offset_m: float = 0.05
    datum_m: float = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """How strict the tests are.

    `whole` is the level of the test of the variance factor, `reading` that of the test of one reading (0.001:
    |w| over 3.29), `power` the chance that an error of the size called MDB is found. `inside` is the probability
    of ellipses.
    """

    whole: float = 0.05
    reading: float = 0.001
    power: float = 0.80
    inside: float = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Everything the adjustment may use.

    `rejected` are ids of readings set aside by a named person: they are shown but do not count. `anticlockwise`
    names three marks that run anticlockwise seen from above: it settles which way round a free plan is.
    """

    observations: tuple[Observation, ...]
    datums: tuple[Datum, ...] = ()
    marks: tuple[Mark, ...] = ()
    tapes: tuple[TapeMeasure, ...] = ()
    gauges: tuple[Gauge, ...] = ()
    rejected: frozenset[str] = frozenset()
    anticlockwise: tuple[str, str, str] | None = None
    assumed: AssumedSd = AssumedSd()
    levels: Levels = Levels()
