"""Start the pages on this machine and print the one-time link."""

from __future__ import annotations

import secrets
import socket
import webbrowser
from pathlib import Path

import uvicorn

from oakum.ground.errors import OakumError
from oakum.web.app import create_app


class PortError(OakumError):
    """The wanted port cannot be had."""


def loopback_socket(port: int = 0) -> socket.socket:
    """Bind 127.0.0.1 at this port, or at a free one for 0; `PortError` where it is taken or not allowed."""
    # named as TCP, or asyncio leaves small packets waiting 40 ms for an acknowledgement
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind(("127.0.0.1", port))
    except (OSError, OverflowError) as error:
        listener.close()
        raise PortError(
            f"Port {port} cannot be used ({error}). Give another port, or none to let the machine choose one."
        ) from error
    return listener


def serve(folder: Path, port: int = 0, open_browser: bool = False) -> None:
    """Serve the project in this folder until the user presses Ctrl+C.

    Prints the one-time link first, because nobody gets in without it. Errors: `PortError`, and what opening
    the project raises.
    """
    token = secrets.token_urlsafe(24)
    app = create_app(folder, token=token)
    listener = loopback_socket(port)
    link = f"http://127.0.0.1:{listener.getsockname()[1]}/enter?token={token}"
    print("Open this link once, in the browser you will work with (Ctrl+C here ends the pages):\n")
    print(f"  {link}\n", flush=True)
    config = uvicorn.Config(app, log_level="warning", server_header=False, proxy_headers=False)
    if open_browser:
        webbrowser.open(link)
    try:
        uvicorn.Server(config).run(sockets=[listener])
    except KeyboardInterrupt:
        pass
    finally:
        listener.close()
