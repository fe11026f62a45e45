"""How the lift is done, as the rig file says it: trial, pause, set-down, reception, steps, roles."""

from __future__ import annotations

from typing import Literal

from oakum.lift.body.cursor import Cursor
from oakum.lift.raising.rig_cursor import one, pick, rows, tag_kg, texts, yes
from oakum.lift.raising.rig_plan import RigRole, RigStep, RigWork
from oakum.lift.raising.step_keys import STEP_KEYS

_DIVERS: tuple[Literal["in", "out", "either"], ...] = ("in", "out", "either")


def read_work(top: Cursor) -> RigWork:
    """Return how the lift is done; all of it may be left out and is then not known."""
    cursor = top.table_of("work", "work")
    steps, roles = _steps(top), _roles(top)
    if cursor is None:
        return RigWork(steps=steps, roles=roles)
    found = RigWork(
        trial_height_m=_heights(cursor),
        trial_hold_s=one(cursor, "trial_hold", "time"),
        cell_step_kg=tag_kg(cursor, "cell_step"),
        pause_depth_m=one(cursor, "pause_depth", "length"),
        set_down=_said(cursor, "set_down"),
        reception=_said(cursor, "reception"),
        weather=_said(cursor, "weather"),
        hoist=_said(cursor, "hoist"),
        steps=steps,
        roles=roles,
    )
    cursor.finish()
    return found


def _said(cursor: Cursor, key: str) -> str:
    value = cursor.text(key)
    return "" if value.lower() == "not known" else value


def _heights(cursor: Cursor) -> tuple[float, float] | None:
    found = cursor.estimate("trial_height", "length", counted=False)
    if found is None:
        return None
    if found.is_exact:
        return found.a, found.a
    if found.kind != "uniform":
        cursor.problem("trial_height", 'write one height or a range, such as trial_height = "0.3..0.5 m"')
        return None
    return found.a, found.b


def _steps(top: Cursor) -> tuple[RigStep, ...]:
    found: list[RigStep] = []
    for cursor in rows(top, "step", "step", "[[step]]"):
        step = _step(cursor, {s.key for s in found})
        if step is not None:
            found.append(step)
    return tuple(found)


def _step(cursor: Cursor, own: set[str]) -> RigStep | None:
    listed = ", ".join(f'"{k}"' for k in STEP_KEYS)
    key = cursor.text("key", needed=f"the step meant, one of {listed}, or a name for a step of your own")
    after = cursor.text("after")
    step = RigStep(
        key=key,
        minutes=cursor.estimate("minutes", "time", unit="min", label=f"minutes of {key}"),
        title=cursor.text("title"),
        action=cursor.text("action"),
        role=cursor.text("role"),
        watch=cursor.text("watch"),
        abort=cursor.text("abort"),
        divers=pick(cursor, "divers", _DIVERS) or "",
        after=after,
    )
    cursor.finish()
    if not key:
        return None
    if key in own:
        cursor.problem("key", f'the step "{key}" is described twice; put all of it in one [[step]]')
        return None
    if key not in STEP_KEYS:
        for name, value, example in (
            ("title", step.title, '"Tie down the crust"'),
            ("action", step.action, '"Bandage loose crust with gauze"'),
            ("role", step.role, '"conservator"'),
            ("after", after, '"weigh"'),
        ):
            if not value:
                cursor.problem(
                    name,
                    f'is missing: "{key}" is none of the steps {listed}; a step of your own needs {name} = {example}',
                )
        if after and after not in STEP_KEYS and after not in own:
            cursor.problem("after", f'there is no step "{after}" before this one; the steps are {listed}')
    elif after:
        cursor.problem(
            "after", f'"{key}" has its place in the order; only a step of your own is put after another'
        )
    return step


def _roles(top: Cursor) -> tuple[RigRole, ...]:
    found: dict[str, RigRole] = {}
    for cursor in rows(top, "role", "role", "[[role]]"):
        role = cursor.text("role", needed='what the role is called, such as role = "hoist operator"')
        duty, needs = cursor.text("duty"), texts(cursor, "needs")
        held = RigRole(role, duty, needs, yes(cursor, "in_water"))
        if role in found:
            cursor.problem("role", f'the role "{role}" is described twice')
        cursor.finish()
        if role:
            found[role] = held
    return tuple(found.values())
