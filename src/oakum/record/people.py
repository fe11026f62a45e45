"""Names of people: a table beside the log that can be erased without touching the chain.

The log knows a person only by a pseudonymous id. Erasing overwrites the name in the file (secure_delete);
copies made before, backups among them, still hold it and must be dealt with where they lie.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass

from sqlalchemy import Connection

from oakum.record.errors import FactError, UnknownSubjectError

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"


@dataclass(frozen=True, slots=True)
class Person:
    """A person as the project knows them. `id` is what the log carries."""

    id: str
    name: str
    role: str


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
    """Return all people, by name."""
    rows = connection.exec_driver_sql("SELECT id, name, role FROM person ORDER BY name, id")
    return tuple(Person(*row) for row in rows)


def is_known(connection: Connection, id: str) -> bool:
    """Tell whether a person with this id is registered."""
    return connection.exec_driver_sql("SELECT 1 FROM person WHERE id = ?", (id,)).first() is not None


def erase(connection: Connection, id: str) -> None:
    """Forget a person. Entries keep the id, which then stands for nobody."""
    if not connection.exec_driver_sql("DELETE FROM person WHERE id = ?", (id,)).rowcount:
        raise UnknownSubjectError(f"Nobody with the id {id} is registered here; nothing was erased.")
