"""The cradles of the finds: what the logbook holds, keeping a new text, and what a cradle bears under its find."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from oakum.desk.finds.saying import say
from oakum.desk.lifts.kept import Kept
from oakum.desk.lifts.weigh import NoBodyError, weigh_find
from oakum.ground.errors import OakumError
from oakum.lift import Weighing
from oakum.lift.cradle import CradlePlan, CradleReport, cradle_report, parse_cradle
from oakum.lift.raising import parse_rig
from oakum.lift.raising.at_sea import bed_depth_m, loads_from
from oakum.record import Entry, Find, Logbook


class CradleUnknownError(OakumError):
    """The find has no cradle, or it cannot be kept; the text says why."""


@dataclass(frozen=True, slots=True)
class CradleShown:
    """A cradle with what it bears: `report` None where the find has no weight yet, with why.

    `is_one_of` counts the descriptions that stand beside each other; the newest is shown.
    """

    find: Find
    toml: str
    plan: CradlePlan
    report: CradleReport | None
    why_not: str = ""
    is_one_of: int = 1


def cradle_texts(find: Find) -> tuple[str, ...]:
    """Return every cradle text that stands for a find, the newest last."""
    return tuple(str(head.value) for head in find.heads.get("cradle", ()) if head.value is not None)


def cradle_of(find: Find) -> tuple[str, CradlePlan] | None:
    """Return the cradle text of a find and the cradle, None where it has none. Where two stand, the newest."""
    texts = cradle_texts(find)
    return (texts[-1], parsed_cradle(texts[-1], find.number or "cradle")) if texts else None


parsed_cradle = lru_cache(maxsize=16)(parse_cradle)


def keep_cradle(logbook: Logbook, find_id: str, toml: str, *, author: str, reason: str = "") -> Entry:
    """Enter a cradle text for a find, over the one that stands.

    Raises `CradleFileError` with every problem, its line and key, `FieldErrors` where a change has no reason, and
    `CradleUnknownError` where it changes nothing.
    """
    find = logbook.find(find_id)
    parse_cradle(toml, name=find.number or "cradle")
    entry = say(
        logbook, "cradle.described", find.id, find.heads, {"cradle": toml}, author=author, reason=reason
    )
    if entry is None:
        raise CradleUnknownError("This is the cradle the logbook holds already; nothing was entered.")
    return entry


def show_cradle(logbook: Logbook, number_or_id: str) -> CradleShown:
    """Return the cradle of a find with what it bears. `CradleUnknownError` where the find has none."""
    find = logbook.find(number_or_id)
    held = cradle_of(find)
    if held is None:
        raise CradleUnknownError(
            f"{find.number or find.title} has no cradle yet: describe one on its Cradle page, or give it a cradle file."
        )
    toml, plan = held
    return shown_with(logbook, find, toml, plan, is_one_of=len(cradle_texts(find)))


def shown_with(logbook: Logbook, find: Find, toml: str, plan: CradlePlan, *, is_one_of: int = 1) -> CradleShown:
    """Return a cradle, perhaps one that is not kept, with what it bears under a find."""
    try:
        weighing = weigh_find(logbook, find.id).weighing
        depth_m = _depth_m(find)
    except NoBodyError as error:
        return CradleShown(find, toml, plan, None, str(error), is_one_of)
    except OakumError as error:
        return CradleShown(find, toml, plan, None, f"it cannot be weighed: {error}", is_one_of)
    return CradleShown(find, toml, plan, report_under(weighing, plan, depth_m), "", is_one_of)


_kept: Kept[tuple[Weighing, CradlePlan, CradleReport]] = Kept(8)


def report_under(weighing: Weighing, plan: CradlePlan, depth_m: float | None) -> CradleReport:
    """Return what a cradle bears under a weighed find, taken from the newest answers where it was asked before."""
    key = (id(weighing.sums), id(plan), depth_m)
    held = _kept.get(key)
    if held is not None and held[0].sums is weighing.sums and held[1] is plan:
        return held[2]
    report = cradle_report(plan, loads_from(weighing, depth_m))
    _kept.put(key, (weighing, plan, report))
    return report


def _depth_m(find: Find) -> float | None:
    """Return the depth that the rig of a find raises it from; None where it has no rig or does not say."""
    rigs = [str(head.value) for head in find.heads.get("rig", ()) if head.value is not None]
    return bed_depth_m(parse_rig(rigs[-1], name=find.number or "rig")) if rigs else None
