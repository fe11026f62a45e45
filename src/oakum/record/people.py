"""People: names, roles and competences in tables beside the log, erasable without touching the chain.

The log knows a person only by a pseudonymous id. Erasing overwrites the rows in the file (secure_delete);
copies made before, backups among them, still hold them and must be dealt with where they lie.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from sqlalchemy import Connection

from oakum.record.errors import FactError, UnknownSubjectError
from oakum.record.log.lift_checks import be_day

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
NEVER_LAPSES = "does not lapse"


@dataclass(frozen=True, slots=True)
class Competence:
    """What a person is qualified or fit for.

    `until` is the last day it holds (YYYY-MM-DD), "does not lapse", or None: not known. `evidence` says where
    the paper is.
    """

    competence: str
    until: str | None
    evidence: str | None

    def holds_on(self, day: str) -> bool | None:
        """Whether it holds on a day (YYYY-MM-DD), the last day included; None where that is not known."""
        if self.until is None:
            return None
        return self.until == NEVER_LAPSES or day <= self.until


@dataclass(frozen=True, slots=True)
class Person:
    """A person as the project knows them. `id` is what the log carries."""

    id: str
    name: str
    role: str
    competences: tuple[Competence, ...] = ()

    def competence(self, name: str) -> Competence | None:
        """Return the competence of this name, in whatever case it is written."""
        wanted = plain_name(name)
        return next((one for one in self.competences if plain_name(one.competence) == wanted), None)


def plain_name(competence: str) -> str:
    """Return what two writings of a competence share."""
    return " ".join(competence.split()).casefold()


def add(connection: Connection, name: str, role: str) -> Person:
    """Register a person and return them with a new random id."""
    name, role = name.strip(), role.strip()
    if not 0 < len(name) <= 200 or not 0 < len(role) <= 100:
        raise FactError("A person needs a name (up to 200 characters) and a role (up to 100).")
    person = Person("p-" + "".join(secrets.choice(_LETTERS) for _ in range(8)), name, role)
    connection.exec_driver_sql(
        "INSERT INTO person (id, name, role) VALUES (?,?,?)", (person.id, person.name, person.role)
    )
    return person


def everyone(connection: Connection) -> tuple[Person, ...]:
    """Return all people, by name, each with their competences."""
    held: dict[str, list[Competence]] = {}
    for person, *row in connection.exec_driver_sql(
        "SELECT person, competence, until, evidence FROM competence ORDER BY person, competence"
    ):
        held.setdefault(person, []).append(Competence(*row))
    rows = connection.exec_driver_sql("SELECT id, name, role FROM person ORDER BY name, id")
    return tuple(Person(id, name, role, tuple(held.get(id, ()))) for id, name, role in rows)


def is_known(connection: Connection, id: str) -> bool:
    """Tell whether a person with this id is registered."""
    return connection.exec_driver_sql("SELECT 1 FROM person WHERE id = ?", (id,)).first() is not None


def set_competence(
    connection: Connection, id: str, competence: str, until: str | None, evidence: str | None
) -> Competence:
    """Say what a person is qualified for, and until when; what was said of it before is replaced."""
    _need(connection, id)
    name = " ".join(competence.split())
    if not 0 < len(name) <= 100:
        raise FactError("A competence needs a name of up to 100 characters, such as lift supervisor.")
    wanted = (until or "").strip() or None
    if wanted is not None and wanted != NEVER_LAPSES and (said := be_day(wanted)):
        raise FactError(
            f'{name}, valid until {wanted!r}: {said}, or "{NEVER_LAPSES}"; empty where it is not known.'
        )
    paper = (evidence or "").strip() or None
    if paper is not None and len(paper) > 400:
        raise FactError(f"{name}: say in up to 400 characters where the evidence is.")
    remove_competence(connection, id, name)
    connection.exec_driver_sql(
        "INSERT INTO competence (person, competence, until, evidence) VALUES (?,?,?,?)",
        (id, name, wanted, paper),
    )
    return Competence(name, wanted, paper)


def remove_competence(connection: Connection, id: str, competence: str) -> bool:
    """Forget one competence of a person; tell whether there was one of this name."""
    rows = connection.exec_driver_sql("SELECT competence FROM competence WHERE person = ?", (id,)).scalars()
    same = [(id, held) for held in rows if plain_name(held) == plain_name(competence)]
    for one in same:
        connection.exec_driver_sql("DELETE FROM competence WHERE person = ? AND competence = ?", one)
    return bool(same)


def erase(connection: Connection, id: str) -> None:
    """Forget a person and all their competences. Entries keep the id, which then stands for nobody."""
    _need(connection, id, "; nothing was erased")
    connection.exec_driver_sql("DELETE FROM competence WHERE person = ?", (id,))
    connection.exec_driver_sql("DELETE FROM person WHERE id = ?", (id,))


def _need(connection: Connection, id: str, outcome: str = "") -> None:
    if not is_known(connection, id):
        raise UnknownSubjectError(f"Nobody with the id {id} is registered here{outcome}.")
