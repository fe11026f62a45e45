"""The pages: they ask the desk and the logbook and show the answer; they compute nothing.

`create_app` makes the application for one project folder; `serve` runs it on this machine behind a one-time
link.
"""

from oakum.web.app import create_app
from oakum.web.serve import serve

__all__ = ["create_app", "serve"]
