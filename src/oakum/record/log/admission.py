"""Letting a draft into the log: what must hold between it and what is already there.

One `Admission` lives inside one write transaction, so what it reads stays true until it is written.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection

from oakum.record import people
from oakum.record.errors import FactError, RecordError, UnknownSubjectError
from oakum.record.finds.number_blocks import NumberDesk
from oakum.record.gear.identities import IdentityDesk
from oakum.record.log import entry_table as log_table
from oakum.record.log import fact_checks
from oakum.record.log.entries import Draft, Entry, check_word, new_id
from oakum.record.log.facts import KINDS, RESERVED, check_fact
from oakum.record.log.heads import fields_of, heads
from oakum.record.log.kinds_lift import LIFT_KINDS
from oakum.record.log.plan_admission import admit_plan
from oakum.record.log.survey_admission import SEABED, STARTS_SEABED, SurveyDesk

STARTS = STARTS_SEABED | frozenset(
    {
        "project.opened",
        "station.opened",
        "find.entered",
        "find.sample",
        "gear.listed",
        "body.described",
        "vessel.described",
        "import.accepted",
    }
)
_LIFT = frozenset(kind.name for kind in LIFT_KINDS) - {"body.described"}
ABOUT_A_FIND = frozenset({"find.described", "find.part_of", "find.joined", "reading"}) | _LIFT


class Admission:
    """The checks of one batch of drafts."""

    def __init__(self, connection: Connection, station: str) -> None:
        self.connection = connection
        self.numbers = NumberDesk(connection, station)
        self.identities = IdentityDesk(connection)
        self.survey = SurveyDesk(
            lambda kind: log_table.subjects_of_kind(connection, kind), self.load, self._is_known
        )
        self.entries: dict[str, list[Entry]] = {}
        self.known: set[str] = set()
        self._authors: set[str] = set()

    def admit(self, draft: Draft) -> tuple[str, dict[str, Any]]:
        """Return subject and finished body of a draft that may enter; raise `RecordError` if it may not."""
        self._check_author(draft.author)
        body: dict[str, Any] = dict(draft.body)
        if draft.seen is not None:
            body["seen"] = dict(draft.seen)
        kind = draft.kind
        if draft.subject is None:
            subject, before = new_id(), self.entries
            before[subject] = []
        else:
            subject = check_word(draft.subject, "The subject")
            self.load(subject)
        if kind == "find.entered":
            self._enter_find(subject, body)
        elif kind == "find.sample":
            self._take_sample(body)
        elif kind == "vessel.described":
            _check_vessel(self.entries[subject])
        check_fact(kind, body, draft.over)
        if draft.subject is not None or kind not in STARTS:
            self._check_against(subject, draft, body)
        if kind == "find.part_of":
            self._check_parent(subject, body["parent"])
        elif kind == "find.joined":
            self._need_find(body["other"], "other")
            if body["other"] == subject:
                raise FactError("A find cannot be joined to itself; give the id of the other find.")
        elif kind == "block.given":
            self.numbers.give(subject, body)
        elif kind.startswith("gear."):
            self.identities.admit(kind, subject, self.entries[subject], body)
        elif kind in SEABED:
            self.survey.admit(draft, subject, body, self.entries[subject])
        if kind in _LIFT or kind == "gear.brought_back":
            admit_plan(draft, body, self.entries[subject], self._is_known)
        return subject, body

    def load(self, subject: str) -> list[Entry]:
        """Return the entries of a subject, from the file the first time."""
        held = self.entries.get(subject)
        if held is None:
            held = log_table.of_subjects(self.connection, [subject])[subject]
            self.entries[subject] = held
            if held:
                self.known.add(subject)
        return held

    def _is_known(self, person: str) -> bool:
        return people.is_known(self.connection, person)

    def _check_author(self, author: str) -> None:
        if author in self._authors:
            return
        if said := fact_checks.be_author(author):
            raise FactError(f"Author {author!r}: {said}.")
        if author.startswith("p-") and not people.is_known(self.connection, author):
            raise UnknownSubjectError(
                f"Nobody with the id {author} is registered here; add the person first."
            )
        self._authors.add(author)

    def _enter_find(self, subject: str, body: dict[str, Any]) -> None:
        before = self.entries[subject]
        if before and any(entry.kind == "find.entered" for entry in before):
            raise FactError("This find was entered before; describe or correct it with find.described.")
        given = body.get("number")
        body["number"] = self.numbers.take_next() if given is None else self.numbers.take(given)

    def _take_sample(self, body: dict[str, Any]) -> None:
        """Number a sample under its find: the find's number, a stroke, S and the next free whole number."""
        of = body.get("of")
        if fact_checks.be_id(of):
            raise FactError("A sample needs the id of its find in the field 'of'.")
        self._need_find(str(of), "of")
        taken = self.connection.exec_driver_sql(
            "SELECT coalesce(max(sample), 0) FROM find WHERE sample_of = ?", (of,)
        ).scalar_one()
        here = [e.body["sample"] for held in self.entries.values() for e in held if e.body.get("of") == of]
        next_free = max([taken, *here]) + 1
        body.setdefault("sample", next_free)
        if body["sample"] != next_free:
            raise FactError(f"The next sample of this find has the number {next_free}, not {body['sample']}.")
        body["number"] = f"{self._number_of(str(of))}/S{next_free}"

    def _number_of(self, subject: str) -> str:
        for entry in self.load(subject):
            if number := entry.body.get("number"):
                return str(number)
        return subject

    def _need_find(self, subject: str, where: str) -> None:
        if not any(entry.kind in ("find.entered", "find.sample") for entry in self.load(subject)):
            raise UnknownSubjectError(f"{where}: there is no find with the id {subject}; enter it first.")

    def _check_parent(self, subject: str, parent: str | None) -> None:
        seen = {subject}
        if parent is not None:
            self._need_find(parent, "parent")
        while parent is not None:
            if parent in seen:
                raise FactError("A find cannot be a part of itself, nor of one of its own parts.")
            seen.add(parent)
            several = heads(self.load(parent)).get("parent", ())
            parent = several[-1].value if several else None

    def _check_against(self, subject: str, draft: Draft, body: Mapping[str, Any]) -> None:
        before = self.entries[subject]
        if draft.kind in ABOUT_A_FIND:
            self._need_find(subject, "subject")
        elif not before and draft.kind not in STARTS:
            raise UnknownSubjectError(f"Nothing with the id {subject} is in the logbook; enter it first.")
        ids = {entry.id: entry for entry in before}
        for id in draft.over:
            if id not in ids:
                raise UnknownSubjectError(f"over: {id} is no entry about this subject.")
        if draft.kind == "settled":
            self._check_settling(draft, body, [ids[id] for id in draft.over])
        elif draft.kind != "struck" and before:
            self._check_unopposed(draft, body, before)

    def _check_settling(self, draft: Draft, body: Mapping[str, Any], over: list[Entry]) -> None:
        if not people.is_known(self.connection, draft.author):
            raise RecordError(
                "An open question is settled by a named person: add the person, then give their id as author."
            )
        self._check_settled_fields(draft, body.get("fields") or {})
        chosen = body.get("reading")
        for entry in over:
            stated = entry.body.get("reading") if entry.kind == "settled" else entry.body
            if chosen and (stated or {}).get("quantity") != chosen["quantity"]:
                raise FactError("over: a settled reading stands over readings of the same quantity only.")
            if chosen and (stated or {}).get("state") != chosen["state"]:
                raise FactError("over: a settled reading stands over readings in the same state only.")

    def _check_settled_fields(self, draft: Draft, fields: Mapping[str, Any]) -> None:
        """Refuse a settled value that the kind which first set its field would not take."""
        before = self.entries[str(draft.subject)]
        for name, value in fields.items():
            kinds = {entry.kind for entry in before if name in fields_of(entry) and entry.kind != "settled"}
            if not kinds:
                raise FactError(f"{name}: nothing about this subject sets a field of this name.")
            said = [KINDS[kind].check_of(name) for kind in sorted(kinds)]
            wrong = [told for check in said if check and value is not None and (told := check(value))]
            if wrong and len(wrong) == len(said):
                raise FactError(f"{name}: {wrong[0]}.")

    def _check_unopposed(self, draft: Draft, body: Mapping[str, Any], before: list[Entry]) -> None:
        """Refuse a second, different value of a field that does not say which entry it corrects."""
        if KINDS[draft.kind].is_item:
            return
        found = heads(before)
        for name, value in body.items():
            if name in RESERVED or name not in found:
                continue
            for head in found[name]:
                if head.value != value and head.entry.id not in draft.over:
                    raise FactError(
                        f"{name}: the logbook already says {_short(head.value)} (entry {head.entry.id}). "
                        "If that is wrong, enter a correction over that entry, with a reason."
                    )


def _check_vessel(before: list[Entry]) -> None:
    if before and not any(entry.kind == "vessel.described" for entry in before):
        raise FactError("A vessel is described under an id of its own; this id is something else's.")


def _short(value: Any) -> str:
    text = value.get("text") if isinstance(value, dict) else value
    shown = repr(text)
    return shown if len(shown) <= 60 else shown[:57] + "..."
