"""What falls due soon: certificates and inspections of gear, competences of people."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from oakum.desk.gear.standing import gear_standing
from oakum.record import NEVER_LAPSES, Logbook

AHEAD_DAYS = 30


@dataclass(frozen=True, slots=True)
class PaperDue:
    """A paper that lapses soon or has lapsed.

    `of` is the id of the piece or the person, `name` what people call it (for a person their id: names are
    looked up by the face). `days` counts from the day asked, negative when it has lapsed.
    """

    of: str
    name: str
    is_person: bool
    paper: str
    on: str
    days: int

    def words(self) -> str:
        """Say it in a line."""
        if self.days < 0:
            return f"{self.name}: {self.paper} lapsed on {self.on}"
        if self.days == 0:
            return f"{self.name}: {self.paper} holds until today"
        return f"{self.name}: {self.paper} holds until {self.on}, {self.days} day{'' if self.days == 1 else 's'} more"


def papers_due(logbook: Logbook, on: date, *, ahead_days: int = AHEAD_DAYS) -> tuple[PaperDue, ...]:
    """Return what lapses within `ahead_days` of the day `on` or has lapsed, the earliest first.

    Withdrawn gear is left out: it is not to be used anyway.
    """
    found: list[PaperDue] = []
    for one in gear_standing(logbook, on):
        if one.piece.fields.get("withdrawn") is not None:
            continue
        for paper, until in (
            ("certificate", one.item.certificate_until),
            ("inspection", one.item.inspection_until),
        ):
            found += _due(one.piece.id, one.piece.name, False, paper, until, on, ahead_days)
    for person in logbook.people():
        for held in person.competences:
            found += _due(person.id, person.id, True, held.competence, held.until, on, ahead_days)
    return tuple(sorted(found, key=lambda due: (due.on, due.name, due.paper)))


def _due(
    of: str, name: str, is_person: bool, paper: str, until: str | None, on: date, ahead_days: int
) -> list[PaperDue]:
    if until is None or until == NEVER_LAPSES:
        return []
    days = (date.fromisoformat(until) - on).days
    return [PaperDue(of, name, is_person, paper, until, days)] if days <= ahead_days else []
