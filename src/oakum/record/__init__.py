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
from oakum.record.gear import GearPiece
from oakum.record.gear_words import GEAR_KINDS
from oakum.record.heads import Head
from oakum.record.lift_checks import HAZARDS
from oakum.record.logbook import Logbook
from oakum.record.numbers import NumberError
from oakum.record.people import NEVER_LAPSES, Competence, Person
from oakum.record.questions import OpenQuestion
from oakum.record.readings import Pooled, Reading, grouped, pooled
from oakum.record.register import Find, FindLine, FindsPage

__all__ = [
    "GEAR_KINDS",
    "HAZARDS",
    "NEVER_LAPSES",
    "BusyError",
    "ChainError",
    "CheckReport",
    "Competence",
    "DamagedError",
    "DiskFullError",
    "Draft",
    "Entry",
    "FactError",
    "Failure",
    "Find",
    "FindLine",
    "FindsPage",
    "GearPiece",
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
