"""From what the logbook knows to the site the adjustment takes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from oakum.desk.seabed.facts import Facts, KeptReading, KeptThing, facts_of
from oakum.desk.seabed.water import Water, dive_key, drifts_m, moment_of, water_of
from oakum.record import Logbook
from oakum.seabed.network import (
    Bearing,
    Datum,
    Depth,
    Fix,
    Gauge,
    Level,
    Mark,
    Observation,
    Offset,
    Site,
    Tape,
    TapeMeasure,
    Tie,
)


@dataclass(frozen=True, slots=True)
class Assembled:
    """The site, what it was made from, and what was odd on the way."""

    site: Site
    facts: Facts
    objections: tuple[str, ...]


def site_of(logbook: Logbook) -> Site:
    """Return everything the adjustment may use, as the logbook has it now."""
    return assemble(facts_of(logbook)).site


def assemble(facts: Facts) -> Assembled:
    """Make the site. Names of marks are those that stand for all their spellings."""
    rename = {spelling: mark.name for mark in facts.marks for spelling in mark.also}
    instruments = {one.name.casefold(): one for one in facts.instruments}
    water = water_of(facts.water, rename)
    depths = [one for one in facts.readings if one.what == "depth"]
    drift, said = drifts_m(depths, water.benches) if water.benches else ({}, ())
    maker = _Maker(instruments, water, drift, _turn(facts.site))
    observations = tuple(maker.made(one) for one in facts.readings)
    three = facts.site.get("anticlockwise")
    site = Site(
        observations=observations,
        datums=tuple(_datum(mark) for mark in facts.marks if _is_held(mark)),
        marks=tuple(Mark(name=mark.name) for mark in facts.marks),
        tapes=tuple(_tape(one) for one in facts.instruments if one.fields["kind"] == "tape"),
        gauges=tuple(
            Gauge(name=one.name, offset_sd_m=one.number("offset_sd"))
            for one in facts.instruments
            if one.fields["kind"] == "gauge"
        ),
        rejected=frozenset(one.id for one in facts.readings if one.rejected is not None),
        anticlockwise=None if three is None else _three(three, rename),
    )
    return Assembled(site, facts, (*water.objections, *said))


def _three(names: list[str], rename: Mapping[str, str]) -> tuple[str, str, str]:
    a, b, c = (rename.get(name, name) for name in names)
    return (a, b, c)


def _turn(site: Mapping[str, Any]) -> float | None:
    """What is added to a compass bearing to count from site north; None where the declination is not known."""
    if "declination" not in site:
        return None
    return float(site["declination"]) + float(site.get("turn") or 0.0)


def _is_held(mark: KeptThing) -> bool:
    return any(mark.fields.get(axis) is not None for axis in ("x", "y", "z"))


def _datum(mark: KeptThing) -> Datum:
    return Datum(
        mark=mark.name,
        x_m=mark.number("x"),
        y_m=mark.number("y"),
        z_m=mark.number("z"),
        sd_m=mark.number("sd"),
        sd_z_m=mark.number("sd_z"),
        id=mark.subject,
        text=str(mark.fields.get("source") or ""),
    )


def _tape(one: KeptThing) -> TapeMeasure:
    solve = one.fields.get("solve") or ()
    return TapeMeasure(
        name=one.name,
        scale=one.number("scale") or 0.0,
        zero_m=one.number("zero") or 0.0,
        solve_scale="scale" in solve,
        solve_zero="zero" in solve,
        scale_sd=one.number("scale_sd"),
        zero_sd_m=one.number("zero_sd"),
        longest_m=one.number("longest"),
    )


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes an observation of a kept reading."""

    instruments: Mapping[str, KeptThing]
    water: Water
    drift: Mapping[str, float]
    turn: float | None

    def made(self, one: KeptReading) -> Observation:
        """The observation; its id is that of the reading."""
        return _MADE[one.what](self, one)

    def with_(self, one: KeptReading) -> tuple[str, float | None, float | None]:
        """The name of the instrument, and the sd and sd a metre of a reading: its own, else the instrument's."""
        name = one.word("instrument")
        thing = self.instruments.get(name.casefold())
        sd, per_m = one.number("sd"), one.number("sd_per_m")
        if thing is not None:
            name = thing.name
            if sd is None and per_m is None:
                sd, per_m = thing.number("sd"), thing.number("sd_per_m")
        return name, sd, per_m

    def tape(self, one: KeptReading) -> Observation:
        name, sd, per_m = self.with_(one)
        return Tape(
            id=one.id,
            a=one.marks[0],
            b=one.marks[1],
            length_m=float(one.body["value"]),
            sd_m=sd,
            sd_per_m=per_m,
            tape=name,
            dive=one.word("dive"),
            text=one.text,
        )

    def depth(self, one: KeptReading) -> Observation:
        name, sd, _ = self.with_(one)
        moment = moment_of(one.seen)
        level = None if moment is None else self.water.series.at(moment)
        drift = 0.0 if level is not None else self.drift.get(one.id, 0.0)
        return Depth(
            id=one.id,
            mark=one.marks[0],
            depth_m=float(one.body["value"]) - drift,
            sd_m=sd,
            gauge=name or "gauge",
            dive=dive_key(one)[1],
            water_level_m=level,
            above_m=one.number("above") or 0.0,
            text=one.text,
        )

    def level(self, one: KeptReading) -> Observation:
        return Level(
            id=one.id,
            a=one.marks[0],
            b=one.marks[1],
            rise_m=float(one.body["value"]),
            sd_m=self.with_(one)[1],
            text=one.text,
        )

    def bearing(self, one: KeptReading) -> Observation:
        name, sd, _ = self.with_(one)
        return Bearing(
            id=one.id,
            a=one.marks[0],
            b=one.marks[1],
            bearing_deg=float(one.body["value"]),
            sd_deg=sd,
            declination_deg=self.turn,
            compass=name,
            text=one.text,
        )

    def fix(self, one: KeptReading) -> Observation:
        return Fix(
            id=one.id,
            mark=one.marks[0],
            x_m=float(one.body["x"]),
            y_m=float(one.body["y"]),
            z_m=one.number("z"),
            sd_m=one.number("sd"),
            sd_z_m=one.number("sd_z"),
            line_m=one.number("line"),
            lean_deg=one.number("lean"),
            text=one.text,
        )

    def offset(self, one: KeptReading) -> Observation:
        return Offset(
            id=one.id,
            mark=one.marks[0],
            base_a=one.marks[1],
            base_b=one.marks[2],
            along_m=one.number("along"),
            left_m=one.number("left"),
            sd_along_m=one.number("sd"),
            sd_left_m=one.number("sd_left") or one.number("sd"),
            text=one.text,
        )

    def tie(self, one: KeptReading) -> Observation:
        name, sd, per_m = self.with_(one)
        return Tie(
            id=one.id,
            mark=one.marks[0],
            base_a=one.marks[1],
            base_b=one.marks[2],
            at_m=float(one.body["at"]),
            length_m=float(one.body["value"]),
            sd_m=sd,
            sd_per_m=per_m,
            tape=name,
            side=one.word("side"),
            text=one.text,
        )


_MADE: Mapping[str, Callable[[_Maker, KeptReading], Observation]] = {
    "tape": _Maker.tape,
    "depth": _Maker.depth,
    "level": _Maker.level,
    "bearing": _Maker.bearing,
    "fix": _Maker.fix,
    "offset": _Maker.offset,
    "tie": _Maker.tie,
}
