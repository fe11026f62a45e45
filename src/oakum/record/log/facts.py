"""What an entry of each kind may say: every kind there is, and the check of a whole entry against its kind."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from typing import Any

from oakum.record.errors import FactError
from oakum.record.log import fact_checks as must
from oakum.record.log.kinds import Kind
from oakum.record.log.kinds_dig import DIG_KINDS
from oakum.record.log.kinds_find import PROJECT_AND_FIND_KINDS
from oakum.record.log.kinds_gear import GEAR_KINDS_OF_ENTRY
from oakum.record.log.kinds_lift import LIFT_KINDS
from oakum.record.log.kinds_seabed import SEABED_KINDS
from oakum.record.log.kinds_vessel import VESSEL_KINDS

RESERVED = frozenset({"seen", "reason"})

_EVERY = (
    *PROJECT_AND_FIND_KINDS,
    *LIFT_KINDS,
    *GEAR_KINDS_OF_ENTRY,
    *VESSEL_KINDS,
    *SEABED_KINDS,
    *DIG_KINDS,
)
KINDS: dict[str, Kind] = {kind.name: kind for kind in _EVERY}


def kind_named(name: str) -> Kind:
    """Return the rules of a kind, or raise `FactError` with the nearest kind there is."""
    kind = KINDS.get(name)
    if kind is None:
        near = difflib.get_close_matches(str(name), KINDS, 1)
        hint = f" Did you mean {near[0]!r}?" if near else f" Expected one of: {', '.join(sorted(KINDS))}."
        raise FactError(f"There is no kind of entry called {name!r}.{hint}")
    return kind


def check_fact(name: str, body: Mapping[str, Any], over: tuple[str, ...]) -> None:
    """Raise `FactError`, naming every wrong field, unless an entry of this kind may carry the body."""
    kind = KINDS.get(name) or kind_named(name)
    wrong: list[str] = []
    checks, needs = kind.fields, kind.needs
    for key, value in body.items():
        check = checks.get(key) or kind.check_of(key)
        if check is not None:
            said = check(value)
            if said and (value is not None or key in needs):  # null takes a field back: "not known"
                wrong.append(f"{key}: {said}")
        elif key not in RESERVED:
            wrong.append(_unknown(key, kind))
    wrong += [f"{key}: missing" for key in kind.needs if key not in body]
    if "seen" in body and (said := must.be_seen(body["seen"])):
        wrong.append(said)
    if (over or kind.changes or "reason" in body) and must.be_text(body.get("reason", "")):
        wrong.append("reason: a correction, a strike-out or a settled question needs a reason in words")
    if over and kind.is_item:
        wrong.append(
            f"over: entries of kind {name!r} stand side by side; strike out the wrong one with a reason and "
            "enter it again"
        )
    if kind.changes and not over:
        wrong.append("over: name the entries this is about")
    if name == "settled" and ("fields" in body) == ("reading" in body):
        wrong.append("settled: give either the fields or the reading that shall hold")
    if kind.whole is not None and not wrong and (said := kind.whole(body)):
        wrong.append(said)
    if wrong:
        raise FactError(f"{kind.words.capitalize()} ({name}): " + "; ".join(wrong) + ".")


def _unknown(key: str, kind: Kind) -> str:
    near = difflib.get_close_matches(key, kind.fields, 1)
    said = ", ".join(kind.fields) or (f"{kind.each[0]}NAME" if kind.each else "only a reason")
    hint = f"did you mean {near[0]!r}?" if near else f"expected {said}"
    return f"{key}: not a field of this kind; {hint}"
