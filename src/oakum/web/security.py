"""The gate before every page: who may ask, from where, and how much may be sent.

The pages run on the machine's own loopback address without a login. What protects them is a one-time link
(a browser trades it for a session cookie), a check of the Host header against names that resolve elsewhere
and a check of Origin and Sec-Fetch-Site on everything that changes the record, because any web page may post
to a local port.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
import time
from dataclasses import dataclass, field
from html import escape
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

SESSION_HOURS = 16
FORM_LIMIT = 2_000_000
UPLOAD_LIMIT = 80_000_000
DRAIN_LIMIT = 400_000_000  # read and dropped, so that the browser gets the answer instead of a broken line

SECURITY_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",  # nothing leaves; with "no-referrer" forms would arrive with Origin: null
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
}
READING_METHODS = frozenset({"GET", "HEAD"})
WRITING_METHODS = frozenset({"POST"})


def _digest(text: str) -> bytes:
    return hashlib.sha256(text.encode()).digest()


@dataclass(slots=True)
class Sessions:
    """The one-time link and the browsers that came in through it; only hashes of the secrets are kept."""

    link_hash: bytes | None
    cookie_name: str
    hours: float = SESSION_HOURS
    _until: dict[bytes, float] = field(default_factory=dict)

    @classmethod
    def for_token(cls, token: str) -> Sessions:
        """Start with one unused link. Cookies know no port, so each server gives its cookie its own name."""
        return cls(link_hash=_digest(token), cookie_name=f"oakum-{secrets.token_hex(4)}")

    def enter(self, token: str) -> str | None:
        """Trade the one-time token for a session secret; None where it is wrong or used up."""
        if self.link_hash is None or not hmac.compare_digest(self.link_hash, _digest(token)):
            return None
        self.link_hash = None
        secret = secrets.token_urlsafe(32)
        self._until[_digest(secret)] = time.monotonic() + self.hours * 3600
        return secret

    def knows(self, secret: str) -> bool:
        """Whether this session secret was given out and has not run out."""
        return self._until.get(_digest(secret), 0.0) > time.monotonic()


def allowed_hosts(port: int) -> frozenset[str]:
    """Return the Host headers under which the pages answer."""
    names = {f"127.0.0.1:{port}", f"localhost:{port}"}
    if port == 80:
        names |= {"127.0.0.1", "localhost"}
    return frozenset(names)


def same_origin(headers: Headers) -> bool:
    """Whether one of our own pages sends a change: one of the two headers must say so, none may deny it."""
    origin, site = headers.get("origin"), headers.get("sec-fetch-site")
    if origin is None and site is None:
        return False
    if origin is not None and origin != f"http://{headers.get('host')}":
        return False
    return site is None or site == "same-origin"


def plain_page(status: int, title: str, *sentences: str) -> Response:
    """Make a page that needs neither style sheet nor session."""
    body = "".join(f"<p>{escape(s)}</p>" for s in sentences)
    head = '<meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">'
    return HTMLResponse(
        f'<!doctype html><html lang="en"><head>{head}<title>{escape(title)} · Oakum</title></head>'
        f"<body><main><h1>{escape(title)}</h1>{body}</main></body></html>",
        status_code=status,
    )


def too_large(limit: int) -> Response:
    """Refuse what is bigger than the door."""
    return plain_page(
        413,
        "Too large",
        f"What was sent is larger than {limit // 1_000_000} MB, the most this page takes at once.",
        "Nothing was stored. Send a smaller file, or several one after the other.",
    )


class Gate:
    """ASGI middleware that lets through only what may pass, and sets the security headers on every answer."""

    def __init__(self, app: ASGIApp, sessions: Sessions) -> None:
        self.app = app
        self.sessions = sessions

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Check one request."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return  # no web sockets here: the connection is closed unanswered

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in SECURITY_HEADERS.items():
                    headers.setdefault(name, value)
                headers.setdefault("Cache-Control", "private, no-cache")
            await send(message)

        refusal = self._refusal(scope)
        if refusal is not None:
            await self._drain(scope, receive)
            await refusal(scope, receive, send_guarded)
            return
        await self.app(scope, receive, send_guarded)

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        server = scope.get("server") or ("127.0.0.1", 0)
        if headers.get("host") not in allowed_hosts(int(server[1] or 0)):
            return plain_page(
                403,
                "Not under this name",
                "These pages answer only at 127.0.0.1 or localhost, on the machine where they run.",
                "Open the link that the server printed when it was started.",
            )
        if scope["method"] not in READING_METHODS | WRITING_METHODS:
            return plain_page(405, "Not possible", "These pages know only reading and sending of forms.")
        if scope["path"] == "/enter" and scope["method"] == "GET":
            return self._enter(scope)
        if not self._has_session(headers):
            return plain_page(
                403,
                "No entry without the link",
                "This logbook opens only to a browser that came in through the one-time link.",
                "Look at the terminal where the server runs: it printed the link when it was started. "
                "A link works once; for another browser, stop the server and start it again.",
            )
        if scope["method"] in WRITING_METHODS:
            if not same_origin(headers):
                return plain_page(
                    403,
                    "Sent from elsewhere",
                    "A form was sent that does not come from these pages, so nothing was changed.",
                    "Open the page here and send its own form.",
                )
            return self._size_refusal(headers)
        return None

    def _enter(self, scope: Scope) -> Response:
        token = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[0]
        secret = self.sessions.enter(token)
        if secret is None:
            return plain_page(
                403,
                "This link is used up",
                "A link lets in one browser, once, and this one is wrong or has been used.",
                "If it was not you who used it, stop the server now. Starting it again prints a fresh link.",
            )
        answer = RedirectResponse("/", status_code=303)
        answer.set_cookie(
            self.sessions.cookie_name,
            secret,
            max_age=int(self.sessions.hours * 3600),
            httponly=True,
            samesite="strict",
            path="/",
        )
        return answer

    def _has_session(self, headers: Headers) -> bool:
        try:
            cookie = SimpleCookie(headers.get("cookie", "")).get(self.sessions.cookie_name)
        except CookieError:
            return False
        return cookie is not None and self.sessions.knows(cookie.value)

    @staticmethod
    def _size_refusal(headers: Headers) -> Response | None:
        length = headers.get("content-length")
        if length is None or not length.isdecimal():
            return plain_page(411, "Length missing", "A form must say how long it is. Use a usual browser.")
        kind = headers.get("content-type", "")
        limit = UPLOAD_LIMIT if kind.startswith("multipart/form-data") else FORM_LIMIT
        return too_large(limit) if int(length) > limit else None

    @staticmethod
    async def _drain(scope: Scope, receive: Receive) -> None:
        length = Headers(scope=scope).get("content-length", "0")
        if not length.isdecimal() or int(length) > DRAIN_LIMIT:
            return
        more = True
        while more:
            message = await receive()
            more = message["type"] == "http.request" and message.get("more_body", False)
