"""Reading one `[[part]]` of a body file."""

from __future__ import annotations

import math
from collections.abc import Mapping

from oakum.ground.estimate import Estimate, exact
from oakum.ground.solids import SolidError
from oakum.ground.solids.mesh_file import read_mesh
from oakum.lift.body.cursor import Cursor
from oakum.lift.body.fills import Own, read_coat, read_sediment_fill, read_stuff, read_water_fill
from oakum.lift.body.model import ROLES, Part, Place, Repeat, SedimentFill, Shape, Stuff, Vector, WaterFill
from oakum.lift.body.shapes import KINDS, SHAPES, alternatives

Files = Mapping[str, bytes]
Fill = WaterFill | SedimentFill | None
_FILLS = ("water", "sediment", "open", "not known")


def read_part(table: Cursor, own: Own, files: Files, *, alone: bool, overlap: float) -> Part | None:
    """Read one part; None where something needed is wrong (the problems say what)."""
    before = len(table.notes.problems)
    name = table.text("name", needed='a name for the part, such as name = "barrel"')
    table.what = name or f"part in line {table.line()}"
    shape = _shape(table, files)
    is_hole = table.truth("hole")
    hole_in = _hole_in(table, is_hole)
    role = _role(table, is_hole)
    fill, stuff = _inside(table, role, is_hole, own)
    if is_hole and fill is not None:
        role = "trapped water" if isinstance(fill, WaterFill) else "sediment"
    coat = read_coat(table.table_of("coat", f"coat of {name}"), name, own)
    if coat is not None and (is_hole or fill is not None):
        table.problem("coat", "a hollow or its filling has no coat of its own: put it on the part round it")
    place = _place(table, alone=alone)
    repeat = _repeat(table)
    less = _names(table, "less")
    allowed = table.share("overlap")
    table.finish()
    if len(table.notes.problems) > before or shape is None or place is None:
        return None
    return Part(
        name, role, shape, place, stuff, repeat, coat, hole_in, fill, less,
        allowed.best if allowed is not None else overlap, table.line(),
    )  # fmt: skip


def _role(table: Cursor, is_hole: bool) -> str:
    if is_hole:
        if table.has("role"):
            table.problem("role", "a hole has no role; what is in it is said by filled")
        return "object"
    return table.choice("role", ROLES, default="object")


def _hole_in(table: Cursor, is_hole: bool) -> str | None:
    name = table.text("in")
    if is_hole and not name:
        table.problem("in", 'is missing: name the part it is cut out of, such as in = "barrel"')
    if name and not is_hole:
        table.problem("in", "only a hole is cut out of a part: write hole = true, or leave this out")
    return name if is_hole and name else None


def _inside(table: Cursor, role: str, is_hole: bool, own: Own) -> tuple[Fill, Stuff | None]:
    """Return what fills a hollow, or what a solid part is made of."""
    what = role if not is_hole else table.choice("filled", _FILLS, default="not known")
    if what in ("water", "trapped water"):
        return read_water_fill(table), None
    if what == "sediment":
        return read_sediment_fill(table, own), None
    if is_hole:
        return (WaterFill(None) if what == "not known" else None), None
    return None, read_stuff(table, own)


def _shape(table: Cursor, files: Files) -> Shape | None:
    kind = table.choice("shape", KINDS, needed=True)
    if not kind:
        for spec in SHAPES.values():  # not to blame measures for a misspelt shape
            for key in spec.keys:
                for way in alternatives(key):
                    table.has(way)
        return None
    if kind == "mesh":
        return _mesh(table, files)
    if kind == "lump":
        return _lump(table)
    measures = [_measure(table, key) for key in SHAPES[kind].keys]
    dimensions = tuple(m for m in measures if m is not None)
    stave = (
        table.choice("stave", ("parabolic", "arc", "elliptic"), default="parabolic")
        if kind == "barrel"
        else ""
    )
    bores = _bores(table) if kind == "holed disc" else ()
    if len(dimensions) < len(measures):
        return None
    return Shape(kind, dimensions, stave or "parabolic", bores)


def _measure(table: Cursor, key: str) -> tuple[str, Estimate] | None:
    """Read one measure by whichever of its ways is there (diameter, radius or girth)."""
    ways = [way for way in alternatives(key) if table.has(way)]
    if len(ways) > 1:
        table.problem(ways[1], f"{' and '.join(ways)} measure the same thing: keep one")
    found = table.estimate(ways[0] if ways else key, "length", needed=True)
    return (ways[0], found) if ways and found is not None else None


def _lump(table: Cursor) -> Shape | None:
    if table.has("mass") == table.has("volume"):
        table.problem("mass", 'a lump is given by its mass or by its volume, such as mass = "25..30 kg"')
        return None
    key = "mass" if table.has("mass") else "volume"
    found = table.estimate(key, key, needed=True)
    return Shape("lump", ((key, found),)) if found is not None else None


def _mesh(table: Cursor, files: Files) -> Shape | None:
    file = table.text("file", needed='the file of the mesh, such as file = "gun.stl"')
    unit = table.text("unit", needed='the unit the mesh was drawn in, such as unit = "mm"')
    scale = table.scale("scale")
    turned = table.truth("turned")
    if file and file not in files:
        table.problem("file", f'"{file}" was not given with the body: put it beside the body file')
        return None
    if not file or not unit:
        return None
    try:
        mesh = read_mesh(files[file], file.rsplit(".", 1)[-1].lower(), unit, turned=turned)
    except SolidError as error:
        table.problem("file", str(error))
        return None
    if scale is None:
        table.notes.questions.append(
            f"{table.what}: the mesh has no stated scale error; the width is too narrow"
        )
        return Shape("mesh", mesh=mesh)
    return Shape("mesh", (("scale", scale),), mesh=mesh)


def _bores(table: Cursor) -> tuple[Vector, ...]:
    """Read the through holes of a disc: `holes = [{ x = "0.2 m", y = "0 m", diameter = "50 mm" }]`."""
    rows = table.raw("holes")
    if rows is None:
        return ()
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        table.problem(
            "holes", 'must be a list, such as holes = [{ x = "0.2 m", y = "0 m", diameter = "50 mm" }]'
        )
        return ()
    found: list[Vector] = []
    for i, row in enumerate(rows):
        hole = Cursor(row, (*table.path, "holes", i), table.notes, f"hole {i + 1} of {table.what}")
        x, y = (hole.estimate(axis, "length", sign=True, needed=True) for axis in ("x", "y"))
        diameter = hole.estimate("diameter", "length", needed=True)
        hole.finish()
        if x is not None and y is not None and diameter is not None:
            found.append((x.best, y.best, diameter.best / 2.0))
    return tuple(found)


def _place(table: Cursor, *, alone: bool) -> Place | None:
    place = table.table_of("place", f"place of {table.what}")
    turn = table.table_of("turn", f"turn of {table.what}")
    if place is None and not alone and "place" not in table.table:
        table.problem(
            "place", 'is missing: say where its base is, such as place = { x = "0 m", z = "0.4 m" }'
        )
        return None
    axes: list[Estimate] = []
    for axis in ("x", "y", "z"):
        found = place.estimate(axis, "length", sign=True) if place is not None else None
        axes.append(found or exact(0.0))
    if place is not None:
        place.finish()
    return Place(axes[0], axes[1], axes[2], turn_deg=_vector(turn, "angle", 180.0 / math.pi))


def _vector(table: Cursor | None, dimension: str, factor: float = 1.0) -> Vector:
    if table is None:
        return (0.0, 0.0, 0.0)
    x, y, z = (table.estimate(axis, dimension, sign=True) for axis in ("x", "y", "z"))
    table.finish()
    return tuple(e.best * factor if e is not None else 0.0 for e in (x, y, z))  # type: ignore[return-value]


def _repeat(table: Cursor) -> Repeat | None:
    count = table.number("count")
    around = table.choice("around", ("x", "y", "z")) or None
    step = table.table_of("step", f"step of {table.what}")
    centre = table.table_of("centre", f"centre of {table.what}")
    if centre is not None and around is None:
        table.problem("centre", "belongs to around: the point that the axis goes through")
    if around is not None and step is not None:
        table.problem("step", "give around or step, not both")
    if count > 1 and around is None and step is None:
        table.problem("count", 'say how they are set: around = "z", or step = { x = "0.3 m" }')
    if count == 1:
        if around is not None or step is not None:
            table.problem("count", "is missing: say how many there are, such as count = 8")
        return None
    step_m = _vector(step, "length") if step is not None else None
    return Repeat(count, around, _vector(centre, "length"), step_m)


def _names(table: Cursor, key: str) -> tuple[str, ...]:
    value = table.raw(key)
    if value is None:
        return ()
    if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
        table.problem(key, f'must be a list of part names, such as {key} = ["barrel"]')
        return ()
    return tuple(value)
