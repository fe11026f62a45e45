"""Sections and members of a cradle file, repeats written out."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from oakum.ground.estimate import Estimate
from oakum.ground.quantities import QuantityError, read
from oakum.lift.body.cursor import Cursor
from oakum.lift.body.single import one, pick, point, rows
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.frame import Member, MemberKind, Point, TubeEnds
from oakum.lift.cradle.sections import Section, rectangle, round_bar, round_tube, tube
from oakum.lift.cradle.steel import steel_grade
from oakum.lift.cradle.strength import Material
from oakum.lift.cradle.timber import timber_grade

_KINDS: tuple[MemberKind, ...] = get_args(MemberKind)
_ENDS: tuple[TubeEnds, ...] = get_args(TubeEnds)
MOST_MEMBERS = 300

_SHAPES = {
    "timber": ("100 x 150 mm", 2, "width x depth, the depth upright"),
    "pole": ("120 mm", 1, "its diameter"),
    "tube": ("60 x 60 x 4 mm", 3, "width x depth x wall"),
    "round_tube": ("48.3 x 3.2 mm", 2, "diameter x wall"),
    "flat": ("60 x 12 mm", 2, "width x depth"),
    "bar": ("20 mm", 1, "its diameter"),
}
"""Key of each shape of a section: example, how many sizes, and what they are. The first two are timber."""


@dataclass(frozen=True, slots=True)
class Stick:
    """What a member is made of: section, material, density in the water and ends, None: not known."""

    section: Section
    material: Material
    density_kg_m3: Estimate | None
    ends: TubeEnds | None


def sizes_m(cursor: Cursor, key: str, count: int, example: str) -> tuple[float, ...] | None:
    """Return sizes such as "100 x 150 mm" in metres; a size without a unit has that of the last one."""
    value = cursor.raw(key)
    if not isinstance(value, str):
        cursor.problem(key, f'must be a text with its unit, such as {key} = "{example}"')
        return None
    parts = [p.strip() for p in re.split(r"\s*[x×]\s*", value.strip())]
    unit = (re.search(r"[A-Za-z]+\s*$", parts[-1]) or [""])[0].strip()
    if len(parts) != count:
        cursor.problem(key, f'"{value}": expected {count} size{"s" * (count > 1)}, such as {key} = "{example}"')
        return None
    found = []
    for part in parts:
        try:
            size = read(part, "length", unit=unit or None)
        except QuantityError as error:
            cursor.problem(key, f'"{value}": {error}')
            return None
        if size.sd is not None or size.low is not None or size.value <= 0.0:
            cursor.problem(key, f'"{value}": each size is one number above zero, such as "{example}"')
            return None
        found.append(size.value)
    return tuple(found)


def read_sticks(top: Cursor) -> dict[str, Stick | None]:
    """Return the named sections of the file; None for one that is named but wrong, which has been said."""
    whole = top.table_of("section", "section")
    if whole is None:
        return {}
    found: dict[str, Stick | None] = {}
    for name in whole.table:
        inner = whole.table_of(name, f'section "{name}"')
        if inner is not None:
            found[name] = read_stick(inner)
            inner.finish()
    return found


def read_stick(cursor: Cursor) -> Stick | None:
    """Return what a section table, or a member without a named section, is made of."""
    given = [key for key in _SHAPES if cursor.has(key)]
    if len(given) != 1:
        listed = ", ".join(f'{key} = "{example}"' for key, (example, _, _) in _SHAPES.items())
        said = "has more than one shape: keep one" if given else "has no shape: write one"
        cursor.problem(given[1] if given else "", f"{said} of {listed}")
    section = _section(cursor, given[0]) if len(given) == 1 else None
    material = _material(cursor, given[0]) if len(given) == 1 else None
    density = cursor.estimate("density", "density")
    ends = pick(cursor, "ends", _ENDS)
    if section is None or material is None:
        return None
    if ends is not None and not section.is_hollow:
        cursor.problem("ends", "only a tube has an inside: leave it out here")
    return Stick(section, material, density, ends)


def _section(cursor: Cursor, shape: str) -> Section | None:
    example, count, _ = _SHAPES[shape]
    sizes = sizes_m(cursor, shape, count, example)
    corner = one(cursor, "corner", "length") if shape == "tube" else None
    if sizes is None:
        return None
    try:
        if shape in ("timber", "flat"):
            return rectangle(*sizes)
        if shape in ("pole", "bar"):
            return round_bar(*sizes)
        if shape == "round_tube":
            return round_tube(*sizes)
        return tube(sizes[0], sizes[1], sizes[2], corner)
    except CradleError as error:
        cursor.problem(shape, str(error))
        return None


def _material(cursor: Cursor, shape: str) -> Material | None:
    wooden = shape in ("timber", "pole")
    example = "C24" if wooden else "S235"
    what = "the strength class of the timber" if wooden else "the grade of the steel"
    name = cursor.text("grade", needed=f'{what}, such as grade = "{example}"; what is not graded has no strength')
    if not name:
        return None
    try:
        return timber_grade(name) if wooden else steel_grade(name)
    except CradleError as error:
        cursor.problem("grade", str(error))
        return None


def read_members(top: Cursor, sticks: Mapping[str, Stick | None]) -> tuple[Member, ...]:
    """Return every member with repeats written out; what is wrong with one has been noted."""
    found: list[Member] = []
    seen: dict[str, int] = {}
    for cursor in rows(top, "member", "member", "[[member]]"):
        for member in _members(cursor, sticks):
            if member.name in seen:
                line = seen[member.name]
                cursor.problem("name", f'"{member.name}" is also the member in line {line}; give each its own name')
            seen[member.name] = cursor.line("name")
            found.append(member)
    if len(found) > MOST_MEMBERS:
        top.problem("member", f"{len(found)} members are more than the {MOST_MEMBERS} that are solved here")
        return ()
    return tuple(found)


def _members(cursor: Cursor, sticks: Mapping[str, Stick | None]) -> list[Member]:
    name = cursor.text("name", needed='what it is called on the drawing, such as name = "bearer"')
    kind = pick(cursor, "kind", _KINDS, needed=True)
    start = point(cursor, "from", needed=True)
    end = point(cursor, "to", needed=True)
    stick = _stick_of(cursor, sticks)
    steps = repeats(cursor)
    cursor.finish()
    if not name or kind is None or start is None or end is None or stick is None or steps is None:
        return []
    if _apart(start, end) < 1e-3:
        cursor.problem("to", "is the same point as from: a member has a length")
        return []
    if kind in ("runner", "bearer") and abs(start[2] - end[2]) > 1e-6:
        cursor.problem("to", f'a {kind} lies level: give both ends one z, or call it kind = "brace"')
        return []
    made = []
    for i, step in enumerate(steps, 1):
        called = name if len(steps) == 1 else f"{name} {i}"
        ends = (_moved(start, step), _moved(end, step))
        made.append(Member(called, kind, stick.section, stick.material, *ends, stick.density_kg_m3, stick.ends))
    return made


def _stick_of(cursor: Cursor, sticks: Mapping[str, Stick | None]) -> Stick | None:
    if not cursor.has("section"):
        return read_stick(cursor)
    name = cursor.text("section")
    if name and name not in sticks:
        known = ", ".join(f'"{n}"' for n in sticks) or "none yet"
        cursor.problem("section", f'there is no [section."{name}"]; there are: {known}')
    return sticks.get(name)


def repeats(cursor: Cursor) -> list[Point] | None:
    """Return how far each copy is moved: one of no distance where nothing is repeated; None where it is wrong.

    `repeat = { count = 5, x = "0.4 m" }`, or a list of two or three of them for rows of rows.
    """
    value = cursor.raw("repeat")
    if value is None:
        return [(0.0, 0.0, 0.0)]
    tables = value if isinstance(value, list) else [value]
    if not tables or not all(isinstance(t, dict) for t in tables):
        cursor.problem("repeat", 'must be a table: repeat = { count = 5, x = "0.4 m" }, or a list of them')
        return None
    found: list[Point] = [(0.0, 0.0, 0.0)]
    before = len(cursor.notes.problems)
    for table in tables:
        inner = Cursor(table, (*cursor.path, "repeat"), cursor.notes, f"repeat of {cursor.what}")
        count = inner.number("count", low=2, default=0)
        if "count" not in table:
            inner.problem("count", "is missing: how many there are in all, such as count = 5")
        step = [one(inner, axis, "length", sign=True) or 0.0 for axis in ("x", "y", "z")]
        if not any(step):
            inner.problem("", 'says no distance from one to the next: write x, y or z, such as x = "0.4 m"')
        inner.finish()
        if count > MOST_MEMBERS:
            inner.problem("count", f"at most {MOST_MEMBERS}")
            return None
        found = [
            _moved(base, (k * step[0], k * step[1], k * step[2])) for base in found for k in range(count)
        ]
        if len(found) > MOST_MEMBERS:
            break
    return found if len(cursor.notes.problems) == before else None


def _moved(point_m: tuple[float, ...], step: tuple[float, ...]) -> Point:
    x, y, z = (round(a + b, 9) for a, b in zip(point_m, step, strict=True))
    return x, y, z


def _apart(a: tuple[float, ...], b: tuple[float, ...]) -> float:
    return max(abs(p - q) for p, q in zip(a, b, strict=True))
