"""Lift plans for drawings and sheets: the invented capstan on its example rig, and an object without a rig."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from oakum.ground.estimate import Spread
from oakum.ground.gravity import G_M_S2
from oakum.lift import parse_body, starting_bodies, weighing_of
from oakum.lift.raising import (
    GearItem,
    Hazard,
    PlanContext,
    RaisingPlan,
    RoleHeld,
    TurningAnswer,
    example_rig,
    gear_uses,
    parse_rig,
    raising_plan,
)
from oakum.lift.turning import LinePull, Section, turn_over

WLL = {"S": 2000.0, "K": 2000.0, "F": 2000.0, "H": 3000.0, "R": 3000.0, "P": 250.0, "C": 250.0}
HELD = {
    "lift leader": ("p-01", "2027-03-01", True),
    "dive leader": ("p-02", "2026-11-30", True),
    "hoist operator": ("p-03", "2026-12-31", True),
    "slinging diver": ("p-04", "2026-09-01", True),
    "bag diver": ("p-05", "2026-04-01", None),  # lapsed before the lift, not confirmed
    "conservator": ("p-06", "2026-12-31", True),
    "load-cell reader": ("p-07", None, True),
}
NAMES = {"p-01": "Anna Example", "p-02": "Bo Example", "p-03": "Cleo Example"}


def _gear(key: str) -> GearItem:
    until = "2026-03-31" if key == "S-03" else "2027-02-01"  # one sling has lapsed
    wll = WLL.get(key[0])
    text = "" if wll is None else f"{wll / 1000:g} t"
    return GearItem(key, "as on its tag", wll, text, until, until, "hut, hook 4", None)


@cache
def made() -> RaisingPlan:
    """Return the capstan's plan: one sling lapsed, one hazard open, a role not held, a turning by hand."""
    weighed = weighing_of(
        parse_body(starting_bodies()["capstan"].toml, name="capstan"),
        rng=np.random.default_rng(7),
        draws=2000,
        seed=7,
    )
    rig = parse_rig(example_rig(), name="capstan")
    keys = {use.piece.key for use in gear_uses(rig) if use.piece.key}
    hazards = tuple(
        Hazard(key, key, "excluded", "p-02", "2026-05-02", None) for key in ("charge", "pressure", "remains")
    )
    minutes = Spread(6, 10, 18, 11, 3, "min")
    context = PlanContext(
        on="2026-05-20",
        gear={key: _gear(key) for key in sorted(keys)},
        roles=tuple(
            RoleHeld(role, "", person, (), until, sure) for role, (person, until, sure) in HELD.items()
        ),
        hazards=hazards,
        in_situ="It stands proud of the bed and is eaten by shipworm; decided by the director with the county.",
        number="T-0001-7",
        minutes=dict.fromkeys(("sling", "ascend", "pause", "divers out", "land"), minutes),
        blocked_by=("two weighings differ: the director settles it",),
    )
    plan = raising_plan(weighed, rig, context)
    section = Section(
        ((-0.5, 0.0), (0.5, 0.0), (0.5, 1.3), (-0.5, 1.3)),
        1,
        weighed.sums.submerged_kg[:500] * G_M_S2,
        np.array((0.0, 0.45)),
        True,
    )
    pull = LinePull((-0.5, 1.3), (5.0, 0.3), 1000.0, 800.0, False)
    turning = turn_over(section, pull, hold=None, bed_friction=0.5)
    refused = TurningAnswer("rolling it", refused="the hanging point must lie inside the cylinder")
    return replace(plan, turning=(TurningAnswer("laying it over", turning), refused))


@pytest.fixture(scope="session")
def plan() -> RaisingPlan:
    """The capstan's lift plan."""
    return made()


@pytest.fixture(scope="session")
def names() -> dict[str, str]:
    """Names of three of the people."""
    return NAMES


@pytest.fixture(scope="session")
def bare_plan() -> RaisingPlan:
    """The plan of an object whose rig nobody has described yet."""
    return replace(
        made(), under_water=None, in_air=None, bags=None, turning=(), views=(), checks=(), gear=(), roles=(),
        hazards=(), in_situ=None, steps=(), go_no_go=(), trial=None, helps=(), open_questions=(), blocked_by=(),
        objections=("no rig is described",), assumptions=(), number="", rig=None, advice=(),
    )  # fmt: skip
