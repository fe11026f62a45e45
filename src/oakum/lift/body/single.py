"""Reading what has one value and no spread: numbers as cut and tied, tags, points, yes and no, rows of tables."""

from __future__ import annotations

from typing import TypeVar

from oakum.ground.gravity import G_M_S2
from oakum.ground.quantities import QuantityError, read
from oakum.lift.body.cursor import Cursor

T = TypeVar("T", bound=str)

_EXAMPLES = {
    "length": '"1.2 m"',
    "mass": '"250 kg"',
    "density": '"1000 kg/m3"',
    "time": '"10 min"',
    "angle": '"5 deg"',
    "volume": '"0.5 m3"',
    "area": '"1.2 m2"',
    "speed": '"0.2 m/s"',
    "temperature": '"11 degC"',
    "pressure": '"232 bar"',
    "force": '"2 MN"',
    "fraction": '"10 %"',
}


def one(
    cursor: Cursor, key: str, dimension: str, *, needed: str = "", sign: bool = False, unit: str | None = None
) -> float | None:
    """Return one number in SI; None where it is missing, "not known" or wrong.

    What was cut, tied or read off a plate is one number, so a range is refused. `needed` says what the key is for.
    """
    value = cursor.raw(key)
    example = _EXAMPLES[dimension]
    if value is None or (isinstance(value, str) and value.strip().lower() == "not known"):
        if needed:
            cursor.problem(key, f"is missing: write {needed}, such as {key} = {example}")
        return None
    if not isinstance(value, str):
        cursor.problem(key, f"must be a text with its unit, such as {key} = {example}")
        return None
    try:
        found = read(value, dimension, unit=unit, signed=sign)
    except QuantityError as error:
        cursor.problem(key, str(error))
        return None
    if found.sd is not None or found.low is not None:
        cursor.problem(key, f'"{value}" is a range: write the one number that is there, such as {example}')
        return None
    if found.value <= 0.0 and not sign:
        cursor.problem(key, f'"{value}" must be greater than zero')
        return None
    return found.value


def degrees(cursor: Cursor, key: str) -> float | None:
    """Return an angle in degrees."""
    found = one(cursor, key, "angle", sign=True)
    return None if found is None else round(found * 57.29577951308232, 9)


def tag_kg(cursor: Cursor, key: str) -> float | None:
    """Return a WLL as typed from a tag, in kg; a force is turned into the mass it holds up. No bare "ton"."""
    value = cursor.raw(key)
    if value is None or (isinstance(value, str) and value.strip().lower() == "not known"):
        return None
    if not isinstance(value, str):
        cursor.problem(key, f'must be a text with its unit, as on the tag: {key} = "2 t" or "20 kN"')
        return None
    factor = 1.0
    try:
        found = read(value, "mass")
    except QuantityError as error:
        try:
            found = read(value, "force")
        except QuantityError:
            cursor.problem(key, str(error))
            return None
        factor = 1.0 / G_M_S2
    if found.sd is not None or found.low is not None:
        cursor.problem(key, f'"{value}" is a range: a tag says one number; write that')
        return None
    if found.value <= 0.0:
        cursor.problem(key, f'"{value}" must be greater than zero; leave it out if there is no tag')
        return None
    return found.value * factor


def yes(cursor: Cursor, key: str) -> bool | None:
    """Return yes or no; None where it is missing or "not known"."""
    value = cursor.raw(key)
    if isinstance(value, bool):
        return value
    if value is None or (isinstance(value, str) and value.strip().lower() == "not known"):
        return None
    if isinstance(value, str) and value.strip().lower() in ("yes", "no"):
        return value.strip().lower() == "yes"
    cursor.problem(key, f'must be "yes", "no" or "not known", such as {key} = "yes"')
    return None


def pick(cursor: Cursor, key: str, choices: tuple[T, ...], *, needed: bool = False) -> T | None:
    """Return one of the choices, None where it is missing, "not known" or wrong."""
    value = cursor.raw(key)
    if isinstance(value, str) and value.strip().lower() == "not known":
        return None
    found = cursor.choice(key, tuple(c.lower() for c in choices), needed=needed)
    return next((c for c in choices if c.lower() == found), None)


def point(
    cursor: Cursor, key: str, axes: tuple[str, ...] = ("x", "y", "z"), *, needed: bool = False
) -> tuple[float, ...] | None:
    """Return a point in metres, such as `{ x = "0.5 m", y = "-0.5 m", z = "0 m" }`."""
    inner = cursor.table_of(key, f"{key} of {cursor.what}" if cursor.what else key)
    example = "{ " + ", ".join(f'{a} = "0.5 m"' for a in axes) + " }"
    if inner is None:
        if needed and key not in cursor.table:
            cursor.problem(key, f"is missing: write {key} = {example}")
        return None
    found: list[float] = []
    for axis in axes:
        value = one(inner, axis, "length", sign=True)
        if value is None and axis not in inner.table:
            inner.problem(axis, f"is missing: write all of {example}")
        found.append(value if value is not None else 0.0)
    inner.finish()
    return tuple(found)


def point2(
    cursor: Cursor, key: str, axes: tuple[str, str] = ("x", "y"), *, needed: bool = False
) -> tuple[float, float] | None:
    """Return a point in a plane."""
    found = point(cursor, key, axes, needed=needed)
    return None if found is None else (found[0], found[1])


def rows(cursor: Cursor, key: str, what: str, heading: str) -> list[Cursor]:
    """Return a cursor on every row of an array of tables; `heading` is how one begins in the file."""
    value = cursor.raw(key)
    if value is None:
        return []
    if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
        cursor.problem(key, f"is a list of tables: begin each with {heading}")
        return []
    found = []
    for i, row in enumerate(value):
        name = row.get("name") or row.get("key") or row.get("role")
        called = f'{what} "{name}"' if isinstance(name, str) and name else f"{what} {i + 1}"
        found.append(Cursor(row, (*cursor.path, key, i), cursor.notes, called))
    return found


def texts(cursor: Cursor, key: str) -> tuple[str, ...]:
    """Return a list of texts; a single text counts as a list of one."""
    value = cursor.raw(key)
    if value is None:
        return ()
    if isinstance(value, str) and value.strip():
        return (value.strip(),)
    if isinstance(value, list) and all(isinstance(v, str) and v.strip() for v in value):
        return tuple(v.strip() for v in value)
    cursor.problem(key, f'must be a list of texts, such as {key} = ["slinger"]')
    return ()


def named_twice(found: list[tuple[Cursor, str]], what: str) -> None:
    """Note every name that is given twice."""
    seen: dict[str, int] = {}
    for cursor, name in found:
        if name in seen:
            cursor.problem(
                "name", f'"{name}" is also the {what} in line {seen[name]}; give each its own name'
            )
        elif name:
            seen[name] = cursor.line("name")
