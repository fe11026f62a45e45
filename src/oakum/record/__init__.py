"""The record: one logbook a project, what it says now, and how it is kept."""

from oakum.record.backup import restore
from oakum.record.chain import CheckReport, Failure
from oakum.record.clock import Stamp
from oakum.record.entries import Draft, Entry
from oakum.record.errors import (
    BusyError,
    ChainError,
    DamagedError,
    DiskFullError,
    FactError,
    NewerProjectError,
    NotAProjectError,
    ProjectExistsError,
    ReadOnlyError,
    RecordError,
    UnknownSubjectError,
)
from oakum.record.fact_checks import decimal_text
from oakum.record.heads import Head
from oakum.record.logbook import Logbook
from oakum.record.numbers import NumberError
from oakum.record.people import Person
from oakum.record.questions import OpenQuestion
from oakum.record.readings import Pooled, Reading, grouped, pooled
from oakum.record.register import Find, FindLine, FindsPage

__all__ = [
    "BusyError",
    "ChainError",
    "CheckReport",
    "DamagedError",
    "DiskFullError",
    "Draft",
    "Entry",
    "FactError",
    "Failure",
    "Find",
    "FindLine",
    "FindsPage",
    "Head",
    "Logbook",
    "NewerProjectError",
    "NotAProjectError",
    "NumberError",
    "OpenQuestion",
    "Person",
    "Pooled",
    "ProjectExistsError",
    "ReadOnlyError",
    "Reading",
    "RecordError",
    "Stamp",
    "UnknownSubjectError",
    "decimal_text",
    "grouped",
    "pooled",
    "restore",
]
