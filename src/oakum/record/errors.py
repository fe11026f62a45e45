"""What can go wrong with a logbook, each with a sentence for the person at the keyboard."""

from __future__ import annotations

from oakum.ground.errors import OakumError


class RecordError(OakumError):
    """Anything the logbook refuses. The message says what was expected and what to do."""


class NotAProjectError(RecordError):
    """The folder holds no Oakum project."""


class NewerProjectError(RecordError):
    """The project was written by a newer version of Oakum."""


class ProjectExistsError(RecordError):
    """A project stands where a new one was to be made."""


class ReadOnlyError(RecordError):
    """The project, or the folder it lies in, cannot be written."""


class DiskFullError(RecordError):
    """There was no room to write."""


class DamagedError(RecordError):
    """The file is not whole."""


class BusyError(RecordError):
    """Another program kept the project locked for longer than the wait."""


class FactError(RecordError):
    """A fact is incomplete, or says something it may not say."""


class UnknownSubjectError(RecordError):
    """There is no such find, entry or person."""


class ChainError(RecordError):
    """Entries received do not fit the chain of their station."""
