"""Through the surface in many seas: long work that can be left and found again, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from oakum.desk.lifts.many_seas import MEMBERS, ManySeas, Mass, run_seas, seas_of
from oakum.desk.lifts.plan import PlanAnswer
from oakum.draw import Rows, splash_time, splash_trace
from oakum.web.ask import TheHouse
from oakum.web.jobs import Outcome, Progress
from oakum.web.pages.plan import Day, planned_or_404
from oakum.web.plan_view import DRAWN, Figure
from oakum.web.render import page

router = APIRouter()
_SHOWN_S = 60.0


@dataclass(frozen=True, slots=True)
class MassShown:
    """What the page says of one mass: each operation with its sentences, and one sea of the hold."""

    title: str
    rows: Rows
    operations: tuple[tuple[str, tuple[str, ...], Figure], ...]
    trace: Figure | None
    notes: tuple[str, ...]


@router.get("/lifts/{find_id}/plan/seas")
def show_seas(request: Request, house: TheHouse, find_id: str, on: Day = None) -> Response:
    """Show what the seas did, or offer to run through them."""
    answer = planned_or_404(house, find_id, on)
    found = seas_of(answer)
    unit = answer.plan.cell_unit
    return page(
        request,
        "plan_seas.html",
        room="Lifts",
        find=answer.find,
        on=answer.on.isoformat(),
        sea=answer.plan.seaway,
        found=found,
        members=MEMBERS,
        masses=[] if found is None else [_shown(mass, found, unit) for mass in found.masses],
        names=house.names(),
    )


@router.post("/lifts/{find_id}/plan/seas")
def begin(house: TheHouse, find_id: str, on: Day = None) -> Response:
    """Begin to run through the seas; goes to the page of the work."""
    answer = planned_or_404(house, find_id, on)
    job = house.jobs.start(
        f"{MEMBERS} seas for {answer.find.number or answer.find.title}", lambda progress: _work(answer, progress)
    )
    return RedirectResponse(f"/jobs/{job.id}", status_code=303)


def _work(answer: PlanAnswer, progress: Progress) -> Outcome:
    found = run_seas(answer, progress=progress)
    said = found.objections
    words = (
        "Objection: " + "; ".join(said) + "." if said else "No objection found in these seas, under these assumptions."
    )
    return Outcome(words, link=f"/lifts/{answer.find.id}/plan/seas?on={answer.on.isoformat()}")


def _shown(mass: Mass, found: ManySeas, unit: str) -> MassShown:
    answer, bears = mass.answer, found.bears_kg
    operations = tuple(
        (
            title,
            splash_time.extreme_lines(one, bears, unit),
            Figure(
                splash_time.extremes(
                    one, title, bears_kg=bears, cell_unit=unit, width=DRAWN, key=f"{mass.title} {title}"
                ),
                f"Line force, {title}.",
            ),
        )
        for title, one in splash_time.ensembles(answer)
    )
    trace = None
    if mass.trace is not None:
        svg = splash_trace.trace_drawing(
            mass.trace, cell_unit=unit, around_s=_SHOWN_S, width=DRAWN, key=f"trace {mass.title}"
        )
        rows = splash_trace.trace_rows(mass.trace, cell_unit=unit)
        trace = Figure(svg, "One sea of the hold, about its greatest line force.", rows)
    notes = [] if answer.steps is None else [answer.steps.words]
    if answer.worst is not None:
        where = "above" if answer.worst.level_m >= 0 else "below"
        notes.append(
            f"held where a short look at {len(answer.worst.levels_m)} heights found the greatest force: its lowest "
            f"point {abs(answer.worst.level_m):.2f} m {where} the water"
        )
    return MassShown(
        mass.title, splash_time.extreme_rows(answer, bears, unit), operations, trace, (*notes, *answer.assumptions)
    )
