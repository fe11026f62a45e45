"""Open questions: where the logbook says two things, and a named person has to say which holds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import Connection

from oakum.record.log import entry_table as log_table
from oakum.record.log.views import read_question


@dataclass(frozen=True, slots=True)
class OpenQuestion:
    """One open question.

    `key` is "field:NAME", "reading:QUANTITY:STATE", "number" or "identity"; `number` is that of a find, kind and
    identity of a piece of gear, or the title of a vessel or mark; `entries` are the entries to settle over; it
    is settled by an entry of kind `settled`, over all of them, with a reason, by a registered person.
    """

    subject: str
    key: str
    number: str | None
    values: tuple[Any, ...]
    entries: tuple[str, ...]
    why: str

    def words(self) -> str:
        """Return the question as a sentence."""
        shown = " / ".join(value_words(value) for value in self.values)
        return f"{self.number or self.subject}: {self.why}: {shown}"


def open_questions(connection: Connection, subject: str | None = None) -> tuple[OpenQuestion, ...]:
    """Return every open question, or those about one subject, in order of number."""
    where, parameters = ("WHERE q.subject = ?", (subject,)) if subject else ("", ())
    rows = connection.exec_driver_sql(
        "SELECT q.subject, q.key, q.body, coalesce(f.number, g.kind || ' ' || g.identity) FROM question q "
        "LEFT JOIN find f ON f.id = q.subject LEFT JOIN gear g ON g.subject = q.subject "
        f"{where} ORDER BY f.sort, q.subject, q.key",
        parameters,
    )
    found = [_from_row(*row) for row in rows]
    found = [one if one.number else replace(one, number=_title(connection, one)) for one in found]
    return (*found, *_clashes(connection, subject), *_twins(connection, subject))


def _from_row(subject: str, key: str, text: str, number: str | None) -> OpenQuestion:
    body = read_question(text)
    if key.startswith("field:"):
        why = f"two entries say different things about {body['field']}"
    else:
        why = f"{body['quantity']} ({body['state']}): {body['why']}"
    return OpenQuestion(subject, key, number, tuple(body["values"]), tuple(body["entries"]), why)


def _title(connection: Connection, question: OpenQuestion) -> str | None:
    """Return what a vessel, a mark or an instrument is called, or what a reading says: none has a number or a tag."""
    held = log_table.of_subjects(connection, [question.subject])[question.subject]
    titles = [
        entry.body["title" if "title" in entry.body else "name" if "name" in entry.body else "text"]
        for entry in held
        if entry.kind in ("vessel.described", "mark.named", "survey.instrument", "survey.read", "site.named")
    ]
    return str(titles[-1]) if titles else None


def _clashes(connection: Connection, subject: str | None) -> list[OpenQuestion]:
    """Return the numbers of ours that two finds carry; only copies that were merged can have them."""
    rows = connection.exec_driver_sql(
        "SELECT number, group_concat(id, ' ') FROM (SELECT number, sort, id FROM find WHERE sort IN "
        "(SELECT sort FROM find GROUP BY sort HAVING count(*) > 1) ORDER BY sort, id) GROUP BY sort"
    )
    found: list[OpenQuestion] = []
    for text, joined in rows:
        subjects = tuple(joined.split(" "))
        if subject is None or subject in subjects:
            why = "two finds carry this number; write a new label for one of them"
            found.append(OpenQuestion(subject or subjects[0], "number", text, subjects, (), why))
    return found


def _twins(connection: Connection, subject: str | None) -> list[OpenQuestion]:
    """Return the identities that two pieces of one kind carry; only copies that were merged can have them."""
    rows = connection.exec_driver_sql(
        "SELECT min(kind || ' ' || identity), group_concat(subject, ' ') FROM (SELECT * FROM gear WHERE struck = 0 "
        "ORDER BY subject) GROUP BY sort HAVING count(*) > 1 ORDER BY sort"
    )
    found: list[OpenQuestion] = []
    for name, joined in rows:
        subjects = tuple(joined.split(" "))
        if subject is None or subject in subjects:
            why = "two pieces of gear carry this identity; mark one of them anew, or strike out the one listed twice"
            found.append(OpenQuestion(subject or subjects[0], "identity", name, subjects, (), why))
    return found


def value_words(value: Any) -> str:
    """Return a value as a person reads it: a measure as written, what was said of a role or a hazard in its parts."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        if "text" in value:
            return str(value["text"])
        return "; ".join(f"{key.replace('_', ' ')}: {value_words(one)}" for key, one in value.items())
    return "not known" if value is None else str(value)
