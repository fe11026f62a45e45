"""Long work: its page, which can be left and found again."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.web.ask import TheHouse
from oakum.web.house import House
from oakum.web.jobs import Job
from oakum.web.render import fragment, page

router = APIRouter()


@router.get("/jobs/{job_id}")
def job_page(request: Request, house: TheHouse, job_id: str) -> Response:
    """Show a job."""
    return page(request, "job.html", room="Logbook", job=_job(house, job_id))


@router.get("/jobs/{job_id}/card")
def job_card(house: TheHouse, job_id: str) -> Response:
    """Show a job as a piece of a page."""
    return fragment("job_card.html", job=_job(house, job_id))


@router.post("/jobs/{job_id}/stop")
def stop_job(house: TheHouse, job_id: str) -> Response:
    """Stop work that may be stopped; goes back to its page, which says when it has ended."""
    house.jobs.stop(_job(house, job_id).id)
    return RedirectResponse(f"/jobs/{job_id}", status_code=303)


def _job(house: House, job_id: str) -> Job:
    job = house.jobs.get(job_id)
    if job is None:
        raise HTTPException(404, "This work is not known: the server was started anew since. Begin it again.")
    return job
