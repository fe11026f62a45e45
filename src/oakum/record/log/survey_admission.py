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
    """The checks of one batch; `of_kind` reads all entries of a kind from the file, once where it is needed."""

    def __init__(self, of_kind: Callable[[str], list[Entry]], is_known: IsKnown) -> None:
        self._of_kind = of_kind
        self._is_known = is_known
        self._named: dict[str, dict[str, list[Entry]]] = {}

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

    def wrote(self, entry: Entry) -> None:
        """Take note of an entry of this batch, so that the next one is held against it."""
        held = self._named.get(entry.kind)
        if held is not None:
            held.setdefault(entry.subject, []).append(entry)

    def _once(self, kind: str, subject: str, body: Mapping[str, Any]) -> None:
        held = self._named.get(kind)
        if held is None:
            held = self._named[kind] = {}
            for entry in self._of_kind(kind):
                held.setdefault(entry.subject, []).append(entry)
        mine = set(_names(body))
        for other, entries in held.items():
            taken = set(_names(current(heads(entries)))) & mine if other != subject else set()
            if taken:
                what = "mark" if kind == "mark.named" else "instrument"
                raise FactError(
                    f"{sorted(taken)[0]!r} is the name of a {what} already. Give another name, or say something new "
                    f"about that {what}, over its entry."
                )


def _names(body: Mapping[str, Any]) -> Iterable[str]:
    """The names a mark or an instrument goes by; those of an instrument without regard to capitals."""
    if "kind" in body:
        return (str(body["name"]).casefold(),)
    return (str(body.get("name", "")), *body.get("also", ()))
