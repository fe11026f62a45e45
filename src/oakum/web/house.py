"""What all pages share: the open logbook, the store of files, long work, registers to be looked at."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from oakum.desk.seabed.bringing import Brought
from oakum.record import Logbook
from oakum.record.club_register.proposal import RegisterProposal
from oakum.record.files.store import FileStore
from oakum.record.gear.proposal import GearProposal
from oakum.record.log.fact_checks import ROLES
from oakum.web.jobs import Jobs
from oakum.web.trays import Trays


@dataclass(frozen=True, slots=True)
class House:
    """One project that is open for the pages."""

    logbook: Logbook
    files: FileStore
    jobs: Jobs
    trays: Trays[RegisterProposal]
    gear_trays: Trays[GearProposal]
    survey_trays: Trays[Brought]
    drawing_trays: Trays[object] = field(default_factory=Trays)  # pictures that are not laid on the plan yet
    weighed: set[tuple[str, ...]] = field(default_factory=set)  # meshes that were weighed since the start

    @classmethod
    def open(cls, folder: Path) -> House:
        """Open the project in this folder. Errors: `RecordError` with a sentence for the user."""
        logbook = Logbook.open(folder)
        return cls(logbook, FileStore(logbook.files_folder), Jobs(), Trays(), Trays(), Trays())

    def close(self) -> None:
        """Let go of everything."""
        self.jobs.close()
        self.logbook.close()

    @property
    def title(self) -> str:
        """Return the name of the project."""
        return str(self.logbook.name)

    def people(self) -> list[tuple[str, str]]:
        """Return who may write: the registered people, then the bare roles, each with words for a list."""
        named = [(p.id, f"{p.name}, {p.role}") for p in self.logbook.people()]
        return named + [(role, role.replace("-", " ")) for role in sorted(ROLES - {"program"})]

    def names(self) -> dict[str, str]:
        """Return the words for every id of a person."""
        return {p.id: f"{p.name}, {p.role}" for p in self.logbook.people()}
