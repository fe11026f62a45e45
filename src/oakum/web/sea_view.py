"""What the plan page shows of sea, vessel and cradle: sentences, and drawings each with its numbers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from oakum.desk.lifts.knobs import Knobs
from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.what_if import WhatIf, knobs_of
from oakum.draw import DrawingError, Rows, cradle, heel, sea_limit, splash_cases
from oakum.draw.load_chart import AtRadius, load_chart, load_chart_rows
from oakum.ground.errors import OakumError
from oakum.lift.cradle import built
from oakum.lift.cradle.report import CradleReport
from oakum.lift.raising import RaisingPlan
from oakum.lift.seaway import SeawayAnswer
from oakum.lift.vessel import LoadChart, VesselAnswer
from oakum.report import plan_cradle, plan_sea
from oakum.web.knobs import Control, query_of, sea_controls
from oakum.web.plan_view import DRAWN, Figure


@dataclass(frozen=True, slots=True)
class SeaShown:
    """The piece of the page that answers the controls of the sea. `refused` says why it could not be tried."""

    plan: RaisingPlan
    sea: SeawayAnswer | None
    now: Knobs
    kept: Knobs
    changes: tuple[str, ...]
    new: tuple[str, ...]
    gone: tuple[str, ...]
    refused: str
    skipper: str
    crossing: tuple[str, str] | None
    facts: tuple[tuple[str, str], ...]
    lines: tuple[str, ...]
    limit: Figure | None
    cases: Figure | None
    heel: Figure | None
    chart: Figure | None
    vessel: Rows | None
    book: str
    loss: str
    objections: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    vessel_objections: tuple[str, ...] = ()
    vessel_cautions: tuple[str, ...] = ()

    @property
    def query(self) -> str:
        """The controls as they stand, for an address."""
        return query_of(self.now, self.kept)


@dataclass(frozen=True, slots=True)
class CradleShown:
    """What the page says of the cradle."""

    report: CradleReport
    lead: str
    states: Rows
    stands: Rows
    lines: tuple[str, ...]
    use: Figure | None


def sea_shown(answer: PlanAnswer, tried: WhatIf | None, refused: str = "") -> SeaShown:
    """Return what the controls of the sea change: the plan as kept, or the one that is tried."""
    plan = answer.plan if tried is None else tried.plan
    sea, unit = plan.seaway, plan.cell_unit
    worst = plan_sea.worst_vessel(sea)
    return SeaShown(
        plan=plan,
        sea=sea,
        now=knobs_of(plan),
        kept=knobs_of(answer.plan),
        changes=() if tried is None else tried.changes,
        new=() if tried is None else tried.new,
        gone=() if tried is None else tried.gone,
        refused=refused,
        skipper="" if sea is None else plan_sea.skipper_lead(sea),
        crossing=plan_sea.crossing_range(plan),
        facts=() if sea is None else plan_sea.sea_facts(sea.asked, sea.vessel_title, sea.line_n_m),
        lines=() if sea is None else plan_sea.limit_words(sea),
        limit=None if sea is None else _limit(sea),
        cases=None if sea is None else _cases(sea, unit),
        heel=None if sea is None or worst is None else _heel(sea, worst, unit),
        chart=None if sea is None or worst is None else _chart(sea, worst),
        vessel=None if sea is None or not sea.vessel else heel.vessel_rows(sea.vessel, unit),
        book="" if sea is None else plan_sea.book_words(sea),
        loss=plan_sea.loss_words(worst),
        objections=() if sea is None else plan_sea.sea_said(sea, "objections"),
        cautions=() if sea is None else plan_sea.sea_said(sea, "cautions"),
        vessel_objections=() if sea is None else plan_sea.vessel_said(sea, "objections"),
        vessel_cautions=() if sea is None else plan_sea.vessel_said(sea, "cautions"),
    )


def sea_knobs(shown: SeaShown) -> tuple[list[Control], tuple[str, ...]]:
    """Return the controls of the sea and the headings to choose from; none where the rig has no sea."""
    sea = shown.sea
    if sea is None:
        return [], ()
    chart = _chart_of(sea)
    reach = None if chart is None else (chart.radius_m[0], chart.radius_m[-1])
    headings = () if sea.papers is None else sea.papers.headings
    if sea.asked.heading and sea.asked.heading not in headings:
        headings = (sea.asked.heading, *headings)
    return sea_controls(shown.now, reach), headings


def cradle_shown(plan: RaisingPlan) -> CradleShown | None:
    """Return what the page says of the cradle, None where there is none."""
    report = plan.cradle
    if report is None:
        return None
    unit = plan.cell_unit
    return CradleShown(
        report=report,
        lead=plan_cradle.cradle_lead(report),
        states=plan_cradle.state_rows(report, unit),
        stands=plan_cradle.stand_rows(report, unit),
        lines=plan_cradle.touch_lines(report, unit),
        use=_use(report),
    )


def _limit(sea: SeawayAnswer) -> Figure | None:
    curve = sea.curve
    if curve is None:
        return None
    return _drawn(
        lambda: sea_limit.sea_limit(curve, hs_m=sea.asked.hs_m, tz_s=sea.asked.tz_s, width=DRAWN),
        "Where an objection appears; it is not leave to go below it.",
        sea_limit.sea_limit_rows(curve),
    )


def _cases(sea: SeawayAnswer, unit: str) -> Figure | None:
    splash = sea.splash
    if splash is None:
        return None
    more = len(splash.cases) - splash_cases.MOST
    words = f"Load cases in Hs {splash.hs_m:.2f} m" + (
        f", the {splash_cases.MOST} hardest of {len(splash.cases)}." if more > 0 else "."
    )
    return _drawn(
        lambda: splash_cases.splash_cases(
            splash, body=sea.body, bears_kg=plan_sea.bears_kg(splash), cell_unit=unit, width=DRAWN
        ),
        words,
        splash_cases.splash_rows(splash, unit),
    )


def _heel(sea: SeawayAnswer, worst: VesselAnswer, unit: str) -> Figure | None:
    papers, radius = sea.papers, sea.asked.radius_m
    if papers is None or radius is None:
        return None
    return _drawn(
        lambda: heel.heel(worst, papers.vessel, papers.head(radius), cell_unit=unit, width=DRAWN),
        f"In section, the load {worst.state}; to scale, the hull as the formulas take it.",
        heel.vessel_rows(sea.vessel, unit),
    )


def _chart_of(sea: SeawayAnswer) -> LoadChart | None:
    return None if sea.papers is None else sea.papers.chart_for(sea.asked.waters)


def _chart(sea: SeawayAnswer, worst: VesselAnswer) -> Figure | None:
    chart = _chart_of(sea)
    if chart is None:
        return None
    at = None
    if worst.upright_m is not None:
        heeled = None if worst.radius_m is None else worst.radius_m.p95
        at = AtRadius(worst.upright_m, worst.load_kg.p95, heeled)
    factor = chart.factor_in(sea.asked.waters)
    page = f", {chart.page}" if chart.page else ""
    return _drawn(
        lambda: load_chart(chart, at=at, factor=factor, width=DRAWN, key="plan-chart"),
        f"Load chart \u201c{chart.name}\u201d{page}, with the load {worst.state} at P95.",
        load_chart_rows(chart, factor),
    )


def _use(report: CradleReport) -> Figure | None:
    answer, plan = report.frame, report.plan
    if answer is None or plan.frame is None:
        return None
    return _drawn(
        lambda: cradle.frame_use(plan, answer, width=DRAWN),
        "Use of each member that bends, in the state that is hardest on it.",
        cradle.use_rows(plan, answer, built(plan).marks),
    )


def _drawn(draw: Callable[[], str], caption: str, rows: Rows | None) -> Figure | None:
    """Return a drawing, or None where what it needs is not known: the objections say so."""
    try:
        return Figure(draw(), caption, rows)
    except (DrawingError, OakumError):
        return None
