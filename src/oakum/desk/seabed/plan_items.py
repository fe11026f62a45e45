"""What is drawn on the plan beside what was solved: which mark is which find, squares, outlines, drawings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from oakum.desk.seabed.dig_facts import corners_of, dig_facts
from oakum.desk.seabed.facts import KeptThing
from oakum.desk.seabed.registering import KeptDrawing, drawings_of
from oakum.desk.seabed.survey import SurveyAnswer
from oakum.record import Find, Logbook, UnknownSubjectError
from oakum.record.log.heads import current, heads
from oakum.record.log.kinds_seabed import SITE
from oakum.seabed.dig import DigError
from oakum.seabed.network import SiteSolution

Flat = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanMark:
    """What a mark is: "datum", "detail" or "find"; of a find its id, number and title."""

    name: str
    what: str = "detail"
    find: str = ""
    number: str = ""
    title: str = ""

    @property
    def words(self) -> str:
        """The mark with what it stands for."""
        said = " ".join(part for part in (self.number, self.title) if part)
        return f"{self.name}, {said}" if said else f"{self.name}, {self.what}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOutline:
    """A named chain of places in site metres; closed round an area, or open along a timber."""

    name: str
    points: tuple[Flat, ...]
    closed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanPicture:
    """A drawing laid on the site, and the box in site metres that its picture fills.

    `subject` is the drawing in the logbook, `version` the entry that laid it there.
    """

    name: str
    subject: str
    version: str
    west_m: float
    south_m: float
    east_m: float
    north_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanItems:
    """Everything drawn beside marks and readings. `true_north_deg` is the bearing of true north from site north."""

    marks: dict[str, PlanMark] = field(default_factory=dict)
    squares: tuple[PlanOutline, ...] = ()
    timbers: tuple[PlanOutline, ...] = ()
    drawings: tuple[PlanOutline, ...] = ()
    pictures: tuple[PlanPicture, ...] = ()
    true_north_deg: float | None = None

    def of(self, name: str) -> PlanMark:
        """What a mark is; one that nobody described is a detail."""
        return self.marks.get(name) or PlanMark(name=name)


def plan_items(logbook: Logbook, survey: SurveyAnswer, solution: SiteSolution | None = None) -> PlanItems:
    """Collect what is drawn beside the solution; `solution` places the outlines (None: that of the survey)."""
    solved = solution or survey.solution
    marks = {mark.name: _mark(logbook, mark) for mark in survey.marks}
    for datum in survey.site.datums:
        known = marks.get(datum.mark)
        if known is None or (known.what == "detail" and "what" not in _fields(survey, datum.mark)):
            marks[datum.mark] = PlanMark(name=datum.mark, what="datum")
    site = current(heads(logbook.entries(SITE)))
    turn = site.get("turn")
    laid = [one for one in drawings_of(logbook, solved) if one.registration is not None]
    return PlanItems(
        marks=marks,
        squares=squares_of(logbook, {one.name: (one.x_m, one.y_m) for one in solved.marks}),
        timbers=_timbers(marks, solved),
        drawings=tuple(PlanOutline(name=one.name, points=one.outline) for one in laid),
        pictures=tuple(_picture(one) for one in laid if one.has_picture),
        true_north_deg=None if turn is None else float(turn) % 360.0,
    )


def _picture(one: KeptDrawing) -> PlanPicture:
    west, south, east, north = one.box
    return PlanPicture(
        name=one.name,
        subject=one.subject,
        version=one.version,
        west_m=west,
        south_m=south,
        east_m=east,
        north_m=north,
    )


def squares_of(logbook: Logbook, places: Mapping[str, Flat]) -> tuple[PlanOutline, ...]:
    """Return the squares that were set out, by name; one whose corner has no place cannot be drawn and is left out."""
    found = []
    for square in dig_facts(logbook).squares:
        try:
            where = corners_of(square.fields["corners"], lambda: places)
        except DigError:
            continue  # its own page says which corner
        found.append(PlanOutline(name=square.word("name"), points=where.corners))
    return tuple(found)


def _fields(survey: SurveyAnswer, name: str) -> Mapping[str, Any]:
    return next((mark.fields for mark in survey.marks if mark.name == name), {})


def _mark(logbook: Logbook, mark: KeptThing) -> PlanMark:
    what = str(mark.fields.get("what") or "detail")
    find = _find(logbook, str(mark.fields.get("find") or ""))
    if find is None:
        return PlanMark(name=mark.name, what=what)
    return PlanMark(
        name=mark.name, what="find", find=find.id, number=find.number or "", title=find.title or ""
    )


def _find(logbook: Logbook, id: str) -> Find | None:
    try:
        return logbook.find(id) if id else None
    except UnknownSubjectError:
        return None  # struck out since


def _timbers(marks: dict[str, PlanMark], solution: SiteSolution) -> tuple[PlanOutline, ...]:
    """Return the outline of every find that several marks lie on: the line between two, the hull round more."""
    on: dict[str, list[PlanMark]] = {}
    for mark in marks.values():
        if mark.find:
            on.setdefault(mark.find, []).append(mark)
    places = {one.name: (one.x_m, one.y_m) for one in solution.marks}
    found = []
    for held in on.values():
        points = [places[mark.name] for mark in held if mark.name in places]
        if len(points) >= 2:
            around = hull(points)
            name = " ".join(part for part in (held[0].number, held[0].title) if part)
            found.append(PlanOutline(name=name, points=around, closed=len(around) > 2))
    return tuple(found)


def hull(points: list[Flat]) -> tuple[Flat, ...]:
    """Return the convex hull, anticlockwise (monotone chain, Andrew 1979; memory, verify)."""
    ordered = sorted(set(points))
    if len(ordered) <= 2:
        return tuple(ordered)

    def half(chain: list[Flat]) -> list[Flat]:
        kept: list[Flat] = []
        for x, y in chain:
            while len(kept) >= 2 and _left(kept[-2], kept[-1], (x, y)) <= 0:
                kept.pop()
            kept.append((x, y))
        return kept[:-1]

    return tuple(half(ordered) + half(ordered[::-1]))


def _left(a: Flat, b: Flat, c: Flat) -> float:
    """Twice the area of a triangle, positive where it runs anticlockwise."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
