"""A rig from a TOML text. The format is described, with examples that the tests run, in docs/rig-file.md.

Reading goes on after an error, so that one run lists everything that is to be put right.
"""

from __future__ import annotations

from oakum.lift.body.cursor import Cursor, Notes
from oakum.lift.body.errors import BodyFileError
from oakum.lift.body.lines import key_lines
from oakum.lift.body.toml_text import toml_table
from oakum.lift.raising.cell import CELL_UNITS
from oakum.lift.raising.rig_bags import read_bags
from oakum.lift.raising.rig_cursor import one, pick
from oakum.lift.raising.rig_legs import read_hook, read_legs, read_spreader
from oakum.lift.raising.rig_plan import RigPlan
from oakum.lift.raising.rig_seaway import read_seaway
from oakum.lift.raising.rig_turning import read_rollings, read_turnings
from oakum.lift.raising.rig_work import read_work
from oakum.lift.slings import SHARING, Hitches, Matched

_HITCH_BOOKS: tuple[Hitches, ...] = ("EU", "US")


class RigFileError(BodyFileError):
    """A rig file that cannot be taken; `problems` lists all that is wrong, in the order of the file."""


def parse_rig(toml_text: str, name: str = "rig") -> RigPlan:
    """Return the rig that a TOML text describes.

    `name` is what messages call the text (a file name). Raises `RigFileError` with every problem, its line
    and key. What is left out is not known; the plan says what that costs.
    """
    table = toml_table(toml_text, name, RigFileError)
    notes = Notes(key_lines(toml_text))
    top = Cursor(table, (), notes)
    title = top.text("title", needed='what the rig is called, such as title = "Capstan, four legs"')
    cell_unit = _cell_unit(top)
    rules = top.table_of("rules", "rules")
    sharing = hitches = matched = None
    if rules is not None:
        sharing = pick(rules, "sharing", tuple(SHARING))
        hitches = pick(rules, "hitches", _HITCH_BOOKS)
        matched = _matched(rules)
        rules.finish()
    hook = top.table_of("hook", "hook")
    legs = read_legs(top)
    rig = RigPlan(
        title=title,
        cell_unit=cell_unit,
        hook=None if hook is None else read_hook(hook),
        legs=legs,
        one_sling=top.truth("one_sling"),
        spreader=read_spreader(top),
        sharing=sharing,
        hitches=hitches,
        matched=matched,
        bags=read_bags(top),
        turning=read_turnings(top),
        rolling=read_rollings(top),
        work=read_work(top),
        sea=read_seaway(top),
        notes=top.text("notes"),
        source=top.text("source"),
        mark=top.text("mark"),
    )
    _check_whole(top, rig)
    top.finish()
    if notes.problems:
        raise RigFileError(name, notes.problems)
    return rig


def _cell_unit(top: Cursor) -> str:
    said = top.text("cell_unit")
    if not said or said.lower() == "not known":
        return ""
    if said in CELL_UNITS:
        return said
    listed = ", ".join(f'"{unit}"' for unit in CELL_UNITS)
    which = ' "ton" has more than one meaning.' if said.lower() in ("ton", "tons", "tonf") else ""
    top.problem("cell_unit", f'"{said}" is no unit a load cell is read in here.{which} Write one of {listed}')
    return ""


def _matched(rules: Cursor) -> Matched | None:
    inner = rules.table_of("matched", "matched")
    if inner is None:
        return None
    tolerance = one(
        inner, "tolerance_diameters", "fraction", needed="a number of diameters", sign=True, unit="1"
    )
    pair = one(
        inner, "pair_difference_diameters", "fraction", needed="a number of diameters", sign=True, unit="1"
    )
    longer = pick(inner, "longer_on_one_diagonal", ("yes", "no"), needed=True)
    inner.finish()
    if tolerance is None or pair is None or longer is None:
        return None
    return Matched(tolerance, pair, longer == "yes")


def _check_whole(top: Cursor, rig: RigPlan) -> None:
    """Note what does not go together."""
    if rig.legs and rig.spreader is not None:
        top.problem(
            "spreader", "a rig has legs to the hook or a spreader, not both: describe the one that lifts"
        )
    if (rig.legs or rig.spreader is not None) and rig.hook is None and "hook" not in top.table:
        top.problem(
            "hook", 'is missing: write [hook] with place = "over the hanging point" and height = "2 m"'
        )
    if not rig.legs and rig.spreader is None and rig.bags is None:
        for key in ("leg", "spreader", "bags"):
            if key in top.table:
                return  # there is one, and what is wrong with it has been said
        top.problem("", "nothing lifts: write at least two [[leg]] with a [hook], a [spreader], or [bags]")
