"""The plan of the site: a window into it that moves with and without a script, and the story it tells."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from oakum.desk.seabed.plan_items import PlanItems, plan_items
from oakum.desk.seabed.survey import SurveyAnswer, survey_of
from oakum.draw.site_key import site_key
from oakum.draw.site_plan import FACTORS, LAYERS, site_plan, site_plan_rows
from oakum.draw.site_view import places_of
from oakum.record import Logbook
from oakum.report.site_files import FILE_KINDS
from oakum.seabed.network import SiteSolution
from oakum.seabed.network.names import natural
from oakum.web.ask import TheHouse
from oakum.web.plan_asked import ACROSS_M, Asked, PlanAsked
from oakum.web.plan_beside import mark_shown, suspects_shown
from oakum.web.render import fragment, page

router = APIRouter()
KEY = "site-plan"


@router.get("/seabed")
def show(request: Request, house: TheHouse, asked: Asked) -> Response:
    """Show the plan and what it rests on; in an empty project what to do first."""
    survey = survey_of(house.logbook)
    if not survey.site.observations and not survey.solution.marks:
        return page(request, "seabed_plan_start.html", room="Seabed", named=len(survey.marks))
    solution = drawn_solution(survey, asked)
    items = plan_items(house.logbook, survey, solution)
    return page(
        request,
        "seabed_plan.html",
        room="Seabed",
        rows=site_plan_rows(solution, items, inside_of(survey)),
        suspects=suspects_shown(survey.solution),
        weak=[mark for mark in solution.marks if mark.weak],
        survey=survey,
        across=ACROSS_M,
        factors=FACTORS,
        kinds=FILE_KINDS.values(),
        squares=[square.name for square in items.squares],
        **sight(house.logbook, survey, solution, items, asked),
    )


@router.get("/seabed/plan")
def window(house: TheHouse, asked: Asked) -> Response:
    """Give the window and what stands beside it, for the script of the page."""
    survey = survey_of(house.logbook)
    solution = drawn_solution(survey, asked)
    items = plan_items(house.logbook, survey, solution)
    return fragment("seabed_plan_sight.html", **sight(house.logbook, survey, solution, items, asked))


def drawn_solution(survey: SurveyAnswer, asked: PlanAsked) -> SiteSolution:
    """Return the solution that is drawn: all readings that count, or if asked for that without the suspects."""
    without = survey.solution.without_suspects
    return without if asked.without_suspects and without is not None else survey.solution


def inside_of(survey: SurveyAnswer) -> float:
    """Return the probability that ellipses of this site hold."""
    return survey.site.levels.inside


def sight(
    logbook: Logbook, survey: SurveyAnswer, solution: SiteSolution, items: PlanItems, asked: PlanAsked
) -> dict[str, Any]:
    """Return the drawing, the question it answers, and the mark beside it."""
    inside = inside_of(survey)
    view = asked.view(places_of(solution, items))
    chosen = mark_shown(solution, items, asked.mark, inside)
    if chosen is not None and asked.go != "whole":
        mark = solution.mark(asked.mark)
        if not view.sees(*view.at(mark.x_m, mark.y_m)):
            view = PlanAsked(
                mark.x_m, mark.y_m, view.across_m, asked.width, asked.height
            ).view([])
    now = asked.seen(view)
    drawn = site_plan(
        solution,
        items,
        view,
        layers=asked.layers,
        factor=asked.factor,
        mark=asked.mark,
        inside=inside,
        address=lambda name: f"/seabed?{now.query(mark=name)}#beside",
        picture=lambda one: f"/seabed/drawings/{one.subject}/laid.png?v={one.version}",
        key=KEY,
    )
    return {
        "plan": drawn,
        "key": site_key(inside=inside, factor=drawn.factor, width=min(asked.width, 760.0)),
        "asked": asked,
        "now": now,
        "view": view,
        "chosen": chosen,
        "layers": LAYERS,
        "solution": solution,
        "marks": sorted((items.of(mark.name) for mark in solution.marks), key=lambda one: natural(one.name)),
    }
