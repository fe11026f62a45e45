"""What leaves the house of a survey: places, readings and outlines as plain values, with what must be known of them.

Positions are in the local grid of the site. Where the site lies in the world is no part of this.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from oakum.desk.seabed.plan_items import PlanItems, plan_items
from oakum.desk.seabed.survey import SurveyAnswer, survey_of
from oakum.ground.errors import OakumError
from oakum.record import Logbook
from oakum.seabed.network import Ellipse, SiteSolution
from oakum.seabed.network.names import natural

Place = tuple[float, float, float]
LOCAL = "local grid of the site: x site east, y site north, z up, metres; the site's place in the world is withheld"
SUPPORT = "planning support only: this replaces no licensed surveyor's control and no local rule"


class NothingToGiveError(OakumError):
    """The survey places no mark yet."""


@dataclass(frozen=True, slots=True)
class MarkOut:
    """A mark with its place in m, its sds, the covariance (xx, xy, xz, yy, yz, zz) in m2 and its ellipse."""

    name: str
    what: str
    number: str
    title: str
    place_m: Place
    sd_m: Place
    cov_m2: tuple[float, float, float, float, float, float]
    ellipse: Ellipse
    held: str
    readings: int
    remark: str


@dataclass(frozen=True, slots=True)
class ReadingOut:
    """A reading as written and what it did; `ends` are the places of its marks where it joins two that are placed."""

    id: str
    kind: str
    part: str
    marks: tuple[str, ...]
    text: str
    unit: str
    value: float
    sd: float
    residual: float
    redundancy: float
    w: float | None
    counted: bool
    doubt: str
    instrument: str
    dive: str
    seen: str
    ends: tuple[Place, Place] | None


@dataclass(frozen=True, slots=True)
class OutlineOut:
    """A named chain of places: layer "squares", "outlines" or "drawings"."""

    layer: str
    name: str
    points_m: tuple[tuple[float, float], ...]
    closed: bool


@dataclass(frozen=True, slots=True)
class SiteExport:
    """Everything that is given. `about` says datum, method, sigma, date and grid by name; it goes into every file."""

    project: str
    on: date
    about: tuple[tuple[str, str], ...]
    marks: tuple[MarkOut, ...]
    readings: tuple[ReadingOut, ...]
    outlines: tuple[OutlineOut, ...]
    twins: tuple[tuple[str, Place], ...]

    @property
    def bounds_m(self) -> tuple[float, float, float, float]:
        """West, south, east and north edge round all that is given."""
        places = [(m.place_m[0], m.place_m[1]) for m in self.marks]
        places += [p for one in self.outlines for p in one.points_m]
        xs, ys = [p[0] for p in places], [p[1] for p in places]
        return (min(xs), min(ys), max(xs), max(ys))


def site_export(logbook: Logbook, *, on: date, without_suspects: bool = False) -> SiteExport:
    """Return what is given of the survey as it stands; `NothingToGiveError` where no mark has a place."""
    survey = survey_of(logbook)
    solution = survey.solution
    if without_suspects and solution.without_suspects is not None:
        solution = solution.without_suspects
    return made_of(logbook, survey, solution, on)


def made_of(logbook: Logbook, survey: SurveyAnswer, solution: SiteSolution, on: date) -> SiteExport:
    """Return what is given of one solution of the survey."""
    if not solution.marks:
        raise NothingToGiveError("No mark has a place yet, so there is nothing to give: enter readings first.")
    items = plan_items(logbook, survey, solution)
    return SiteExport(
        logbook.name,
        on,
        about_of(logbook, survey, solution, on),
        _marks(solution, items, survey.site.levels.inside),
        _readings(survey, solution),
        (
            *(OutlineOut("squares", one.name, one.points, one.closed) for one in items.squares),
            *(OutlineOut("outlines", one.name, one.points, one.closed) for one in items.timbers),
            *(OutlineOut("drawings", one.name, one.points, one.closed) for one in items.drawings),
        ),
        tuple((twin.mark, twin.place_m) for twin in solution.twins if twin.place_m is not None),
    )


def about_of(
    logbook: Logbook, survey: SurveyAnswer, solution: SiteSolution, on: date
) -> tuple[tuple[str, str], ...]:
    """Say what a person who gets a file must know of it."""
    counted = sum(row.counted for row in solution.readings)
    doubt = f"{len(solution.suspects)} counted although in doubt" if solution.suspects else "none in doubt"
    found = [
        ("project", logbook.name),
        ("date", on.isoformat()),
        ("positions", LOCAL),
        ("datum", "; ".join(solution.datum)),
        ("method", f"least squares of {counted} readings in three dimensions, {doubt}"),
        ("sigma", solution.whole.words),
        ("ellipses", f"{100 * survey.site.levels.inside:g} % from the sds given to the readings"),
    ]
    found += [("objection", words) for words in (*survey.objections,)]
    found += [("note", logbook.note)] if logbook.note else []
    return (*found, ("caution", SUPPORT))


def _marks(solution: SiteSolution, items: PlanItems, inside: float) -> tuple[MarkOut, ...]:
    found = []
    for mark in sorted(solution.marks, key=lambda m: natural(m.name)):
        item, cov = items.of(mark.name), mark.cov_m2
        twins = [twin.words for twin in solution.twins if twin.mark == mark.name]
        found.append(
            MarkOut(
                mark.name,
                item.what,
                item.number,
                item.title,
                mark.place,
                mark.sd_m,
                (
                    float(cov[0, 0]), float(cov[0, 1]), float(cov[0, 2]),
                    float(cov[1, 1]), float(cov[1, 2]), float(cov[2, 2]),
                ),
                mark.ellipse(inside),
                mark.held,
                mark.readings,
                "; ".join(part for part in (mark.weak, *twins) if part),
            )
        )  # fmt: skip
    return tuple(found)


def _readings(survey: SurveyAnswer, solution: SiteSolution) -> tuple[ReadingOut, ...]:
    places = {mark.name: mark.place for mark in solution.marks}
    doubt = {one.id: one.words for one in solution.suspects}
    found = []
    for row in solution.readings:
        kept = survey.entries.get(row.id)
        ends = None
        if len(row.marks) == 2 and all(name in places for name in row.marks):
            ends = (places[row.marks[0]], places[row.marks[1]])
        found.append(
            ReadingOut(
                row.id,
                row.kind,
                row.part,
                row.marks,
                row.text,
                row.unit,
                row.value,
                row.sd,
                row.residual,
                row.redundancy,
                row.w,
                row.counted,
                doubt.get(row.id, ""),
                kept.word("instrument") if kept else "",
                kept.word("dive") if kept else "",
                str((kept.seen or {}).get("at", "")) if kept else "",
                ends,
            )
        )
    return tuple(found)
