"""Whether a reading can be right: held against the tapes and depths there are and the plan as it stands.

A doubt is a question asked at once, while the slate is still at hand; it never keeps a reading out.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from statistics import median
from typing import Any

import numpy as np

from oakum.desk.seabed.proposals import ProposedReading, Remark
from oakum.desk.seabed.survey import SurveyAnswer
from oakum.desk.seabed.triangles import SIGMAS, Pair, Tapes, blamed, pair_of, slack_m
from oakum.seabed.network import AssumedSd, Depth, Site, SolvedMark, Tape
from oakum.seabed.network.names import spelling

MOST_UNSURE_M = 0.5
"""A mark known less well than this says nothing about a reading."""

OTHER_DIVE_M = 2.0
"""How far the water may stand otherwise on another dive before a depth is asked about (practice, no source)."""

_ASSUMED = AssumedSd()


@dataclass(frozen=True, slots=True)
class Page:
    """Pairs and marks to doubt among readings that came together: those that break the most."""

    tapes: frozenset[Pair] = frozenset()
    depths: frozenset[str] = frozenset()


class Known:
    """What is known of the site, for asking about one reading after the other; readings may be added."""

    def __init__(self, site: Site, answer: SurveyAnswer | None = None) -> None:
        self.names: set[str] = {mark.name for mark in site.marks} | {d.mark for d in site.datums}
        self.tapes = Tapes()
        self._depths: dict[str, list[tuple[str, float]]] = defaultdict(list)
        self._longest = {t.name.casefold(): t.longest_m for t in site.tapes if t.longest_m is not None}
        doubted = {s.id for s in answer.solution.suspects if s.locatable} if answer is not None else set()
        for one in site.observations:
            self.names.update(_names_of(one))
            if one.id in site.rejected or one.id in doubted:
                continue
            if isinstance(one, Tape):
                sd = math.hypot(one.sd_m or 0.0, (one.sd_per_m or 0.0) * one.length_m) or _ASSUMED.tape_m
                self.tapes.add(one.a, one.b, one.length_m, sd, one.id)
            elif isinstance(one, Depth):
                self._depths[one.mark].append((f"{one.gauge} {one.dive}", one.depth_m - one.above_m))
        self._spelt = {spelling(name): name for name in self.names}
        solution = answer.solution if answer is not None else None
        if solution is not None and solution.without_suspects is not None:
            solution = solution.without_suspects
        self._places: Mapping[str, SolvedMark] = (
            {mark.name: mark for mark in solution.marks} if solution is not None else {}
        )

    def add(self, one: ProposedReading, rename: Mapping[str, str]) -> None:
        """Take a reading that was just proposed as known for those after it."""
        if one.faults:
            return
        marks = tuple(rename.get(name, name) for name in one.marks)
        for name in marks:
            self.names.add(name)
            self._spelt.setdefault(spelling(name), name)
        if one.what == "tape":
            sd = float(one.body.get("sd") or _ASSUMED.tape_m)
            self.tapes.add(marks[0], marks[1], float(one.body["value"]), sd, f"row {one.row}")
        elif one.what == "depth":
            self._depths[marks[0]].append((_dive(one), _depth(one)))

    def asked(
        self, one: ProposedReading, rename: Mapping[str, str], page: Page | None = None
    ) -> ProposedReading:
        """The reading with a doubt for everything that does not fit what is known."""
        if one.faults:
            return one
        marks = tuple(rename.get(name, name) for name in one.marks)
        doubts = self._tape_end(one)
        if one.what == "tape":
            doubts += self.tape(marks, one.body, page)
        elif one.what == "depth":
            doubts += self.depth(marks[0], one, page)
        elif one.what == "level":
            doubts += self._level(marks, one.body)
        elif one.what == "tie":
            doubts += self._tie(marks, one.body)
        return one.doubted(*doubts)

    def named(self, one: ProposedReading, rename: Mapping[str, str]) -> ProposedReading:
        """The reading with a doubt for a name that is not known but spelt like one that is."""
        if one.faults:
            return one
        fields = ("from", "to") if len(one.marks) == 2 else ("mark", "line", "line")
        found = []
        for field, name in zip(fields, (rename.get(name, name) for name in one.marks), strict=False):
            other = self._spelt.get(spelling(name))
            if name not in self.names and other is not None:
                words = f"{name} is not a mark yet, but {other} is. Write {other} if it is the same mark."
                found.append(Remark(field, words))
        return one.doubted(*found)

    def _tape_end(self, one: ProposedReading) -> list[Remark]:
        longest = self._longest.get(str(one.body.get("instrument", "")).casefold())
        if one.what not in ("tape", "tie") or longest is None or float(one.body["value"]) <= longest:
            return []
        words = (
            f"{float(one.body['value']):g} m is beyond the end of tape {one.body['instrument']} ({longest:g} m); "
            "it would not count."
        )
        return [Remark("value", words)]

    def tape(
        self, marks: tuple[str, ...], body: Mapping[str, Any], page: Page | None = None
    ) -> list[Remark]:
        """Doubt a tape: the same pair read before, triangles, depths, the plan; the first that does not fit.

        Of a `page` whose tapes are all known only the pairs named there are held against their triangles.
        """
        a, b = marks
        sd = float(body.get("sd") or _ASSUMED.tape_m)
        length = float(body["value"])
        said = self._wrong_tape(a, b, length, sd, page)
        if said and self._is_tested(a, b) and self._wrong_tape(a, b, 0.5 * length, sd, page, but_same=True):
            as_feet = 0.3048 * length
            if not self._wrong_tape(a, b, as_feet, sd, page, but_same=True):
                said = f"{said} Read as feet ({as_feet:.2f} m) it would fit."
        return [Remark("value", said)] if said else []

    def _wrong_tape(
        self, a: str, b: str, length: float, sd: float, page: Page | None, but_same: bool = False
    ) -> str:
        said = "" if but_same and page is not None else self.tapes.same_pair(a, b, length, sd)
        pair = pair_of(a, b)
        if not said and (page is None or pair in page.tapes):
            doubted = set() if page is None else page.tapes - {pair}
            said = self.tapes.triangle(a, b, length, sd, doubted) or self.tapes.triangle(a, b, length, sd)
        if not said and (page is None or not {a, b} & page.depths):
            said = self._depth_gap(a, b, length)
        return said or self._against_plan(a, b, length, sd)

    def page(self) -> Page:
        """What to doubt among all that is known, now that a whole page of readings was added."""
        gaps = []
        for a, b in self.tapes.pairs:
            if self._depth_gap(a, b, self.tapes.middle(a, b)[0]):
                gaps.append((a, b))
        return Page(frozenset(self.tapes.doubted()), frozenset(blamed(gaps)))

    def _is_tested(self, a: str, b: str) -> bool:
        """Whether enough is known for a fit to mean something: the pair itself, three triangles, or the plan."""
        if pair_of(a, b) in self.tapes.pairs or len(self.tapes.third(a, b)) >= 3:
            return True
        return a in self._places and b in self._places

    def _depth_gap(self, a: str, b: str, length: float) -> str:
        """Two marks cannot differ more in depth than the tape between them is long."""
        for dive, there in self._depths.get(a, ()):
            for other, here in self._depths.get(b, ()):
                gap = abs(there - here)
                if gap - length > slack_m(_ASSUMED.depth_m, _ASSUMED.depth_m) + (dive != other) * OTHER_DIVE_M:
                    return f"{a}–{b} is {length:.2f} m, but their depths are {gap:.1f} m apart."
        return ""

    def _against_plan(self, a: str, b: str, length: float, sd: float) -> str:
        pa, pb = self._places.get(a), self._places.get(b)
        if pa is None or pb is None:
            return ""
        arm = np.subtract(pb.place, pa.place)
        should = float(np.linalg.norm(arm))
        if should < 1e-3:
            return ""
        unsure = _along(pa, arm / should) + _along(pb, arm / should)
        if not unsure < MOST_UNSURE_M or abs(length - should) <= slack_m(sd, unsure):
            return ""
        return (
            f"{a}–{b} is {length:.2f} m, but the plan as it stands makes it {should:.2f} m "
            f"(give or take {2.0 * max(unsure, 0.005):.2f} m)."
        )

    def depth(self, mark: str, one: ProposedReading, page: Page | None = None) -> list[Remark]:
        """Doubt a depth: against the depths of marks it is taped to, and the water level the plan speaks of."""
        read, dive = _depth(one), _dive(one)
        for other in sorted(self.tapes.near.get(mark, ())) if page is None or mark in page.depths else ():
            length, _ = self.tapes.middle(mark, other)
            for key, there in self._depths.get(other, ()):
                gap = abs(read - there)
                if gap - length > slack_m(_ASSUMED.depth_m, _ASSUMED.depth_m) + (key != dive) * OTHER_DIVE_M:
                    words = (
                        f"{mark} is {read:.1f} m deep and {other} {there:.1f} m, {gap:.1f} m apart, but the tape "
                        f"between them is {length:.2f} m."
                    )
                    return [Remark("value", words)]
        return self._depth_in_plan(mark, read, dive)

    def _depth_in_plan(self, mark: str, read: float, dive: str) -> list[Remark]:
        place = self._places.get(mark)
        found = [
            (key, self._places[name].z_m + depth)
            for name, held in self._depths.items()
            if name in self._places
            for key, depth in held
        ]
        if place is None or not found or place.sd_m[2] > MOST_UNSURE_M:
            return []
        same = [level for key, level in found if key == dive]
        levels = same or [level for _, level in found]
        slack = slack_m(_ASSUMED.depth_m, place.sd_m[2]) + 0.1 + (0.0 if same else OTHER_DIVE_M)
        should = median(levels) - place.z_m
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
        if unsure > MOST_UNSURE_M or abs(rise - should) <= slack_m(sd, unsure):
            return []
        turned = " Was it read the other way round?" if abs(rise + should) < 0.5 * abs(rise - should) else ""
        words = f"{marks[1]} is {rise:+.2f} m above {marks[0]}, but the plan makes it {should:+.2f} m.{turned}"
        return [Remark("value", words)]

    def _tie(self, marks: tuple[str, ...], body: Mapping[str, Any]) -> list[Remark]:
        mark, a, b = (self._places.get(name) for name in marks)
        if mark is None or a is None or b is None:
            return []
        line = np.subtract(b.place, a.place)
        foot = np.asarray(a.place) + line / max(float(np.linalg.norm(line)), 1e-9) * float(body["at"])
        should, length = float(np.linalg.norm(np.asarray(mark.place) - foot)), float(body["value"])
        unsure = sum(float(np.max(one.sd_m)) for one in (mark, a, b))
        if unsure > MOST_UNSURE_M or abs(length - should) <= max(SIGMAS * unsure, slack_m()):
            return []
        words = f"{marks[0]} is {length:.2f} m from there, but the plan as it stands makes it {should:.2f} m."
        return [Remark("value", words)]


def _names_of(one: object) -> tuple[str, ...]:
    return tuple(getattr(one, field) for field in ("a", "b", "mark", "base_a", "base_b") if hasattr(one, field))


def _dive(one: ProposedReading) -> str:
    day = str((one.seen or {}).get("at", ""))[:10]
    return f"{one.body.get('instrument') or 'gauge'} {one.body.get('dive') or day}"


def _depth(one: ProposedReading) -> float:
    return float(one.body["value"]) - float(one.body.get("above") or 0.0)


def _along(mark: SolvedMark, direction: np.ndarray[Any, Any]) -> float:
    return math.sqrt(max(float(direction @ mark.cov_m2 @ direction), 0.0))
