"""A real server on a real socket, for every test of the pages."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager

import pytest
import uvicorn
from starlette.types import ASGIApp

from oakum.web.serve import loopback_socket

Running = Callable[[ASGIApp], AbstractContextManager[str]]


@contextmanager
def _running(app: ASGIApp) -> Iterator[str]:
    listener = loopback_socket()
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", lifespan="on"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    until = time.monotonic() + 20
    while not server.started:
        assert thread.is_alive() and time.monotonic() < until, "the server did not start"
        time.sleep(0.005)
    try:
        yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    finally:
        server.should_exit = True
        thread.join(20)
        listener.close()


@pytest.fixture(scope="session")
def running() -> Running:
    """Serve an application on a free port of 127.0.0.1; gives its address without a slash at the end."""
    return _running
