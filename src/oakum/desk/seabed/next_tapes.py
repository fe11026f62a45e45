"""Which tapes to take tomorrow, and the pairs for the sheet."""

from __future__ import annotations

import re
from collections.abc import Sequence

from oakum.desk.seabed.survey import survey_of
from oakum.ground.errors import OakumError
from oakum.record import Logbook
from oakum.seabed.network import Depth
from oakum.seabed.network.names import marks_of, natural
from oakum.seabed.network.next_tape import TapePlan, next_tapes

MOST_TAPES = 60
LONGEST_M = 15.0
"""Longer tapes bow in the current and sag; a sheet asks for none (practice, no source)."""


class NextTapeError(OakumError):
    """What was asked cannot be ranked; the text says why."""


def tapes_for_tomorrow(
    logbook: Logbook, *, marks: Sequence[str] = (), count: int = 12, longest_m: float = LONGEST_M
) -> TapePlan:
    """Rank the pairs not taped yet by what they would gain at the chosen marks (all, where none) a diver-minute."""
    if not 1 <= count <= MOST_TAPES:
        raise NextTapeError(f"{count} tapes: ask for 1 to {MOST_TAPES}, one sheet of a dive holds about a dozen.")
    if not 0.5 <= longest_m <= 100.0:
        raise NextTapeError(f"A longest tape of {longest_m:g} m: give 0.5 to 100 m.")
    solution = survey_of(logbook).solution
    known = {mark.name for mark in solution.marks}
    strange = [name for name in marks if name not in known]
    if strange:
        raise NextTapeError(f"{strange[0]} has no place in the plan yet, so nothing can be said of tapes to it.")
    if solution.without_suspects is not None and known == {m.name for m in solution.without_suspects.marks}:
        solution = solution.without_suspects
    return next_tapes(solution, count=count, marks=tuple(marks), longest_m=longest_m)


def marks_without_depth(logbook: Logbook) -> list[str]:
    """Marks that are read but have no depth that counts, for tomorrow's depth sheet."""
    site = survey_of(logbook).site
    named: set[str] = set()
    deep: set[str] = set()
    for one in site.observations:
        if one.id not in site.rejected:
            (deep if isinstance(one, Depth) else named).update(marks_of(one))
    return sorted(named - deep, key=natural)


def pairs_in(text: str) -> tuple[tuple[str, str], ...]:
    """The pairs of a text such as "A1 to B2; A1 to B3", for a sheet or for entering it; others are passed over."""
    parts = [re.split(r"\s+to\s+", part.strip()) for part in text.split(";") if part.strip()]
    return tuple((part[0].strip(), part[1].strip()) for part in parts if len(part) == 2 and all(part))


def pairs_text(pairs: Sequence[tuple[str, str]]) -> str:
    """The text `pairs_in` reads."""
    return "; ".join(f"{a} to {b}" for a, b in pairs)
