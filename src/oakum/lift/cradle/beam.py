"""Beams: what is asked, and what comes out. Distances along the beam in metres, forces down, N and N m."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.pieces import Curve, Piece, value_at

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Support:
    """A support at `at_m`. `stiffness_n_m` None: it does not give; `holds_turn`: built in.

    `pushes_only`: a beam that merely lies on it can lift off.
    """

    at_m: float
    name: str = ""
    stiffness_n_m: float | None = None
    holds_turn: bool = False
    pushes_only: bool = False


@dataclass(frozen=True, slots=True)
class PointLoad:
    """A force down at `at_m`; `moment_nm` turns the beam the way that its right side goes down."""

    at_m: float
    force_n: float = 0.0
    moment_nm: float = 0.0


@dataclass(frozen=True, slots=True)
class SpreadLoad:
    """A load down from `from_m` to `to_m`, varying evenly; `end_n_m` None: the same all along."""

    from_m: float
    to_m: float
    start_n_m: float
    end_n_m: float | None = None

    @property
    def total_n(self) -> float:
        """Return the whole load."""
        end = self.start_n_m if self.end_n_m is None else self.end_n_m
        return 0.5 * (self.start_n_m + end) * (self.to_m - self.from_m)


@dataclass(frozen=True, slots=True)
class Beam:
    """A straight beam of one section with its supports and loads; overhangs are what lies beyond the supports."""

    length_m: float
    ei_nm2: float
    supports: tuple[Support, ...] = ()
    points: tuple[PointLoad, ...] = ()
    spread: tuple[SpreadLoad, ...] = ()
    name: str = "beam"

    def load_n_m(self, from_m: float, to_m: float) -> tuple[float, float]:
        """Return the spread load at both ends of a stretch that no load begins or ends inside."""
        start = end = 0.0
        for load in self.spread:
            if load.from_m <= from_m and to_m <= load.to_m:
                last = load.start_n_m if load.end_n_m is None else load.end_n_m
                slope = (last - load.start_n_m) / (load.to_m - load.from_m)
                start += load.start_n_m + slope * (from_m - load.from_m)
                end += load.start_n_m + slope * (to_m - load.from_m)
        return start, end


@dataclass(frozen=True, slots=True)
class Peak:
    """A greatest value and where it is."""

    at_m: float
    value: float


@dataclass(frozen=True, slots=True)
class Span:
    """Greatest values between two supports, or on an overhang: exact, not read off a grid.

    `sagging_nm` the greatest moment, `hogging_nm` the least; `shear_n` and `deflection_m` of the greatest size.
    """

    from_m: float
    to_m: float
    sagging_nm: Peak
    hogging_nm: Peak
    shear_n: Peak
    deflection_m: Peak


@dataclass(frozen=True, slots=True, eq=False)
class BeamResult:
    """A solved beam. `reactions_n` up, in the order of the supports; 0 where the beam has lifted off one.

    `clamp_nm`: moment held by built-in supports. `tie_n`: forces down from other members, by place.
    """

    beam: Beam
    pieces: tuple[Piece, ...]
    reactions_n: tuple[float, ...]
    clamp_nm: tuple[float, ...]
    tie_n: tuple[tuple[float, float], ...] = ()

    def moment_nm(self, at_m: float | Array) -> Array:
        """Return the bending moment at places; above 0 it sags."""
        return self._read(at_m, "moment")

    def shear_n(self, at_m: float | Array) -> Array:
        """Return the shear force at places, just right of a load or support."""
        return self._read(at_m, "shear")

    def deflection_m(self, at_m: float | Array) -> Array:
        """Return the deflection at places, down."""
        return self._read(at_m, "deflection")

    def _read(self, at_m: float | Array, what: str) -> Array:
        places = np.atleast_1d(np.asarray(at_m, dtype=np.float64))
        if np.any((places < -1e-9) | (places > self.beam.length_m * (1.0 + 1e-9))):
            raise CradleError(f"{self.beam.name}: read between 0 and {self.beam.length_m:g} m only")
        starts = np.array([p.start_m for p in self.pieces])
        which = np.clip(np.searchsorted(starts, places, side="right") - 1, 0, len(starts) - 1)
        curves: list[Curve] = [getattr(p, what) for p in self.pieces]
        found = np.array(
            [value_at(curves[k], float(x - starts[k])) for k, x in zip(which, places, strict=True)]
        )
        return found if np.ndim(at_m) else found[0]

    def spans(self) -> tuple[Span, ...]:
        """Return the spans and overhangs from left to right with their greatest values."""
        cuts = sorted({0.0, self.beam.length_m, *(s.at_m for s in self.beam.supports)})
        return tuple(self._span(a, b) for a, b in pairwise(cuts))

    def _span(self, a: float, b: float) -> Span:
        inside = [p for p in self.pieces if p.start_m > a - 1e-9 and p.start_m + p.length_m < b + 1e-9]
        moments = [e for p in inside for e in p.extremes(p.moment)]
        shears = [e for p in inside for e in p.extremes(p.shear)]
        sags = [e for p in inside for e in p.extremes(p.deflection)]
        return Span(
            a,
            b,
            Peak(*max(moments, key=lambda e: e[1])),
            Peak(*min(moments, key=lambda e: e[1])),
            Peak(*max(shears, key=lambda e: abs(e[1]))),
            Peak(*max(sags, key=lambda e: abs(e[1]))),
        )

    def greatest(self) -> tuple[float, float, float]:
        """Return the greatest moment (N m), shear force (N) and deflection (m) by size, in one go."""
        spans = self.spans()
        return (
            max(max(s.sagging_nm.value, -s.hogging_nm.value) for s in spans),
            max(abs(s.shear_n.value) for s in spans),
            max(abs(s.deflection_m.value) for s in spans),
        )

    @property
    def greatest_moment_nm(self) -> float:
        """The greatest moment by size."""
        return self.greatest()[0]

    @property
    def greatest_shear_n(self) -> float:
        """The greatest shear force by size."""
        return self.greatest()[1]

    @property
    def greatest_deflection_m(self) -> float:
        """The greatest deflection by size, supports that give included."""
        return self.greatest()[2]
