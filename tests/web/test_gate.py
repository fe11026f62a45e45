"""Who gets in, from where, and how much may be sent: the gate before every page, without a browser."""

from __future__ import annotations

import socket
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager

import httpx
import pytest
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.types import Receive, Scope, Send

from oakum.web.security import FORM_LIMIT, UPLOAD_LIMIT, Gate, Sessions

OWN = {"Sec-Fetch-Site": "same-origin"}
FILES = {"Content-Type": "multipart/form-data; boundary=b"}


async def inner(scope: Scope, receive: Receive, send: Send) -> None:
    if scope["type"] == "lifespan":
        await receive()
        await send({"type": "lifespan.startup.complete"})
        await receive()
        await send({"type": "lifespan.shutdown.complete"})
        return
    request = Request(scope, receive)
    answer: Response = PlainTextResponse(f"{request.method} {len(await request.body())}")
    await answer(scope, receive, send)


@pytest.fixture
def stranger(running: Callable[..., AbstractContextManager[str]]) -> Iterator[httpx.Client]:
    gate = Gate(inner, Sessions.for_token("one-time"))
    with running(gate) as base, httpx.Client(base_url=base) as client:
        yield client


@pytest.fixture
def inside(stranger: httpx.Client) -> httpx.Client:
    assert stranger.get("/enter?token=one-time").status_code == 303
    return stranger


def test_without_the_link_every_address_is_closed_and_says_how_to_get_in(stranger: httpx.Client) -> None:
    for path in ("/", "/finds", "/static/oakum.css", "/files/abc"):
        answer = stranger.get(path)
        assert answer.status_code == 403
        assert "one-time link" in answer.text and "start it again" in answer.text


def test_the_link_gives_a_strict_cookie_that_scripts_cannot_read(stranger: httpx.Client) -> None:
    answer = stranger.get("/enter?token=one-time")
    cookie = answer.headers["set-cookie"]
    assert answer.status_code == 303 and answer.headers["location"] == "/"
    assert "HttpOnly" in cookie and "SameSite=strict" in cookie and "one-time" not in cookie
    assert stranger.get("/").text == "GET 0"


def test_the_link_works_once(inside: httpx.Client) -> None:
    inside.cookies.clear()
    again = inside.get("/enter?token=one-time")
    assert again.status_code == 403 and "used up" in again.text and "set-cookie" not in again.headers


def test_a_wrong_token_does_not_use_the_link_up(stranger: httpx.Client) -> None:
    assert stranger.get("/enter?token=guess").status_code == 403
    assert stranger.get("/enter").status_code == 403
    assert stranger.get("/enter?token=one-time").status_code == 303


def test_a_session_ends_after_its_hours() -> None:
    sessions = Sessions.for_token("t")
    sessions.hours = 0.0
    secret = sessions.enter("t")
    assert secret is not None and not sessions.knows(secret)


def test_an_invented_session_is_not_known(stranger: httpx.Client) -> None:
    assert stranger.get("/", headers={"Cookie": "oakum-00000000=abc"}).status_code == 403


@pytest.mark.parametrize("host", ["wreck.example", "wreck.example:{port}", "127.0.0.1:80", "127.0.0.1", "[::1]:{port}"])
def test_another_name_for_this_machine_is_refused(inside: httpx.Client, host: str) -> None:
    answer = inside.get("/", headers={"Host": host.format(port=inside.base_url.port)})
    assert answer.status_code == 403 and "127.0.0.1" in answer.text


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"Origin": "http://wreck.example"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:9999"},
        {"Origin": "http://wreck.example", "Sec-Fetch-Site": "same-origin"},
        {"Origin": "SELF", "Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "none"},
    ],
)
def test_a_change_sent_from_elsewhere_is_refused(inside: httpx.Client, headers: dict[str, str]) -> None:
    sent = {k: v.replace("SELF", str(inside.base_url).rstrip("/")) for k, v in headers.items()}
    answer = inside.post("/finds", data={"a": "b"}, headers=sent)
    assert answer.status_code == 403 and "nothing was changed" in answer.text


def test_a_change_sent_from_our_own_page_passes(inside: httpx.Client) -> None:
    origin = {"Origin": str(inside.base_url).rstrip("/")}
    assert inside.post("/finds", data={"a": "b"}, headers=OWN).text == "POST 3"
    assert inside.post("/finds", data={"a": "b"}, headers=origin).text == "POST 3"


def test_other_methods_are_not_known(inside: httpx.Client) -> None:
    assert inside.put("/finds", content=b"x", headers=OWN).status_code == 405
    assert inside.delete("/finds", headers=OWN).status_code == 405


def test_what_is_too_large_is_refused_with_the_limit(inside: httpx.Client) -> None:
    form = inside.post("/finds", content=b"x" * (FORM_LIMIT + 1), headers=OWN)
    assert form.status_code == 413 and "2 MB" in form.text and "Nothing was stored" in form.text
    assert inside.post("/finds", content=b"x" * (FORM_LIMIT + 1), headers={**OWN, **FILES}).status_code == 200


def test_an_upload_of_a_gigabyte_is_refused_before_it_is_read(inside: httpx.Client) -> None:
    cookie = "; ".join(f"{k}={v}" for k, v in inside.cookies.items())
    port = inside.base_url.port
    head = (
        f"POST /finds HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nCookie: {cookie}\r\nSec-Fetch-Site: same-origin\r\n"
        f"Content-Type: {FILES['Content-Type']}\r\nContent-Length: {1_000_000_000}\r\n\r\n"
    )
    assert UPLOAD_LIMIT < 1_000_000_000
    with socket.create_connection(("127.0.0.1", port or 0), timeout=10) as line:
        line.sendall(head.encode())
        assert line.recv(100).startswith(b"HTTP/1.1 413")


def test_a_form_without_a_length_is_refused(inside: httpx.Client) -> None:
    answer = inside.post("/finds", content=iter([b"a", b"b"]), headers=OWN)
    assert answer.status_code == 411


def test_every_answer_carries_the_security_headers(stranger: httpx.Client) -> None:
    for answer in (stranger.get("/"), stranger.get("/enter?token=one-time"), stranger.get("/")):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'self'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["referrer-policy"] == "same-origin"
