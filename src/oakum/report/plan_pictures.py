"""The drawings of a lift plan's file, set for paper."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from oakum.draw import ascent, hook_load, rig, turning, utilisation
from oakum.draw.theme import PRINT
from oakum.lift.checks import Check
from oakum.lift.raising.plan import RaisingPlan, TurningAnswer

_RIG_HEIGHT_PT = 330.0
_BARS_A_PICTURE = 3
_MOST_BARS = 24
_LOW = 0.4 * PRINT.width


def rig_pictures(plan: RaisingPlan) -> dict[str, Any] | None:
    """Return the rig from the front and from above at one print scale; None where there is no rig to draw."""
    if not plan.views:
        return None
    scale = rig.rig_scale(plan, width_pt=PRINT.width, height_pt=_RIG_HEIGHT_PT)
    made: tuple[tuple[str, Callable[..., str], bool], ...] = (
        ("From the front", rig.elevation, False),
        ("From above", rig.from_above, True),
    )
    return {
        "scale": f"1:{scale}",
        "drawings": [
            _picture(
                draw(plan, theme=PRINT, scale=scale, with_legend=with_legend),
                f"{title}: the rig of {plan.title} at 1:{scale}, under water and in air; legs with force and angle "
                "are in the table below",
                title,
            )
            for title, draw, with_legend in made
        ],
    }


def bar_pictures(plan: RaisingPlan) -> list[dict[str, Any]]:
    """Return the utilisation bars of `barred`, a few a picture so that pages break between them."""
    checks = barred(plan)
    runs = [checks[i : i + _BARS_A_PICTURE] for i in range(0, len(checks), _BARS_A_PICTURE)]
    return [_bars(run, plan, i) for i, run in enumerate(runs)]


def barred(plan: RaisingPlan) -> tuple[Check, ...]:
    """Return the checks that get a bar: those used most, and every one with an objection."""
    return tuple(c for i, c in enumerate(plan.checks) if i < _MOST_BARS or c.objection)


def bars_words(plan: RaisingPlan) -> str:
    """Say which checks the bars show."""
    shown, every = len(barred(plan)), len(plan.checks)
    rest = "The rules stand in the list of checks."
    if shown == every:
        return f"Every check, the hardest first; hatched: not known. {rest}"
    return f"{shown} of {every} checks: those used most and every one with an objection; hatched: not known. {rest}"


def load_picture(plan: RaisingPlan, points: Sequence[hook_load.LoadPoint] = ()) -> dict[str, Any]:
    """Return hook load against height with the trial band."""
    drawn = hook_load.hook_load(
        hook_load.plan_curve(plan),
        trial=plan.trial,
        points=points,
        cell_unit=plan.cell_unit,
        theme=PRINT,
        height=_LOW,
    )
    return _picture(
        drawn, "Hook load against height, likely value with its P5 to P95 band, and the trial band"
    )


def bag_pictures(plan: RaisingPlan) -> list[dict[str, Any]]:
    """Return the rise on bags and the cases of one failing; nothing where there are no bags."""
    if plan.bags is None:
        return []
    drawn = ascent.ascent_drawings(plan.bags, plan.cell_unit, theme=PRINT, height=_LOW)
    curves = ascent.ascent_curves(plan.bags, plan.cell_unit)
    found = [
        _picture(svg, f"{c.y_name} against {c.x_name}: {c.name}", c.name[:1].upper() + c.name[1:])
        for svg, c in zip(drawn, curves, strict=True)
    ]
    if not plan.bags.failed:
        return found
    failed = ascent.failed_bands(plan.bags, plan.cell_unit, theme=PRINT)
    alt = (
        "The force left on the load when one bag fails, a row a bag; words and figures are in the table below"
    )
    return [*found, _picture(failed, alt, "One bag fails")]


def turning_picture(answer: TurningAnswer, cell_unit: str) -> dict[str, Any] | None:
    """Return the pull against the angle; None where it was not computed."""
    if turning.pull_curve(answer, cell_unit) is None:
        return None
    drawn = turning.pull_drawing(answer, cell_unit, theme=PRINT, height=_LOW)
    return _picture(
        drawn, f"{answer.name}: pull against the angle, with the angle at which it goes by itself"
    )


def _bars(run: Sequence[Check], plan: RaisingPlan, index: int) -> dict[str, Any]:
    drawn = utilisation.utilisation_bars(
        run,
        governing=plan.governing,
        cell_unit=plan.cell_unit,
        theme=PRINT,
        across_share=utilisation.width_share(plan.checks),
        with_head=index == 0,
        key=f"utilisation-{index}",
    )
    said = "; ".join(f"{c.title} {utilisation.percent_words(c)}" for c in run)
    return _picture(drawn, f"Utilisation: {said}")


def _picture(svg: str, alt: str, title: str = "") -> dict[str, Any]:
    return {"svg": svg, "alt": alt, "width": PRINT.width, "title": title}
