"""Rests, stands and states of a cradle file."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from difflib import get_close_matches
from typing import get_args

import numpy as np

from oakum.lift.body.cursor import Cursor
from oakum.lift.body.single import degrees, one, pick, point2, rows, tag_kg, texts
from oakum.lift.cradle.beds import foam_spring_n_m, sand_spring_n_m
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.file_members import repeats
from oakum.lift.cradle.frame import Frame
from oakum.lift.cradle.grid import under
from oakum.lift.cradle.level import hull
from oakum.lift.cradle.plan import CradleState, Pad
from oakum.lift.cradle.states import Rest, Stand, StateKey
from oakum.lift.cradle.timber import DURATIONS

_KEYS: tuple[StateKey, ...] = get_args(StateKey)


def named(cursor: Cursor, key: str, given: Iterable[str], known: Iterable[str], what: str) -> tuple[str, ...]:
    """Return names that exist; "bearer *" stands for every repeat of "bearer". What does not exist is noted."""
    names = tuple(known)
    found: list[str] = []
    for name in given:
        if name.endswith(" *"):
            matched = [n for n in names if n.startswith(name[:-1]) and n[len(name) - 1 :].isdigit()]
        else:
            matched = [name] if name in names else []
        if not matched:
            close = get_close_matches(name, names, n=1, cutoff=0.6)
            hint = f'; did you mean "{close[0]}"?' if close else f"; there are: {', '.join(names) or 'none'}"
            cursor.problem(key, f'there is no {what} "{name}"{hint}')
        found += [n for n in matched if n not in found]
    return tuple(found)


def read_rests(top: Cursor, frame: Frame | None, pads: Mapping[str, Pad]) -> tuple[Rest, ...]:
    """Return where the find rests; one row may name several members.

    Without a frame, because something is wrong with its members, the names of members are not looked at.
    """
    found: list[Rest] = []
    by_name = {} if frame is None else {m.name: m for m in frame.members}
    for cursor in rows(top, "rest", "rest", "[[rest]]"):
        name = cursor.text("name", needed='what the bed is called, such as name = "bed"')
        given = texts(cursor, "member")
        if not given and "member" not in cursor.table:
            cursor.problem("member", 'is missing: what it lies on, such as member = "bearer *"')
        on = [by_name[n] for n in named(cursor, "member", given if by_name else (), by_name, "member")]
        ends = [_place(cursor, key) for key in ("from", "to")]
        share = _share(cursor, "share")
        stiffness = _spring(cursor, pads)
        cursor.finish()
        if not name or ends[0] is None or ends[1] is None:
            continue
        for i, member in enumerate(on, 1):
            if not member.bends:
                cursor.problem("member", f'"{member.name}" is a {member.kind}: rest the find on a runner or bearer')
            elif not 0.0 <= ends[0] < ends[1] <= member.length_m + 1e-9:
                cursor.problem(
                    "to",
                    f'from and to are counted along "{member.name}" from its start: 0 m <= from < to <= '
                    f"{member.length_m:g} m; got {ends[0]:g} to {ends[1]:g} m",
                )
            else:
                called = name if len(on) == 1 else f"{name} {i}"
                found.append(Rest(called, member.name, ends[0], ends[1], share, stiffness))
        if any(r.name == name for r in found[: -len(on) or None]):
            cursor.problem("name", f'two rests are called "{name}"; give each its own name')
    _shares_add_up(top, found)
    return tuple(found)


def _place(cursor: Cursor, key: str) -> float | None:
    if key not in cursor.table:
        cursor.problem(key, f'is missing: where along the member it bears, such as {key} = "0.3 m"')
    return one(cursor, key, "length", sign=True)


def _share(cursor: Cursor, key: str) -> float | None:
    found = one(cursor, key, "fraction", sign=True)
    if found is not None and not 0.0 < found <= 1.0:
        cursor.problem(key, f'a share of the weight lies between 0 and 100 %, such as {key} = "20 %"')
        return None
    return found


def _shares_add_up(top: Cursor, rests: list[Rest]) -> None:
    typed = [r.share for r in rests if r.share is not None]
    if typed and len(typed) < len(rests):
        top.problem("rest", "some rests have a share and some have none: give one to every rest, or to none")
    elif typed and abs(sum(typed) - 1.0) > 1e-3:
        top.problem("rest", f"the shares of the rests add up to {100.0 * sum(typed):.1f} %, not to 100 %")


def _spring(cursor: Cursor, pads: Mapping[str, Pad]) -> float | None:
    """Return the spring of a bed: measured, of a sandbag by its modulus, or of a pad named in the file."""
    found = []
    measured = cursor.table_of("stiffness", f"stiffness of {cursor.what}")
    if measured is not None:
        force = one(measured, "force", "force", needed="the force it was pressed with")
        gives = one(measured, "gives", "length", needed="how far it gave")
        measured.finish()
        found.append(force / gives if force is not None and gives is not None else None)
    sand = cursor.table_of("sandbag", f"sandbag of {cursor.what}")
    if sand is not None:
        modulus = one(sand, "modulus", "pressure", needed="the modulus found by loading one")
        area = one(sand, "area", "area", needed="the area it bears on")
        thick = one(sand, "thickness", "length", needed="its thickness")
        sand.finish()
        known = modulus is not None and area is not None and thick is not None
        found.append(sand_spring_n_m(modulus, area, thick) if known else None)  # type: ignore[arg-type]
    foam = cursor.table_of("foam", f"foam of {cursor.what}")
    if foam is not None:
        found.append(_foam_spring(foam, pads))
    if len(found) > 1:
        cursor.problem("", "has more than one of stiffness, sandbag and foam: keep one")
    return found[0] if found else None


def _foam_spring(cursor: Cursor, pads: Mapping[str, Pad]) -> float | None:
    name = cursor.text("pad", needed='the name of a [[pad]] of this file, such as pad = "sole"')
    names = named(cursor, "pad", [name] if name else [], pads, "pad")
    area = one(cursor, "area", "area", needed="the area it bears on")
    pressed = one(cursor, "pressed", "pressure", needed="how hard it is pressed")
    cursor.finish()
    if not names or area is None or pressed is None:
        return None
    spring = foam_spring_n_m(pads[names[0]].foam, area, pressed)
    if spring is None:
        cursor.problem("pressed", f'the curve of pad "{names[0]}" is not known, or ends before this pressure')
    return spring


def read_stands(top: Cursor, frame: Frame | None) -> tuple[Stand, ...]:
    """Return lifting points and what the frame stands on, repeats written out."""
    found: list[Stand] = []
    for cursor in rows(top, "stand", "stand", "[[stand]]"):
        name = cursor.text("name", needed='what it is called, such as name = "eye"')
        kind = pick(cursor, "kind", ("lifting point", "stands on"), needed=True)
        at = point2(cursor, "at", needed=True)
        posts = texts(cursor, "post")
        stand = Stand(
            name=name,
            at_m=at or (0.0, 0.0),
            lifts=kind == "lifting point",
            stiffness_n_m=_spring(cursor, {}),
            bearing_m=one(cursor, "bearing", "length"),
            wll_kg=tag_kg(cursor, "wll"),
        )
        steps = repeats(cursor)
        cursor.finish()
        if not name or kind is None or at is None or steps is None:
            continue
        if frame is not None:
            posts = named(cursor, "post", posts, [m.name for m in frame.members if m.kind == "post"], "post")
        if posts and len(posts) != len(steps):
            cursor.problem("post", f"{len(steps)} stands need {len(steps)} posts, in their order; got {len(posts)}")
            posts = ()
        for i, step in enumerate(steps):
            called = name if len(steps) == 1 else f"{name} {i + 1}"
            place = (round(at[0] + step[0], 9), round(at[1] + step[1], 9))
            one_of = replace(stand, name=called, at_m=place, post=posts[i] if posts else None)
            if any(s.name == called for s in found):
                cursor.problem("name", f'"{called}" is there twice; give each its own name')
            _held_by(cursor, one_of, frame)
            found.append(one_of)
    return tuple(found)


def _held_by(cursor: Cursor, stand: Stand, frame: Frame | None) -> None:
    if frame is None:
        return
    try:
        under(tuple(m for m in frame.members if m.bends), stand, frame.tolerance_m)
    except CradleError as error:
        cursor.problem("at", str(error))


def read_states(top: Cursor, frame: Frame | None, stands: tuple[Stand, ...]) -> tuple[CradleState, ...]:
    """Return the states, in the order of a lift."""
    found: list[CradleState] = []
    members = [m.name for m in frame.members] if frame is not None else []
    for i, cursor in enumerate(rows(top, "state", "state", "[[state]]"), 1):
        key = pick(cursor, "state", _KEYS, needed=True)
        cursor.what = f'state "{key}"' if key else f"state {i}"
        given = texts(cursor, "stands")
        names = named(cursor, "stands", given, [s.name for s in stands], "stand")
        hangs = key in ("in water", "clear")
        held = tuple(s for s in stands if (s.name in names if given else s.lifts == hangs))
        state = CradleState(
            key=key or "clear",
            stands=held,
            duration=pick(cursor, "duration", DURATIONS),
            vertical_factor=_at_least(cursor, "vertical_factor", 1.0),
            vertical_source=cursor.text("vertical_source"),
            side_share=_at_least(cursor, "level", 0.0),
            side_source=cursor.text("level_source"),
            friction=_at_least(cursor, "friction", 0.0),
            lashings_n=one(cursor, "lashings", "force"),
            height_m=one(cursor, "height", "length"),
            edge_m=one(cursor, "edge", "length"),
            stops=named(cursor, "stops", texts(cursor, "stops") if members else (), members, "member"),
            sling_deg=_legs(cursor),
            skew_factor=_at_least(cursor, "skew_factor", 1.0),
        )
        cursor.finish()
        if key is None:
            continue
        if any(s.key == key for s in found):
            cursor.problem("state", f'"{key}" is there twice; describe it once')
        _enough(cursor, state, frame, hangs)
        found.append(state)
    order: Callable[[CradleState], int] = lambda s: _KEYS.index(s.key)  # noqa: E731
    return tuple(sorted(found, key=order))


def _at_least(cursor: Cursor, key: str, least: float) -> float | None:
    """Return a plain number such as "1.3"; None where it is missing, not known or less than it can be."""
    found = one(cursor, key, "fraction", sign=True, unit="1")
    if found is not None and found < least:
        cursor.problem(key, f'is {least:g} or more, such as {key} = "{1.3 if least else 0.5:g}"')
        return None
    return found


def _legs(cursor: Cursor) -> float | None:
    angle = degrees(cursor, "sling_angle")
    if angle is not None and not 0.0 < angle <= 90.0:
        cursor.problem("sling_angle", 'is counted from the horizontal: above 0 and up to 90 deg, such as "60 deg"')
        return None
    return angle


def _enough(cursor: Cursor, state: CradleState, frame: Frame | None, hangs: bool) -> None:
    """Note a state with too few places that hold the frame up."""
    if frame is None:
        return
    what = "lifting points" if hangs else "places it stands on"
    points = [s.at_m for s in state.stands]
    single = sum(m.bends for m in frame.members) == 1
    if single and len(set(points)) >= 2:
        return
    if len(set(points)) < 3 or (not single and _in_line(points)):
        cursor.problem(
            "stands",
            f"too few supports: {len(points)} {what} in this state; a frame needs three at least that do not lie in "
            'one line. Write [[stand]] tables, and name them here: stands = ["eye *"]',
        )


def _in_line(points: list[tuple[float, float]]) -> bool:
    ring = np.array(hull([tuple(p) for p in points]))
    if len(ring) < 3:
        return True
    x, y = ring.T
    area = 0.5 * abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))
    return area < 1e-4
