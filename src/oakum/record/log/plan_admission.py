"""What must hold before an entry about a lift enters: named people, and a release by two of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from oakum.record.errors import FactError, RecordError, UnknownSubjectError
from oakum.record.log.entries import Draft, Entry
from oakum.record.log.heads import standing

IsKnown = Callable[[str], bool]


def admit_plan(draft: Draft, body: Mapping[str, Any], before: Sequence[Entry], is_known: IsKnown) -> None:
    """Raise `RecordError` unless the entry may enter after `before`; other kinds than those of a lift pass."""
    for where, person in _people_in(body):
        if not is_known(person):
            raise UnknownSubjectError(
                f"{where}: nobody with the id {person} is registered here; add the person first."
            )
    if draft.kind.startswith("plan."):
        if not is_known(draft.author):
            raise RecordError(
                "A plan is briefed, released, done or abandoned by a named person: add the person, then give their "
                "id as author."
            )
        _check_known_ends(body, before)
    if draft.kind == "plan.released":
        _check_second_person(draft, body, before)


def _people_in(body: Mapping[str, Any]) -> list[tuple[str, str]]:
    found = []
    for name, value in body.items():
        if name in ("raise_decided_by", "passed_by") and isinstance(value, str):
            found.append((name, value))
        elif isinstance(value, dict):
            found += [(f"{name}.{key}", value[key]) for key in ("by", "person") if _is_person(value.get(key))]
    return found


def _is_person(value: Any) -> bool:
    return isinstance(value, str) and value.startswith("p-")


def _check_known_ends(body: Mapping[str, Any], before: Sequence[Entry]) -> None:
    ids = {entry.id for entry in before if entry.kind in ("plan.done", "plan.abandoned")}
    strange = [id for id in body.get("after", ()) if id not in ids]
    if strange:
        raise UnknownSubjectError(f"after: {strange[0]} is no end of an earlier plan of this find.")


def _check_second_person(draft: Draft, body: Mapping[str, Any], before: Sequence[Entry]) -> None:
    after = set(body.get("after", ()))
    for entry in standing(before):
        same = entry.kind == "plan.released" and _rests(entry.body) == _rests(body)
        if same and entry.author == draft.author and set(entry.body.get("after", ())) == after:
            raise FactError(
                "You have released this plan already; a release takes two named people, so another one has to."
            )


def _rests(body: Mapping[str, Any]) -> tuple[str, set[tuple[str, str]]]:
    """Return what a release is for: the plan, and the parts it rests on, which may change and leave it the same."""
    return body["fingerprint"], {(str(part), str(digest)) for part, digest in body["rests_on"]}
