"""What must hold before an entry about the seabed enters: one site, each mark once, named people who reject."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from oakum.record.errors import FactError, RecordError, UnknownSubjectError
from oakum.record.log.entries import Draft, Entry
from oakum.record.log.heads import current, heads
from oakum.record.log.kinds_dig import DIG_KINDS
from oakum.record.log.kinds_seabed import SEABED_KINDS, SITE

SEABED = frozenset(kind.name for kind in (*SEABED_KINDS, *DIG_KINDS))
OF_THE_SITE = frozenset(
    {"site.named", "site.north", "site.water", "site.crs", "site.released", "dig.hours"}
)
STARTS_SEABED = OF_THE_SITE | {
    "survey.read",
    "survey.instrument",
    "mark.named",
    "plan.registered",
    "dig.square",
    "dig.spit",
}
"""Kinds that may be the first entry about their subject."""

_BELONGS = {
    "survey.rejected": ("survey.read", "reading"),
    "survey.restored": ("survey.read", "reading"),
    "site.held": ("mark.named", "mark"),
}
IsKnown = Callable[[str], bool]


class SurveyDesk:
    """The checks of one batch.

    `subjects_of` gives the subjects of a kind that are in the file, `load` all entries of a subject, those of this
    batch with them.
    """

    def __init__(
        self,
        subjects_of: Callable[[str], Iterable[str]],
        load: Callable[[str], list[Entry]],
        is_known: IsKnown,
    ) -> None:
        self._subjects_of = subjects_of
        self._load = load
        self._is_known = is_known
        self._subjects: dict[str, dict[str, None]] = {}
        self._names: dict[str, tuple[int, frozenset[str]]] = {}

    def admit(self, draft: Draft, subject: str, body: Mapping[str, Any], before: Sequence[Entry]) -> None:
        """Raise `RecordError` unless the entry may enter after `before`, the entries of its subject."""
        kind = draft.kind
        if (kind in OF_THE_SITE) != (subject == SITE):
            raise FactError(
                f"An entry of the kind {kind} is about the site; give it the subject {SITE!r}."
                if kind in OF_THE_SITE
                else f"An entry of the kind {kind} is not about the site as a whole; give it a subject of its own."
            )
        if kind in _BELONGS:
            first, words = _BELONGS[kind]
            if not any(entry.kind == first for entry in before):
                raise UnknownSubjectError(f"There is no {words} with the id {subject} in the logbook.")
        elif subject != SITE and before and not any(entry.kind == kind for entry in before):
            raise FactError(f"The id {subject} is something else's; leave the subject out for a new thing.")
        if kind in ("survey.rejected", "survey.restored", "site.released") and not self._is_known(draft.author):
            raise RecordError(
                "A reading is rejected or taken back in, and positions are released, by a named person: add the "
                "person, then give their id as author."
            )
        if kind in ("mark.named", "survey.instrument"):
            self._once(kind, subject, body)

    def _once(self, kind: str, subject: str, body: Mapping[str, Any]) -> None:
        """Refuse a name that a mark, or an instrument, goes by already."""
        held = self._subjects.get(kind)
        if held is None:
            held = self._subjects[kind] = dict.fromkeys(self._subjects_of(kind))
        mine = set(_names(body))
        for other in held:
            taken = self._names_of(other) & mine if other != subject else set()
            if taken:
                what = "a mark" if kind == "mark.named" else "an instrument"
                raise FactError(
                    f"{sorted(taken)[0]!r} is the name of {what} already. Give another name, or say something new "
                    f"about it, over its entry."
                )
        held[subject] = None

    def _names_of(self, subject: str) -> frozenset[str]:
        entries = self._load(subject)
        found = self._names.get(subject)
        if found is None or found[0] != len(entries):
            found = self._names[subject] = (len(entries), frozenset(_names(current(heads(entries)))))
        return found[1]


def _names(body: Mapping[str, Any]) -> Iterable[str]:
    """The names a mark or an instrument goes by; those of an instrument without regard to capitals."""
    if "name" not in body:
        return ()  # struck out
    name = str(body["name"])
    return (name.casefold(),) if "kind" in body else (name, *(body.get("also") or ()))
