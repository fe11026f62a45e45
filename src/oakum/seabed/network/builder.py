"""From readings to rows: which unknowns there are, who shares them, what sd each number has."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.names import marks_of, natural
from oakum.seabed.network.rows import Further, Label, Network, Rows
from oakum.seabed.network.site import (
    AssumedSd,
    Bearing,
    Datum,
    Depth,
    Fix,
    Gauge,
    Level,
    Observation,
    Offset,
    Site,
    Tape,
    TapeMeasure,
    Tie,
)

Array = NDArray[np.float64]
LEAST_SD_M = 1e-5
SIDES = {"left": 1, "right": -1}


def line_sd(reading: Tape | Tie, assumed: AssumedSd) -> float | None:
    """Sd of a tape: constant and proportional part; None where it is assumed."""
    if reading.sd_m is None and reading.sd_per_m is None:
        return None
    return math.hypot(reading.sd_m or 0.0, (reading.sd_per_m or 0.0) * reading.length_m)


def fix_sd(fix: Fix) -> float | None:
    """Horizontal sd of a fix: of the position and of the lean of the line; None where neither is known."""
    lean = (
        fix.line_m * math.tan(math.radians(fix.lean_deg))
        if fix.line_m is not None and fix.lean_deg is not None
        else None
    )
    if fix.sd_m is None and lean is None:
        return None
    return math.hypot(fix.sd_m or 0.0, lean or 0.0)


def datum_sd(datum: Datum, axis: str) -> float:
    """Sd of one coordinate of a datum; nothing where it is held."""
    return (datum.sd_z_m if axis == "z" and datum.sd_z_m is not None else datum.sd_m) or 0.0


@dataclass(slots=True)
class _Lines:
    """Rows of one equation while they are collected."""

    labels: list[Label] = field(default_factory=list)
    columns: list[list[int]] = field(default_factory=list)
    constants: list[tuple[float, float, float]] = field(default_factory=list)
    read: list[float] = field(default_factory=list)
    sd: list[float] = field(default_factory=list)


class Builder:
    """Collects rows; `assumed_uses` counts readings without an sd by kind."""

    def __init__(self, site: Site, names: Sequence[str], further: Iterable[Observation]) -> None:
        self.site = site
        self.names = tuple(sorted(names, key=natural))
        self.at = {name: 3 * i for i, name in enumerate(self.names)}
        self.measures = {t.name: t for t in site.tapes}
        self.gauges = {g.name: g for g in site.gauges}
        self.further: list[Further] = []
        self.slot: dict[tuple[str, str], int] = {}
        self.lines: dict[str, _Lines] = defaultdict(_Lines)
        self.assumed_uses: Counter[str] = Counter()
        self.sides: list[tuple[int, int, int, int]] = []
        self.nothing = -1
        for reading in further:
            self._unknowns(reading)
        self.nothing = 3 * len(self.names) + len(self.further)

    def _unknown(self, what: str, name: str, known: float, unit: str) -> None:
        if (what, name) not in self.slot:
            self.slot[what, name] = 3 * len(self.names) + len(self.further)
            self.further.append(Further(what, name, known, unit))

    def _unknowns(self, reading: Observation) -> None:
        match reading:
            case Tape() | Tie():
                measure = self.measures.get(reading.tape, TapeMeasure(name=reading.tape))
                if measure.solve_scale:
                    self._unknown("scale", measure.name, measure.scale, "")
                if measure.solve_zero:
                    self._unknown("zero", measure.name, measure.zero_m, "m")
            case Depth():
                if reading.water_level_m is None:
                    self._unknown("water level", dive_of(reading), 0.0, "m")
                elif self.gauges.get(reading.gauge, Gauge(name="")).offset_sd_m is not None:
                    self._unknown("offset", dive_of(reading), 0.0, "m")
            case Bearing():
                if reading.declination_deg is None:
                    self._unknown("turn", reading.compass, 0.0, "deg")
            case _:
                pass

    def knows(self, reading: Observation) -> bool:
        """Whether a reading set aside can be compared: it has no unknown of its own."""
        match reading:
            case Depth():
                return reading.water_level_m is not None or ("water level", dive_of(reading)) in self.slot
            case Bearing():
                return reading.declination_deg is not None or ("turn", reading.compass) in self.slot
            case _:
                return True

    def _sd(self, given: float | None, kind: str, assumed: float) -> float:
        if given is None or given == 0.0:
            self.assumed_uses[kind] += 1
            return assumed
        return max(given, LEAST_SD_M)

    def row(
        self,
        equation: str,
        label: Label,
        columns: list[int],
        read: float,
        sd: float,
        constants: tuple[float, float, float] = (0.0, 0.0, 0.0),
    ) -> None:
        """Add one row."""
        lines = self.lines[equation]
        lines.labels.append(label)
        lines.columns.append(columns)
        lines.constants.append(constants)
        lines.read.append(read)
        lines.sd.append(sd)

    def _xyz(self, name: str) -> list[int]:
        first = self.at[name]
        return [first, first + 1, first + 2]

    def _instrument(self, tape: str) -> tuple[list[int], float, float]:
        measure = self.measures.get(tape, TapeMeasure(name=tape))
        slots = [self.slot.get((what, tape), self.nothing) for what in ("scale", "zero")]
        return slots, measure.scale, measure.zero_m

    def add(self, reading: Observation, origin: Array) -> None:
        """Add the rows of one reading."""
        assumed, marks = self.site.assumed, marks_of(reading)

        def label(part: str = "", unit: str = "m") -> Label:
            return Label(reading.id, part, type(reading).__name__.lower(), marks, reading.text, unit)

        match reading:
            case Tape():
                slots, scale, zero = self._instrument(reading.tape)
                other = math.hypot(assumed.tape_m, assumed.tape_per_m * reading.length_m)
                sd = self._sd(line_sd(reading, assumed), "tape", other)
                columns = [*self._xyz(reading.a), *self._xyz(reading.b), *slots]
                self.row("tape", label(), columns, reading.length_m, sd, (scale, zero, 0.0))
            case Tie():
                slots, scale, zero = self._instrument(reading.tape)
                other = math.hypot(assumed.tape_m, assumed.tape_per_m * reading.length_m)
                sd = self._sd(line_sd(reading, assumed), "tie", other)
                columns = [c for name in marks for c in self._xyz(name)] + slots
                if reading.side in SIDES:
                    mark, start, end = (self.at[name] // 3 for name in marks)
                    self.sides.append((mark, start, end, SIDES[reading.side]))
                self.row("tie", label(), columns, reading.length_m, sd, (scale, zero, reading.at_m))
            case Depth():
                known = reading.water_level_m is not None
                level = self.nothing if known else self.slot["water level", dive_of(reading)]
                offset = self.slot.get(("offset", dive_of(reading)), self.nothing) if known else self.nothing
                sd = self._sd(reading.sd_m, "depth", assumed.depth_m)
                surface = 0.0 if reading.water_level_m is None else reading.water_level_m - float(origin[2])
                columns = [self.at[reading.mark] + 2, level, offset]
                self.row("depth", label(), columns, reading.depth_m, sd, (surface, reading.above_m, 0.0))
            case Level():
                sd = self._sd(reading.sd_m, "level", assumed.level_m)
                columns = [self.at[reading.a] + 2, self.at[reading.b] + 2]
                self.row("level", label(), columns, reading.rise_m, sd)
            case Bearing():
                sd = self._sd(reading.sd_deg, "bearing", assumed.bearing_deg)
                turn = self.slot.get(("turn", reading.compass), self.nothing)
                turn = turn if reading.declination_deg is None else self.nothing
                columns = [*self._xyz(reading.a)[:2], *self._xyz(reading.b)[:2], turn]
                constants = (reading.declination_deg or 0.0, 0.0, 0.0)
                self.row("bearing", label(unit="deg"), columns, reading.bearing_deg, sd, constants)
            case Fix():
                sd = self._sd(fix_sd(reading), "fix", assumed.fix_m)
                sd_z = reading.sd_z_m if reading.sd_z_m is not None else reading.sd_m
                for axis, value in zip("xyz", (reading.x_m, reading.y_m, reading.z_m), strict=True):
                    if value is not None:
                        own = sd if axis != "z" else self._sd(sd_z, "fix", assumed.fix_z_m)
                        self._coordinate(label(axis), reading.mark, axis, value, own, origin)
            case Offset():
                columns = [c for name in marks for c in self._xyz(name)[:2]]
                if reading.along_m is not None:
                    sd = self._sd(reading.sd_along_m, "offset", assumed.offset_m)
                    self.row("along", label("along"), columns, reading.along_m, sd)
                if reading.left_m is not None:
                    sd = self._sd(reading.sd_left_m, "offset", assumed.offset_m)
                    self.row("left", label("left"), columns, reading.left_m, sd)

    def _coordinate(self, label: Label, mark: str, axis: str, value: float, sd: float, origin: Array) -> None:
        k = "xyz".index(axis)
        self.row("coordinate", label, [self.at[mark] + k], value - float(origin[k]), sd)

    def weighted(self, datum: Datum, origin: Array) -> None:
        """Rows of a datum that is known with an sd."""
        for axis, value in zip("xyz", (datum.x_m, datum.y_m, datum.z_m), strict=True):
            sd = datum_sd(datum, axis)
            if value is not None and sd > 0.0:
                label = Label(datum.id or f"datum {datum.mark}", axis, "datum", (datum.mark,), datum.text)
                self._coordinate(label, datum.mark, axis, value, sd, origin)

    def known_of_instruments(self) -> None:
        """Rows for what is known of a tape's errors and a gauge's offset."""
        for (what, name), column in self.slot.items():
            sd: float | None = None
            if what in ("scale", "zero"):
                measure = self.measures[name]
                sd = measure.scale_sd if what == "scale" else measure.zero_sd_m
            elif what == "offset":
                sd = self.gauges[name.split(", dive ")[0]].offset_sd_m
            if sd is not None and sd > 0.0:
                self.row("coordinate", Label(f"{what} of {name}", "", "instrument", ()), [column], 0.0, sd)

    def network(self, given: Array, held: NDArray[np.bool_], origin: Array) -> Network:
        """The problem in numbers."""
        groups = tuple(
            Rows(
                equation,
                tuple(lines.labels),
                np.array(lines.columns, dtype=np.int64),
                np.array(lines.constants, dtype=np.float64),
                np.array(lines.read, dtype=np.float64),
                np.array(lines.sd, dtype=np.float64),
            )
            for equation, lines in self.lines.items()
        )
        sides = tuple(dict.fromkeys(self.sides))
        return Network(self.names, tuple(self.further), origin, given, held, groups, sides)


def dive_of(depth: Depth) -> str:
    """Readings of one gauge on one dive share a water level and an offset."""
    return f"{depth.gauge}, dive {depth.dive}" if depth.dive else depth.gauge
