"""A body from a TOML text. The format is described, with examples that the tests run, in docs/body-file.md.

Reading goes on after an error, so that one run lists everything that is to be put right.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping

import numpy as np

from oakum.ground.estimate import Draws
from oakum.ground.materials import MaterialError
from oakum.ground.solids import SolidError
from oakum.lift.body.bed import read_bed
from oakum.lift.body.cursor import Cursor, Notes
from oakum.lift.body.errors import BodyFileError, Problem
from oakum.lift.body.fills import read_stuff
from oakum.lift.body.lines import key_lines
from oakum.lift.body.model import Body, Part, Stuff
from oakum.lift.body.overlap import overlaps
from oakum.lift.body.parts import read_part
from oakum.lift.body.stuff import density_kg_m3, setting, stuffs
from oakum.lift.body.toml_text import toml_table
from oakum.lift.body.water import read_water
from oakum.lift.weights.drawn import draw, part_solid

_TRIAL = 2_000  # draws that must all give possible solids


def parse_body(toml_text: str, name: str = "body", files: Mapping[str, bytes] | None = None) -> Body:
    """Return the body that a TOML text describes.

    `name` is what messages call the text (a file name). `files` holds the bytes of each mesh the text names
    (see `mesh_names`). Raises `BodyFileError` with every problem, its line and key.
    """
    table = toml_table(toml_text, name)
    notes = Notes(key_lines(toml_text))
    top = Cursor(table, (), notes)
    title = top.text("title", needed='what the object is called, such as title = "Capstan"')
    water = read_water(top)
    overlap = top.share("overlap_tolerance", default=0.02)
    own = _own_stuffs(top)
    parts = _parts(top, own, files or {}, overlap.best if overlap is not None else 0.02)
    body = Body(
        title=title,
        water=water,
        parts=tuple(p for p in parts if p is not None),
        tape_scale=top.scale("tape_scale"),
        cell_wall_kg_m3=top.estimate("cell_wall", "density", label="density of the cell wall"),
        hook_above_top_m=top.estimate("hook_above_top", "length"),
        hoist_speed_m_s=top.estimate("hoist_speed", "speed"),
        bed=read_bed(top.table_of("bed")),
        notes=top.text("notes"),
        source=top.text("source"),
        mark=top.text("mark"),
        questions=(*notes.questions, *_bare(notes.bare_lengths)),
        assumptions=tuple(notes.assumptions),
    )
    top.finish()
    _check_names(body, notes)
    if not notes.problems:
        _check_solids(body, notes)
    if notes.problems:
        raise BodyFileError(name, notes.problems)
    return body


def mesh_names(toml_text: str) -> tuple[str, ...]:
    """Return the files of meshes that a body text names, for the caller to read; empty if it is no TOML."""
    try:
        table = tomllib.loads(toml_text)
    except tomllib.TOMLDecodeError:
        return ()
    parts = table.get("part")
    rows = [p for p in parts if isinstance(p, dict)] if isinstance(parts, list) else []
    return tuple(p["file"] for p in rows if isinstance(p.get("file"), str))


def _own_stuffs(top: Cursor) -> dict[str, Stuff]:
    """Read the file's own materials: `[material.NAME]` with density, basic_density or umax."""
    tables = top.table_of("material")
    if tables is None:
        return {}
    found: dict[str, Stuff] = {}
    for key in list(tables.table):
        inner = tables.table_of(key, key)
        if inner is None:
            continue
        if not any(inner.has(way) for way in ("density", "basic_density", "umax")):
            inner.problem("", 'has no density: write density = "2000..2600 kg/m3"')
        else:
            stuff = read_stuff(inner, {})
            if stuff is not None:
                found[key] = stuff
        inner.finish()
    return found


def _parts(
    top: Cursor, own: dict[str, Stuff], files: Mapping[str, bytes], overlap: float
) -> list[Part | None]:
    rows = top.raw("part")
    if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):
        top.problem("part", "there are no parts: write at least one [[part]] with name, shape and material")
        return []
    alone = sum(1 for row in rows if not row.get("hole")) == 1
    cursors = [Cursor(row, ("part", i), top.notes) for i, row in enumerate(rows)]
    return [read_part(cursor, own, files, alone=alone, overlap=overlap) for cursor in cursors]


def _check_names(body: Body, notes: Notes) -> None:
    seen: dict[str, Part] = {}
    for part in body.parts:
        if part.name in seen:
            first = seen[part.name].line
            notes.problems.append(
                Problem(part.line, part.name, f"this name is taken by the part in line {first}")
            )
        seen[part.name] = part
    if notes.problems:
        return  # a part left out for another reason must not be missed twice
    for part in body.parts:
        for name in (*([part.hole_in] if part.hole_in else []), *part.less):
            other = seen.get(name)
            if other is None:
                known = ", ".join(f'"{n}"' for n in seen if n != part.name)
                notes.problems.append(
                    Problem(part.line, part.name, f'there is no part "{name}"; there are {known}')
                )
            elif other.hole_in or other.fill is not None:
                notes.problems.append(
                    Problem(part.line, part.name, f'"{name}" is itself a hollow: name the solid part')
                )


def _check_solids(body: Body, notes: Notes) -> None:
    """Try some draws, so that a spread wide enough for an impossible solid is found before the weighing."""
    draws = Draws(_TRIAL, np.random.default_rng(0))
    shared = setting(body, draws)
    for part in body.parts:
        try:
            part_solid(part, shared)
            for stuff in stuffs(part):
                density_kg_m3(stuff, shared)
        except (SolidError, MaterialError) as error:
            notes.problems.append(Problem(part.line, part.name, str(error)))
    if notes.problems:
        return
    try:
        terms = draw(body, draws).terms
    except (SolidError, MaterialError) as error:
        notes.problems.append(Problem(1, "", str(error)))
        return
    for term in terms:
        if float(np.min(term.volume_m3)) <= -1e-12 or (
            term.part.coat is None and float(np.max(term.volume_m3)) <= 0
        ):
            notes.problems.append(
                Problem(term.part.line, term.name, "its holes are larger than the part itself in some draws")
            )
    for pair in overlaps(body):
        notes.problems.append(Problem(pair.line, pair.second, pair.words()))


def _bare(names: list[str]) -> list[str]:
    """Say how many lengths came without a spread."""
    if not names:
        return []
    many = "1 dimension has" if len(names) == 1 else f"{len(names)} dimensions have"
    first = ", ".join(names[:4]) + (" and others" if len(names) > 4 else "")
    return [f"{many} no spread; the width is too narrow ({first})"]
