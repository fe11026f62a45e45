"""Through the surface in many seas: long work that can be left and found again, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.sea_run import (
    FEWEST,
    MEMBERS,
    MOST,
    SEED,
    MassRun,
    SeaRun,
    cannot_run,
    cores,
    process_pool,
    run_seas,
)
from oakum.desk.lifts.sea_run_kept import keep_run, kept_run
from oakum.draw import Rows, splash_time, splash_trace
from oakum.web.ask import TheHouse
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
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
    """Show what the seas did, or offer to run through them; work under way is found again here."""
    answer = planned_or_404(house, find_id, on)
    return _seas_page(request, house, answer, Form.of({"members": str(MEMBERS), "seed": str(SEED)}))


def _seas_page(request: Request, house: House, answer: PlanAnswer, form: Form, status: int = 200) -> Response:
    found = kept_run(house.logbook.folder, answer)
    return page(
        request,
        "plan_seas.html",
        room="Lifts",
        status=status,
        form=form,
        job=house.jobs.under_way(_about(answer)),
        find=answer.find,
        on=answer.on.isoformat(),
        cannot=cannot_run(answer),
        found=found,
        fits=found is not None and found.fits(answer),
        masses=[] if found is None else [_shown(mass, found) for mass in found.masses],
        names=house.names(),
    )


@router.post("/lifts/{find_id}/plan/seas")
def begin(request: Request, house: TheHouse, find_id: str, form: SentForm, on: Day = None) -> Response:
    """Begin to run through the seas, or go to where they are being run through; goes to the page of the work."""
    answer = planned_or_404(house, find_id, on)
    job = house.jobs.under_way(_about(answer))
    if job is None:
        members = _whole(form, "members", FEWEST, MOST, "How many seas")
        seed = _whole(form, "seed", 0, 2**32 - 1, "The seed")
        why_not = cannot_run(answer)
        if why_not is not None:
            form.wrong("", why_not)
        if not form.good:
            return _seas_page(request, house, answer, form, 422)
        job = house.jobs.start(
            f"{members:,} seas for {answer.find.number or answer.find.title}",
            lambda progress: _work(house, answer, members, seed, progress),
            about=_about(answer),
            may_stop=True,
        )
    return RedirectResponse(f"/jobs/{job.id}", status_code=303)


def _about(answer: PlanAnswer) -> str:
    return f"seas {answer.find.id} {answer.plan.fingerprint}"


def _whole(form: Form, name: str, least: int, most: int, what: str) -> int:
    text = (form.value(name) or "").replace(",", "")
    if not text.isdecimal() or not least <= int(text) <= most:
        form.wrong(name, f"{what}: a whole number from {least:,} to {most:,}.")
        return least
    return int(text)


def _work(house: House, answer: PlanAnswer, members: int, seed: int, progress: Progress) -> Outcome:
    with process_pool() as pool:
        found = run_seas(answer, members=members, seed=seed, executor=pool, workers=cores(), progress=progress)
    keep_run(house.logbook.folder, found)
    said = found.objections
    words = (
        "Objection: " + "; ".join(said) + "." if said else "No objection found in these seas, under these assumptions."
    )
    return Outcome(words, link=f"/lifts/{answer.find.id}/plan/seas?on={answer.on.isoformat()}")


def _shown(mass: MassRun, found: SeaRun) -> MassShown:
    bears, unit = found.bears_kg, found.cell_unit
    operations = tuple(
        (
            title,
            splash_time.extreme_lines(one, bears, unit),
            Figure(
                splash_time.extremes(
                    one, title, bears_kg=bears, cell_unit=unit, width=DRAWN, key=f"{mass.title} {title}"
                ),
                f"Line force, {title}.",
                splash_time.extreme_rows(((title, one),), bears, unit),
            ),
        )
        for title, one in mass.operations
    )
    trace = None
    if mass.trace is not None:
        svg = splash_trace.trace_drawing(
            mass.trace, cell_unit=unit, around_s=_SHOWN_S, width=DRAWN, key=f"trace {mass.title}"
        )
        rows = splash_trace.trace_rows(mass.trace, cell_unit=unit)
        trace = Figure(svg, f"About its greatest line force: {mass.traced_as}.", rows)
    notes = tuple(filter(None, (mass.steps, *mass.assumptions)))
    return MassShown(mass.title, splash_time.extreme_rows(mass.operations, bears, unit), operations, trace, notes)
