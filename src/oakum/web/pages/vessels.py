"""The vessels a lift may be made from: the list, and one vessel's papers with charts and motions drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from oakum.desk.lifts.vessel_facts import (
    ChartAt,
    Fact,
    book_facts,
    chart_facts,
    charts_at,
    facts_of,
    head_words,
    not_known,
)
from oakum.desk.lifts.vessels import (
    KeptVessel,
    VesselUnknownError,
    papers_of,
    strike_vessel,
    vessel_named,
    vessel_questions,
    vessels,
)
from oakum.draw import Rows
from oakum.draw.load_chart import AtRadius, load_chart, load_chart_rows, note_rows
from oakum.draw.motions import motions, motions_rows
from oakum.ground.errors import OakumError
from oakum.lift.checks import WHO_GOVERNS
from oakum.lift.vessel import LoadChart, Motions, ResponseTable, VesselPapers
from oakum.web.ask import TheHouse, author_in, done, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page

router = APIRouter()
DRAWN = 400.0


@dataclass(frozen=True, slots=True)
class ShownChart:
    """A load chart as the page shows it."""

    name: str
    facts: tuple[Fact, ...]
    svg: str
    rows: Rows
    notes: Rows
    has_gap: bool


@dataclass(frozen=True, slots=True)
class ShownMotions:
    """Motions on one heading as the page shows them; `svg` is empty where a sea was only watched."""

    name: str
    heading: str
    source: str
    svg: str
    rows: Rows


@router.get("/lifts/vessels")
def vessel_list(request: Request, house: TheHouse) -> Response:
    """List the vessels."""
    held = vessels(house.logbook)
    return page(request, "vessels.html", room="Lifts", vessels=held, names=house.names())


@router.get("/lifts/vessels/{vessel_id}")
def vessel(
    request: Request, house: TheHouse, vessel_id: str, radius: Annotated[str, Query(max_length=60)] = ""
) -> Response:
    """Show what the papers of one vessel say; `radius` as typed marks the charts there."""
    kept = vessel_or_404(house, vessel_id)
    struck = Form.of({"author": writer_of(request)})
    return _vessel_page(request, house, kept, Form.of({"radius": radius}), struck)


@router.post("/lifts/vessels/{vessel_id}/strike")
def strike(request: Request, house: TheHouse, vessel_id: str, form: SentForm) -> Response:
    """Strike a vessel out."""
    kept = vessel_or_404(house, vessel_id)
    author = author_in(form)
    reason = form.need("reason", "Say why she is struck out; her papers stay in the logbook.")
    if form.good:
        try:
            strike_vessel(house.logbook, kept.id, reason, author=author)
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return _vessel_page(request, house, kept, Form.of({"radius": ""}), form)
    return done("/lifts/vessels", "struck", author=author)


def _vessel_page(request: Request, house: House, kept: KeptVessel, form: Form, struck: Form) -> Response:
    radius = form.text("radius")
    papers, trouble = None, ""
    try:
        papers = papers_of(house.logbook, kept.id)
    except OakumError as error:
        trouble = str(error)
    read: tuple[ChartAt, ...] = ()
    if papers is not None and radius.strip():
        try:
            read = charts_at(papers, radius)
        except ValueError as error:
            form.wrong("radius", str(error))
    return page(
        request,
        "vessel.html",
        room="Lifts",
        status=200 if form.good and struck.good else 422,
        kept=kept,
        trouble=trouble,
        form=form,
        struck=struck,
        questions=vessel_questions(house.logbook, kept.id),
        read=read,
        head=head_words(papers, read[0].radius_m) if papers is not None and read else None,
        names=house.names(),
        governs=WHO_GOVERNS,
        **papers_shown(papers, read[0].radius_m if read else None),
    )


def vessel_or_404(house: House, vessel_id: str) -> KeptVessel:
    """Return a vessel, or end the request with a page that says there is none."""
    try:
        return vessel_named(house.logbook, vessel_id)
    except VesselUnknownError as error:
        raise HTTPException(404, str(error)) from error


def papers_shown(papers: VesselPapers | None, radius_m: float | None = None) -> dict[str, object]:
    """Return what the pages show of a vessel's papers: facts, charts, motions, what is not known."""
    if papers is None:
        return {"papers": None, "facts": (), "book": (), "charts": (), "moves": (), "not_known": ()}
    return {
        "papers": papers,
        "facts": facts_of(papers),
        "book": book_facts(papers),
        "charts": tuple(_chart(chart, i, radius_m) for i, chart in enumerate(papers.charts)),
        "moves": tuple(_motions(one, i) for i, one in enumerate(papers.motions)),
        "not_known": not_known(papers),
    }


def _chart(chart: LoadChart, index: int, radius_m: float | None) -> ShownChart:
    at = None if radius_m is None else AtRadius(radius_m)
    factor = chart.derating.factor if chart.derating is not None else 1.0
    return ShownChart(
        chart.name,
        chart_facts(chart),
        load_chart(chart, at=at, factor=factor, width=DRAWN, key=f"chart-{index}"),
        load_chart_rows(chart, factor),
        note_rows(chart),
        bool(chart.gaps_m),
    )


def _motions(table: Motions, index: int) -> ShownMotions:
    drawn = motions(table, width=DRAWN, key=f"motions-{index}") if isinstance(table, ResponseTable) else ""
    return ShownMotions(table.name, table.heading, table.source, drawn, motions_rows(table))
