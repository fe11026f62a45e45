"""A lift plan put together by hand from real answers of the rooms, for drawings and sheets."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.ground.estimate import Spread
from oakum.lift import parse_body, starting_bodies, weighing_of
from oakum.lift.bags import AirSupply, Bag, BagKind, BagSet, Column, CrownLine, Eye, answer
from oakum.lift.checks import Check, Rule
from oakum.lift.gravity import G_M_S2
from oakum.lift.raising.loads import bag_load, drawn_loads
from oakum.lift.raising.plan import (
    GearItem,
    GoLine,
    Hazard,
    Help,
    RaisingPlan,
    RigView,
    RoleHeld,
    Step,
    TrialLift,
    TurningAnswer,
)
from oakum.lift.slings import Fitting, HookAt, Leg, Rig, Ruling, SlingAnswer, sling_answer
from oakum.lift.turning import LinePull, Section, turn_over

_CORNERS = {"north-east": (0.62, 0.6), "north-west": (0.62, -0.6), "south-east": (-0.62, 0.6), "south-west": (-0.62, -0.6)}
_RULE = Rule("practice", "hook and slings on the 95th percentile", "rigging practice", "", "practice, no source")


def _minutes(best: float) -> Spread:
    return Spread(0.7 * best, best, 1.6 * best, 1.05 * best, 0.25 * best, "min")


_STEPS = (
    Step(1, "Briefing on deck", "Read the plan aloud, each role answers.", "lift leader", _minutes(15), divers="out"),
    Step(2, "Check gear against the list", "Read every tag aloud; compare with the list.", "deck hand", _minutes(20),
         abort="a tag missing or a date passed: put it ashore", divers="out"),
    Step(3, "Make the four legs fast", "Legs 1 to 4 at the cradle's corners, edges padded.", "slinging diver",
         _minutes(25), "shackle pins moused", "an eye bent: down tools", "in"),
    Step(4, "Take up slack and weigh", "Hoist until the cell reads, stop, read, write.", "hoist operator", _minutes(5),
         "the cell", "above the band: lower", "in"),
    Step(5, "Trial lift 0.3 to 0.5 m", "Hoist, hold ten minutes, read each minute.", "hoist operator", _minutes(14),
         "cell, tilt, cracks", "outside the band: lower and look", "in"),
    Step(6, "Fill bags A and B", "Fill A full, then B until it hangs slack.", "bag diver", _minutes(12),
         "rate of rise", "a strop parts: vent both", "in"),
    Step(7, "Hoist to the pause at 3 m", "Slow, divers alongside, never above.", "hoist operator", _minutes(8),
         "0.1 m/s", "it turns or swings: stop", "in"),
    Step(8, "Divers out", "Count them out aloud.", "dive leader", _minutes(10), "all heads counted",
         "one missing: nobody hoists", "out"),
    Step(9, "Steady through the surface", "One even hoist, no stop in the splash.", "hoist operator", _minutes(2),
         "taglines", "cell above the band: lower back to 3 m", "out"),
    Step(10, "Hang and drain", "Hang clear until the dripping slows.", "conservator", _minutes(6), "cracks", "", "out"),
    Step(11, "Set down on the cradle", "Swing in by taglines, lower, wedge.", "deck hand", _minutes(10),
         "feet clear", "it does not sit: up 0.2 m", "out"),
    Step(12, "Wet wrap and tank", "Wet felt, film, tank lid.", "conservator", _minutes(15), divers="out"),
)  # fmt: skip

_ROLES = (
    RoleHeld("lift leader", "Gives every order of the lift and calls every stop.", "p-01", ("lifting",), "2027-03-01",
             True, False),
    RoleHeld("dive leader", "Decides who dives; counts divers out, aloud.", "p-02", ("dive leader",), "2026-11-30",
             True, False),
    RoleHeld("hoist operator", "Hoists and lowers on the lift leader's orders only.", "p-03", ("winch",), "2026-12-31",
             True, False),
    RoleHeld("slinging diver", "Makes the legs fast as drawn.", "p-04", ("diver",), "2026-09-01", True, True),
    RoleHeld("bag diver", "Fills and vents the bags in their order.", "p-05", ("diver",), "2026-04-01", None, True,
             "bag diver: a competence lapsed on 2026-04-01, before the lift on 2026-05-20"),
    RoleHeld("conservator", "Watches the object; stops the lift for its sake.", "p-06", ("conservator",), None, True, False),
    RoleHeld("deck hand", "Holds the taglines, keeps everybody from under the load.", None, (), None, None, False,
             "deck hand: nobody is named"),
)  # fmt: skip


def _rig() -> Rig:
    legs = tuple(
        Leg(name, (x, y, 1.36), 1000.0, "polyester", gear=f"S-{i + 1:02d}",
            shackle=Fitting("shackle", f"H-{i + 1:02d}", 2000.0, off_line_deg=0.0))
        for i, (name, (x, y)) in enumerate(_CORNERS.items())
    )  # fmt: skip
    return Rig(legs, HookAt((0.0, 0.0, 3.1)), Ruling("bound", "EU"), 5.0, 25.0, top=Fitting("ring", "R-01", 3000.0, off_line_deg=0.0))


def _view(state: str, slings: SlingAnswer, hanging: tuple[float, float, float], bags: bool) -> RigView:
    mouths = (("A", (0.62, 0.0, 1.9), 0.4), ("B", (-0.62, 0.0, 1.9), 0.14)) if bags else ()
    return RigView(
        state, slings.hook_m, tuple((leg.name, leg.attachment_m) for leg in slings.legs),
        tuple(Spread(*(v / G_M_S2 for v in (s.p5, s.best, s.p95, s.mean, s.sd)), "kg")
              for s in (leg.greatest_n for leg in slings.legs)),
        tuple(leg.from_horizontal_deg.best for leg in slings.legs), hanging, slings.tilt_deg.best, mouths,
    )  # fmt: skip


def make_plan() -> RaisingPlan:
    """Return a complete plan for the invented capstan with one lapsed role and one check not known."""
    body = parse_body(starting_bodies()["capstan"].toml, name="capstan")
    weighed = weighing_of(body, rng=np.random.default_rng(7), draws=2000, seed=7)
    draw = drawn_loads(weighed.sums, weighed.use, 25.0)
    slings = {state: sling_answer(draw.load(state), _rig()) for state in ("under water", "in air")}
    kind = {
        name: BagKind(name, f"{name} l bag", volume, None, 3.0, air_height_m=0.6, valve_area_m2=8e-4, shared_crown=False)
        for name, volume in (("400", 0.4), ("140", 0.14))
    }
    crown = CrownLine(9.0, 14.0, False, 500.0, 400.0)
    bags = answer(
        bag_load(draw, 400.0),
        BagSet(
            (Bag("A", kind["400"], 500.0, "cradle north", crown, (0.62, 0.0)),
             Bag("B", kind["140"], 500.0, "cradle south", crown, (-0.62, 0.0))),
            (Eye("cradle north", 1000.0), Eye("cradle south", 1000.0)), 12.5, 12.5, 3.0, 0.2,
            "hook below the surface", 1.4, 2000.0,
        ),
        Column(1026.5, 11.0),
        AirSupply(0.012, 232e5, 4, 40e5, "bags only", 0.2, 2),
    )  # fmt: skip
    section = Section(((-0.5, 0.0), (0.5, 0.0), (0.5, 1.3), (-0.5, 1.3)), 1, draw.water_kg[:500] * G_M_S2,
                      np.column_stack((draw.water_m[:500, 0], draw.water_m[:500, 2])), True)  # fmt: skip
    turning = turn_over(section, LinePull((-0.5, 1.3), (5.0, 0.3), 1000.0, 800.0, False), hold=None, bed_friction=0.5)
    lost = Check("hook", "hook", weighed.report.state("clear").load_kg.p95, None, "kg",
                 "95th percentile of the hook load in air", _RULE,
                 "hook: what hook, runner and hoist bear is not known")  # fmt: skip
    checks = sorted((*slings["in air"].checks, *bags.checks), key=lambda c: -(c.utilisation or 9.0))
    points = (draw.water_m, draw.air_m)
    medians = [tuple(float(v) for v in np.median(p, axis=0)) for p in points]
    band = weighed.report.state("submerged").load_kg
    return RaisingPlan(
        title="Capstan (invented)",
        number="T-0001-7",
        weight=weighed.report,
        cell_unit="kg",
        under_water=slings["under water"],
        in_air=slings["in air"],
        bags=bags,
        turning=(TurningAnswer("laying it over", turning),),
        views=(
            _view("under water", slings["under water"], medians[0], True),  # type: ignore[arg-type]
            _view("in air", slings["in air"], medians[1], False),  # type: ignore[arg-type]
        ),
        checks=(lost, *checks),
        gear=(
            *(GearItem(f"S-{i:02d}", "round sling, polyester, 2 m", 1000.0, "1 t", "2027-02-01", "2026-10-01", "hut, hook 4",
                       None, (f"leg {i}",)) for i in range(1, 4)),
            GearItem("S-04", "round sling, polyester, 2 m", 1000.0, "1 t", "2026-03-31", "2026-03-31", "hut, hook 4",
                     "S-04: certificate lapsed on 2026-03-31", ("leg 4",)),
            GearItem("R-01", "ring", 3000.0, "3 t", "2027-02-01", None, None, "R-01: inspection date not known", ("hook",)),
        ),
        roles=_ROLES,
        hazards=(
            Hazard("charge", "a charge: a gun still loaded, a live shell, powder", "does not apply", "p-02", "2026-05-02", None),
            Hazard("gas", "gas that poisons or burns", "not known", None, None, "gas that poisons or burns: not excluded"),
        ),
        in_situ="It stands proud of the bed and is eaten by shipworm; decided by the director with the county.",
        steps=_STEPS,
        go_no_go=(
            GoLine("weather", "Sea state and forecast within the limits", "on the day", "lift leader"),
            GoLine("reception", "Tank filled, felt wet, conservator on the quay", "met", "conservator"),
            GoLine("papers", "Every piece of gear has its papers", "not met", "deck hand", "S-04 has lapsed"),
            GoLine("people", "Nobody under, over or attached to the load", "on the day", "dive leader"),
            GoLine("current", "Current below what the divers can hold", "not known", "dive leader"),
        ),
        trial=TrialLift("kg", float(np.floor(band.p5 / 10) * 10), float(np.ceil(band.p95 / 10) * 10), (0.3, 0.5), 10.0,
                        "above the upper figure stop: held by the bed, or heavier than thought",
                        "below the lower figure stop: a part was left behind, or a bag lifts"),
        helps=(
            Help("legs 0.5 m longer", "greatest use of a sling", 0.93, 0.86, "1", "none; needs 0.4 m more hook height"),
            Help("chip concretion", "hook load in air, P95", 1674.0, 1590.0, "kg", "it may carry the bands: not advised"),
        ),
        stage="draft",
        objections=(
            "hook: what hook, runner and hoist bear is not known",
            "S-04: certificate lapsed on 2026-03-31",
            "bag diver: a competence lapsed on 2026-04-01, before the lift on 2026-05-20",
            "gas that poisons or burns: not excluded",
        ),
        open_questions=("two weighings differ by more than three standard deviations",),
        assumptions=("Still water; nothing swings.", *slings["in air"].assumptions),
        cautions=weighed.report.cautions,
        not_covered=("the splash zone", "the vessel and its crane", "the cradle under the object"),
        fingerprint="3f9a1c77d20be415",
        version="0.0.0",
        withdrawn=None,
        blocked_by=("two weighings differ: the director settles it",),
    )  # fmt: skip


_MADE: list[RaisingPlan] = []


@pytest.fixture(scope="session")
def hand_plan() -> RaisingPlan:
    """The plan of `make_plan`, made once."""
    if not _MADE:
        _MADE.append(make_plan())
    return _MADE[0]


@pytest.fixture(scope="session")
def bare_plan(hand_plan: RaisingPlan) -> RaisingPlan:
    """The plan of an object whose rig nobody has described yet."""
    return replace(
        hand_plan, under_water=None, in_air=None, bags=None, turning=(), views=(), checks=(), gear=(), roles=(),
        hazards=(), in_situ=None, steps=(), go_no_go=(), trial=None, helps=(), open_questions=(), blocked_by=(),
        objections=("no rig is described",), assumptions=(), number="",
    )  # fmt: skip
