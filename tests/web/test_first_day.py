"""The first day: an empty project, the link from the terminal, and what the pages say to do."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from starlette.types import ASGIApp

from oakum.record import Logbook, NotAProjectError
from oakum.web import create_app
from oakum.web.serve import PortError, loopback_socket, serve


@pytest.fixture
def empty(running: Callable[[ASGIApp], AbstractContextManager[str]], tmp_path: Path) -> Any:
    with Logbook.create(tmp_path, "Tolmarren") as logbook:
        folder = logbook.folder
    with running(create_app(folder, token="from-the-terminal")) as base:
        yield base


def test_the_link_opens_an_empty_project_that_says_what_to_do_first(empty: str, browser: Any) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(empty)
    assert "No entry without the link" in page.locator("h1").inner_text()
    page.goto(f"{empty}/enter?token=from-the-terminal")
    assert page.url == f"{empty}/"
    for link in ("Enter a find", "Take over a register", "Add the people"):
        assert page.get_by_role("link", name=link).is_visible()
    violations = {}
    for path in ("/", "/finds", "/lifts", "/logbook", "/logbook/questions", "/logbook/people"):
        page.goto(empty + path)
        result = Axe().run(page)
        if result.violations_count:
            violations[path] = result.generate_report()
    assert violations == {}
    context.close()


def test_the_link_does_not_let_a_second_browser_in(empty: str, browser: Any) -> None:
    for heading in ("Today", "This link is used up"):
        context = browser.new_context()
        page = context.new_page()
        page.goto(f"{empty}/enter?token=from-the-terminal")
        assert page.locator("h1").inner_text() == heading
        context.close()


def test_a_page_elsewhere_cannot_post_into_the_logbook(
    empty: str, browser: Any, running: Callable[[ASGIApp], AbstractContextManager[str]]
) -> None:
    async def elsewhere(scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] == "http":
            body = f'<form method="post" action="{empty}/finds"><button name="title" value="evil">x</button></form>'
            headers = [(b"content-type", b"text/html")]
            await send({"type": "http.response.start", "status": 200, "headers": headers})
            await send({"type": "http.response.body", "body": body.encode()})
            return
        for kind in ("startup", "shutdown"):
            await receive()
            await send({"type": f"lifespan.{kind}.complete"})

    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{empty}/enter?token=from-the-terminal")
    with running(elsewhere) as other:
        page.goto(other)
        page.get_by_role("button").click()
        assert page.locator("h1").inner_text() in ("Sent from elsewhere", "No entry without the link")
    page.goto(f"{empty}/finds")
    assert "The register is empty" in page.locator("#lines").inner_text()
    context.close()


def test_a_folder_that_is_no_project_is_refused_before_anything_is_served(tmp_path: Path) -> None:
    with pytest.raises(NotAProjectError):
        serve(tmp_path)


def test_a_port_that_is_taken_says_so() -> None:
    with loopback_socket() as taken:
        taken.listen()
        with pytest.raises(PortError, match="Give another port"):
            loopback_socket(taken.getsockname()[1])
    with pytest.raises(PortError):
        loopback_socket(99_999)
