"""The one family of errors whose text is meant for the person at the screen."""

from __future__ import annotations


class OakumError(Exception):
    """Something the user can put right; its text says what was expected and what to do.

    The command line prints it and ends with code 2, a page shows it beside the field with status 422.
    """
