"""The one-degree model stepped through time for many seas at once.

z is the height of the body's lowest point above the mean water, up. With submergence s = surface - z:

    (M + A) z'' = F - M g + rho g V + (rho V + A) w' - 1/2 rho C_D A_p |z' - w| (z' - w) + dA/dt (w - z')

F = max(0, K (tip + hoist - z) + c (their rates)) is the line, never a push. M is body and water in its hollows,
V what is displaced (a hollow counts as closed up to the level outside), A the added mass of the submerged part,
w the water's vertical speed at the middle of the submerged height. The last term, momentum taken up by growing
added mass, acts on entry only (von Karman's slamming); with w = surface speed it is (dA/ds) (w - z')^2.

Positions at whole steps (Stoermer), with a twelfth of the second difference of all forces (Numerov): of the taut
spring as it will be, K h^2 / 12 (x'' - z''), x being where it would hang to unstretched, which keeps its energy;
of all else as it was half a step before. Fourth order on the spring, third in waves, drag and growing added mass, exact
in static pull; second where the line goes slack or a body's edge goes through the surface. Speeds for drag,
damping and entry are read from the last five places; the entry term is taken by the change of added mass from
step to step, which has no jump. Water in hollows runs by the orifice law, integrated exactly over a step at the
level outside.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.drive import Drive
from oakum.lift.splash.errors import SplashError
from oakum.lift.splash.fine import Fine
from oakum.lift.splash.model import SplashModel
from oakum.lift.splash.operations import Operation, smoothly
from oakum.lift.splash.stepper import stepper
from oakum.lift.splash.tally import Tally

Array = NDArray[np.float64]

_BLOCK = 16  # intervals between nodes that are summed at once
_MOST_STEPS = 3_000_000


@dataclass(frozen=True, slots=True, eq=False)
class Marched:
    """What came of each member (n,): greatest and least line force, N, time slack, s, times it came taut again."""

    greatest_n: Array
    least_n: Array
    slack_s: Array
    snaps: NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Trace:
    """The run of every member, (k,) times and (k, n) line force, N, height of the lowest point and surface, m,
    and water held in hollows, kg."""

    time_s: Array
    line_n: Array
    height_m: Array
    surface_m: Array
    held_kg: Array


def march(
    model: SplashModel,
    drive: Drive,
    operation: Operation,
    mass_kg: Array,
    volume_share: Array,
    step_s: float,
    *,
    fade_s: float = 0.0,
    stretched_m: float = 0.0,
    progress: Callable[[float], None] | None = None,
    trace: bool = False,
) -> tuple[Marched, Trace | None]:
    """Step all members through one operation and count what their lines carry after the first `fade_s`.

    `mass_kg`, `volume_share` (n,) one a member. The body starts in balance; waves and tip fade in over
    `fade_s`, the hoist begins after it. `stretched_m` pulls it down from balance at the start. `step_s` must
    come from `Line.step_s`.
    """
    steps, spacing = drive.node_spacing_s(step_s)
    total = fade_s + operation.counted_s
    intervals = ceil(total / spacing - 1e-9)
    if intervals * steps > _MOST_STEPS:
        raise SplashError(
            f"{total:,.0f} s in steps of {step_s:.3g} s are {intervals * steps:,} steps; the line is stiffer than "
            "can be followed. Take the stretch of slings and boom into its stiffness"
        )
    level = operation.from_level_m + float(operation.rise(np.zeros(1), fade_s)[0, 0])
    stretch = model.static_n(level, mass_kg, volume_share) / model.line.stiffness_n_m
    full = model.held_over_n(level) / model.line.stiffness_n_m
    start = np.full(drive.members, level - stretched_m - full)
    body = stepper(model, mass_kg, volume_share, step_s, start)
    fine = Fine(steps, spacing, step_s, body.height_m, drive.members)
    tally = Tally(drive.members, step_s, fade_s)
    kept: list[tuple[Array, ...]] = []
    for first in range(0, intervals, _BLOCK):
        count = min(_BLOCK, intervals - first)
        time = np.asarray((first + np.arange(count + 1)) * spacing, dtype=np.float64)
        nodes = _nodes(model, drive, operation, time, fade_s)
        nodes[2][0::3] += operation.from_level_m + stretch
        forces = np.empty((count * steps, drive.members))
        for i in range(count):
            now = forces[i * steps : (i + 1) * steps]
            height = np.empty_like(now) if trace else None
            body.advance(fine, nodes, i, now, height)
            if height is not None:
                held = np.broadcast_to(body.held_kg(), now.shape)
                kept.append((now, height, fine.surface(nodes, i) * body.height_m, held))
        tally.add(forces, float(time[0]))
        if progress is not None:
            progress(min((first + count) / intervals, 1.0))
    found = Marched(*tally.result())
    return found, (_traced(kept, step_s) if trace else None)


def _nodes(
    model: SplashModel,
    drive: Drive,
    operation: Operation,
    time: Array,
    fade_s: float,
) -> tuple[Array, Array, Array]:
    """Return surface, water motion at the depth the hoist has come to, and tip with hoist, at the nodes."""
    risen = operation.rise(time, fade_s)
    level = operation.from_level_m + risen[0]
    sinks = np.where(level <= -model.immersion.height_m, -1.0, np.where(level < 0.0, -0.5, 0.0))
    below = np.stack([model.centre_below_m(level), sinks * risen[1], sinks * risen[2]])
    nodes = drive.nodes(time, below, smoothly(time, fade_s))
    for order in range(3):
        nodes[2][order::3] += risen[order][:, None]
    return nodes


def _traced(kept: list[tuple[Array, ...]], step_s: float) -> Trace:
    line, height, surface, held = (np.concatenate(rows) for rows in zip(*kept, strict=True))
    return Trace(step_s * np.arange(len(line), dtype=np.float64), line, height, surface, held)
