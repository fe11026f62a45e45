"""The plan of a find, kept while the logbook and the people beside it stay as they are."""

from __future__ import annotations

from datetime import date

from oakum.desk.lifts.kept import Kept
from oakum.desk.lifts.plan import PlanAnswer, plan_find
from oakum.record import Logbook

_kept: Kept[PlanAnswer] = Kept(12)


def plan_as_kept(logbook: Logbook, find_id: str, *, on: date) -> PlanAnswer:
    """Return `plan_find`, or the same answer again while nothing was entered since.

    Entries are only ever added, so their number tells whether the logbook is the same; people can change
    without an entry. Raises as `plan_find`.
    """
    key = (str(logbook.path), logbook.count(), logbook.people(), find_id, on)
    found = _kept.get(key)
    if found is None:
        found = plan_find(logbook, find_id, on=on)
        _kept.put(key, found)
    return found
