"""Whether a reading can be right: held against the tapes there are (triangles) and the plan as it stands.

A doubt is a question asked at once, while the slate is still at hand; it never keeps a reading out.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping
from statistics import median
from typing import Any

import numpy as np

from oakum.desk.seabed.proposals import ProposedReading, Remark
from oakum.desk.seabed.survey import SurveyAnswer
from oakum.seabed.network import AssumedSd, Depth, Site, SolvedMark, Tape
from oakum.seabed.network.names import spelling

SIGMAS = 3.29
"""How many standard deviations off a reading may be before it is asked about: 1 right one in 1,000 is."""

LEAST_DOUBT_M = 0.10
"""A smaller gap to the plan is not asked about: the adjustment tells better (practice, no source)."""

MOST_UNSURE_M = 0.5
"""A mark known less well than this says nothing about a reading."""

_ASSUMED = AssumedSd()


class Known:
    """What is known of the site, for asking about one reading after the other; readings may be added."""

    def __init__(self, site: Site, answer: SurveyAnswer | None = None) -> None:
        self.names: set[str] = {mark.name for mark in site.marks} | {d.mark for d in site.datums}
        self._pairs: dict[frozenset[str], list[tuple[float, float, str]]] = defaultdict(list)
        self._near: dict[str, set[str]] = defaultdict(set)
        self._depths: list[tuple[str, str, float]] = []
        self._longest = {t.name.casefold(): t.longest_m for t in site.tapes if t.longest_m is not None}
        for one in site.observations:
            self.names.update(_names_of(one))
            if one.id in site.rejected:
                continue
            if isinstance(one, Tape):
                sd = math.hypot(one.sd_m or 0.0, (one.sd_per_m or 0.0) * one.length_m) or _ASSUMED.tape_m
                self._add_tape(one.a, one.b, one.length_m, sd, one.id)
            elif isinstance(one, Depth):
                self._depths.append((one.mark, f"{one.gauge} {one.dive}", one.depth_m - one.above_m))
        self._spelt = {spelling(name): name for name in self.names}
        solution = answer.solution if answer is not None else None
        if solution is not None and solution.without_suspects is not None:
            solution = solution.without_suspects
        self._places: Mapping[str, SolvedMark] = (
            {mark.name: mark for mark in solution.marks} if solution is not None else {}
        )

    def _add_tape(self, a: str, b: str, length_m: float, sd_m: float, id: str) -> None:
        self._pairs[frozenset((a, b))].append((length_m, sd_m, id))
        self._near[a].add(b)
        self._near[b].add(a)

    def add(self, one: ProposedReading, rename: Mapping[str, str]) -> None:
        """Take a reading that was just proposed as known for those after it."""
        marks = tuple(rename.get(name, name) for name in one.marks)
        for name in marks:
            self.names.add(name)
            self._spelt.setdefault(spelling(name), name)
        if one.what == "tape" and one.status == "ready":
            sd = float(one.body.get("sd") or _ASSUMED.tape_m)
            self._add_tape(marks[0], marks[1], float(one.body["value"]), sd, f"row {one.row}")

    def asked(self, one: ProposedReading, rename: Mapping[str, str]) -> ProposedReading:
        """The reading with a doubt for everything that does not fit what is known, and a note on new marks."""
        if one.faults:
            return one
        marks = tuple(rename.get(name, name) for name in one.marks)
        doubts = [*self._names(one, marks), *self._tape_end(one)]
        if one.what == "tape":
            doubts += self.tape(marks, one.body)
        elif one.what == "depth":
            doubts += self._depth(marks[0], one)
        elif one.what == "level":
            doubts += self._level(marks, one.body)
        elif one.what == "tie":
            doubts += self._tie(marks, one.body)
        return one.doubted(*doubts)

    def _names(self, one: ProposedReading, marks: tuple[str, ...]) -> list[Remark]:
        """A name that is not known but spelt like one that is."""
        fields = ("from", "to") if len(marks) == 2 else ("mark", "line", "line")
        found = []
        for field, name in zip(fields, marks, strict=False):
            other = self._spelt.get(spelling(name))
            if name not in self.names and other is not None:
                found.append(
                    Remark(field, f"{name} is not a mark yet, but {other} is. Write {other} if it is the same mark.")
                )
        return found

    def _tape_end(self, one: ProposedReading) -> list[Remark]:
        longest = self._longest.get(str(one.body.get("instrument", "")).casefold())
        if one.what not in ("tape", "tie") or longest is None or float(one.body["value"]) <= longest:
            return []
        words = (
            f"{float(one.body['value']):g} m is beyond the end of tape {one.body['instrument']} ({longest:g} m); "
            "it would not count."
        )
        return [Remark("value", words)]

    def tape(self, marks: tuple[str, ...], body: Mapping[str, Any]) -> list[Remark]:
        """Ask about a tape: the same pair read before, triangles, the plan; the first that does not fit."""
        a, b = marks
        length, sd = float(body["value"]), float(body.get("sd") or _ASSUMED.tape_m)
        for said in (
            self._same_pair(a, b, length, sd),
            self._triangle(a, b, length, sd),
            self._against_plan(a, b, length, sd),
        ):
            if said:
                return [Remark("value", said)]
        return []

    def _same_pair(self, a: str, b: str, length: float, sd: float) -> str:
        for before, other_sd, id in self._pairs.get(frozenset((a, b)), ()):
            if abs(length - before) > max(SIGMAS * math.hypot(sd, other_sd), LEAST_DOUBT_M):
                return f"{a}–{b} is {length:.2f} m, but it was read as {before:.2f} m before ({id})."
        return ""

    def _triangle(self, a: str, b: str, length: float, sd: float) -> str:
        worst, said = 0.0, ""
        for third in sorted(self._near[a] & self._near[b]):
            to_a, sd_a = self._middle(a, third)
            to_b, sd_b = self._middle(b, third)
            slack = max(SIGMAS * math.sqrt(sd**2 + sd_a**2 + sd_b**2), LEAST_DOUBT_M)
            low, high = abs(to_a - to_b), to_a + to_b
            off = max(length - high, low - length)
            if off > max(slack, worst):
                worst = off
                said = (
                    f"{a}–{b} is {length:.2f} m, but {a}–{third} and {third}–{b} allow {low:.1f} to {high:.1f} m."
                )
        return said

    def _middle(self, a: str, b: str) -> tuple[float, float]:
        held = self._pairs[frozenset((a, b))]
        return median(one[0] for one in held), max(one[1] for one in held)

    def _against_plan(self, a: str, b: str, length: float, sd: float) -> str:
        pa, pb = self._places.get(a), self._places.get(b)
        if pa is None or pb is None:
            return ""
        arm = np.subtract(pb.place, pa.place)
        should = float(np.linalg.norm(arm))
        if should < 1e-3:
            return ""
        unsure = _along(pa, arm / should) + _along(pb, arm / should)
        if not unsure < MOST_UNSURE_M or abs(length - should) <= max(
            SIGMAS * math.hypot(sd, unsure), LEAST_DOUBT_M
        ):
            return ""
        return (
            f"{a}–{b} is {length:.2f} m, but the plan as it stands makes it {should:.2f} m "
            f"(give or take {2.0 * max(unsure, 0.005):.2f} m)."
        )

    def _depth(self, mark: str, one: ProposedReading) -> list[Remark]:
        """Against the water level the other depths of the plan speak of, those of the same dive first."""
        place = self._places.get(mark)
        read = float(one.body["value"]) - float(one.body.get("above") or 0.0)
        gauge = str(one.body.get("instrument", ""))
        dive = str(one.body.get("dive") or (one.seen or {}).get("at", "")[:10])
        levels: list[float] = []
        same: list[float] = []
        for other, key, depth in self._depths:
            there = self._places.get(other)
            if there is not None:
                levels.append(there.z_m + depth)
                if key == f"{gauge} {dive}":
                    same.append(there.z_m + depth)
        if place is None or not levels or place.sd_m[2] > MOST_UNSURE_M:
            return []
        water = median(same or levels)
        slack = SIGMAS * math.hypot(_ASSUMED.depth_m, place.sd_m[2]) + 0.1
        if not same:
            slack += 0.5 * (max(levels) - min(levels)) + 0.5
        should = water - place.z_m
        if abs(read - should) <= slack:
            return []
        others = "the other depths of this dive" if same else "the depths of other dives"
        return [Remark("value", f"{mark} is {read:.1f} m deep, but the plan and {others} make it {should:.1f} m.")]

    def _level(self, marks: tuple[str, ...], body: Mapping[str, Any]) -> list[Remark]:
        pa, pb = self._places.get(marks[0]), self._places.get(marks[1])
        if pa is None or pb is None:
            return []
        unsure, rise, should = pa.sd_m[2] + pb.sd_m[2], float(body["value"]), pb.z_m - pa.z_m
        sd = float(body.get("sd") or _ASSUMED.level_m)
        if unsure > MOST_UNSURE_M or abs(rise - should) <= max(SIGMAS * math.hypot(sd, unsure), LEAST_DOUBT_M):
            return []
        turned = " Was it read the other way round?" if abs(rise + should) < 0.5 * abs(rise - should) else ""
        words = f"{marks[1]} is {rise:+.2f} m above {marks[0]}, but the plan makes it {should:+.2f} m.{turned}"
        return [Remark("value", words)]

    def _tie(self, marks: tuple[str, ...], body: Mapping[str, Any]) -> list[Remark]:
        held = [self._places.get(name) for name in marks]
        mark, a, b = held
        if mark is None or a is None or b is None:
            return []
        line = np.subtract(b.place, a.place)
        foot = np.asarray(a.place) + line / max(float(np.linalg.norm(line)), 1e-9) * float(body["at"])
        should, length = float(np.linalg.norm(np.asarray(mark.place) - foot)), float(body["value"])
        unsure = sum(float(np.max(one.sd_m)) for one in (mark, a, b))
        if unsure > MOST_UNSURE_M or abs(length - should) <= max(SIGMAS * unsure, LEAST_DOUBT_M):
            return []
        words = f"{marks[0]} is {length:.2f} m from there, but the plan as it stands makes it {should:.2f} m."
        return [Remark("value", words)]


def _names_of(one: object) -> tuple[str, ...]:
    return tuple(
        getattr(one, field) for field in ("a", "b", "mark", "base_a", "base_b") if hasattr(one, field)
    )


def _along(mark: SolvedMark, direction: np.ndarray[Any, Any]) -> float:
    return math.sqrt(max(float(direction @ mark.cov_m2 @ direction), 0.0))
