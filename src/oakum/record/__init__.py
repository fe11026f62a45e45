"""The record: one logbook a project, what it says now, and how it is kept."""

from oakum.record.backup import restore
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
from oakum.record.finds.numbers import NumberError
from oakum.record.finds.questions import OpenQuestion
from oakum.record.finds.readings import IN_ITS_FRAME, Pooled, Reading, grouped, pooled
from oakum.record.finds.register import Find, FindLine, FindsPage
from oakum.record.gear.pieces import GearPiece
from oakum.record.gear.words import GEAR_KINDS
from oakum.record.log.chain import CheckReport, Failure
from oakum.record.log.clock import Stamp
from oakum.record.log.entries import Draft, Entry
from oakum.record.log.fact_checks import decimal_text
from oakum.record.log.heads import Head
from oakum.record.log.lift_checks import HAZARDS
from oakum.record.logbook import Logbook
from oakum.record.people import NEVER_LAPSES, Competence, Person

__all__ = [
    "GEAR_KINDS",
    "HAZARDS",
    "IN_ITS_FRAME",
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
