"""The application: the gate, the shipped files, the pages of each room."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from oakum.draw.theme import stylesheet
from oakum.ground.errors import OakumError
from oakum.web import pages
from oakum.web.house import House
from oakum.web.render import STATIC, message
from oakum.web.security import SECURITY_HEADERS, Gate, Sessions, plain_page

KEEP = "private, max-age=31536000, immutable"


class ShippedFiles(StaticFiles):
    """Files of the package; their addresses carry a mark of the content, so a browser may keep them."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        """Answer one file."""
        answer = await super().get_response(path, scope)
        if answer.status_code == 200:
            answer.headers["Cache-Control"] = KEEP
        return answer


def create_app(project_folder: Path, *, token: str) -> FastAPI:
    """Make the application for one project; `token` is the secret of the one-time link `/enter?token=...`.

    Errors: what opening the project raises (`RecordError` with a sentence for the user).
    """
    house = House.open(project_folder)

    @asynccontextmanager
    async def life(app: FastAPI) -> AsyncIterator[None]:
        yield
        house.close()

    app = FastAPI(title="Oakum", docs_url=None, redoc_url=None, openapi_url=None, lifespan=life)
    app.state.house = house
    app.mount("/static", ShippedFiles(directory=STATIC), name="static")

    @app.get("/drawing.css")
    def drawing_css() -> Response:
        return Response(stylesheet(), media_type="text/css", headers={"Cache-Control": KEEP})

    for router in pages.ROUTERS:
        app.include_router(router)

    app.add_exception_handler(HTTPException, _missing)
    app.add_exception_handler(RequestValidationError, _unreadable)
    app.add_exception_handler(OakumError, _refused)
    app.add_exception_handler(Exception, _broken)
    app.add_middleware(Gate, sessions=Sessions.for_token(token))
    return app


def _missing(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    if error.status_code == 404:
        words = str(error.detail) if error.detail != "Not Found" else "There is no page at this address."
        return message(request, 404, "Not here", [words], ("/finds", "Look in the register"))
    return message(request, error.status_code, "Not possible", [str(error.detail)], ("/", "Back to Today"))


def _unreadable(request: Request, error: Exception) -> Response:
    sentence = "A part of this address is not what the page expects; nothing was changed."
    return message(request, 422, "Not understood", [sentence], ("/", "Back to Today"))


def _refused(request: Request, error: Exception) -> Response:
    return message(request, 422, "Refused", [str(error), "Nothing was stored."], ("/", "Back to Today"))


def _broken(request: Request, error: Exception) -> Response:
    """Say that the program failed; this answer is made outside the gate, so it carries the headers itself."""
    answer = plain_page(
        500,
        "An error of the program",
        f"{type(error).__name__}: {error}",
        "What you sent was entered whole or not at all; the logbook shows which. Go back and try again.",
    )
    answer.headers.update(SECURITY_HEADERS)
    return answer
