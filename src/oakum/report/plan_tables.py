"""The tables of a lift plan: gear, roles, steps, go/no-go, hazards, help, slings and bags, as rows of text."""

from __future__ import annotations

from collections.abc import Mapping

from oakum.draw.forces import in_unit, load_words, reading, reading_figures, unit_words
from oakum.draw.rows import Rows, figure
from oakum.ground.gravity import G_M_S2
from oakum.lift.bags import BagAnswer
from oakum.lift.raising.plan import RaisingPlan, TurningAnswer
from oakum.lift.slings import SlingAnswer, SpreaderAnswer
from oakum.report import plan_phrases as say

_NONE = "none found"


def gear_rows(plan: RaisingPlan) -> Rows:
    """Return every piece of gear with its WLL, its papers and what stands against it."""
    return Rows(
        "Gear and its papers",
        ("tag", "kind", "WLL", "certificate until", "inspected until", "where", "used for", "objection"),
        tuple(
            (
                g.key,
                g.kind,
                say.wll_words(g.wll_kg, g.wll_text, plan.cell_unit),
                g.certificate_until or say.NOT_KNOWN,
                g.inspection_until or say.NOT_KNOWN,
                g.where or say.NOT_KNOWN,
                ", ".join(g.used_for) or "not used",
                g.objection or _NONE,
            )
            for g in plan.gear
        ),
    )


def role_rows(plan: RaisingPlan, names: Mapping[str, str]) -> Rows:
    """Return every role with who holds it, whether confirmed, and what stands against it."""
    wet = {True: "in the water", False: "on deck", None: say.NOT_KNOWN}
    return Rows(
        "Roles",
        ("role", "held by", "confirmed", "before the crossing", "asks for", "objection"),
        tuple(
            (
                r.role,
                say.name_of(r.person, names) or "nobody",
                say.role_state(r),
                wet[r.in_water],
                ", ".join(r.needs) or "not said",
                r.objection or _NONE,
            )
            for r in plan.roles
        ),
    )


def step_rows(plan: RaisingPlan) -> Rows:
    """Return the steps in order."""
    where = {"in": "in", "out": "out", "either": "in or out"}
    return Rows(
        "Steps",
        ("step", "what is done", "who", "minutes", "divers", "watch", "abort"),
        tuple(
            (
                f"{s.number} {s.title}",
                s.action,
                s.role or "nobody named",
                say.minutes_words(s.minutes).replace(" min", ""),
                where[s.divers],
                s.watch,
                s.abort,
            )
            for s in plan.steps
        ),
    )


def go_rows(plan: RaisingPlan) -> Rows:
    """Return the go/no-go list with how each line stands."""
    return Rows(
        "Go or no go",
        ("what must hold", "now", "who answers", "why"),
        tuple((line.words, line.answer, line.by, line.why) for line in plan.go_no_go),
    )


def hazard_rows(plan: RaisingPlan, names: Mapping[str, str]) -> Rows:
    """Return the hazards of the object, who says what of each and when."""
    return Rows(
        "Hazards of the object",
        ("hazard", "answer", "said by", "on", "objection"),
        tuple(
            (
                h.words,
                h.answer,
                say.name_of(h.person, names) or "nobody",
                h.on or say.NOT_KNOWN,
                h.objection or _NONE,
            )
            for h in plan.hazards
        ),
    )


def help_rows(plan: RaisingPlan) -> Rows:
    """Return what would help most, its gain and its cost to the object."""
    return Rows(
        "What would help",
        ("change", "gain", "cost to the object"),
        tuple((h.title, *say.help_words(h)) for h in plan.helps),
    )


def sling_rows(answer: SlingAnswer, cell_unit: str) -> Rows:
    """Return what each leg carries in one state: bound, elastic, angle, and how its rating came about."""
    unit = unit_words(cell_unit)
    lines = []
    for leg in answer.legs:
        elastic = "not known" if leg.elastic_n is None else reading(leg.elastic_n.p95 / G_M_S2, cell_unit)
        low, best, high = reading_figures(leg.greatest_n, cell_unit)
        lines.append(
            (
                leg.name,
                leg.gear or "not named",
                f"{best} ({low} to {high})",
                elastic,
                reading(leg.governing_kg, cell_unit),
                f"{leg.from_horizontal_deg.best:.0f}\u00b0",
                f"{figure(leg.length_m.best)} m",
                leg.capacity_words,
            )
        )
    head = (
        "leg", "gear", f"greatest, likely (P5 to P95), {unit}", f"by stiffness, P95, {unit}", f"checked with, {unit}",
        "from the horizontal", "length", "rating",
    )  # fmt: skip
    return Rows(f"Legs {answer.load}", head, tuple(lines))


def sling_lines(answer: SlingAnswer, cell_unit: str) -> tuple[str, ...]:
    """Say what the slings of one state give besides their legs."""
    load = in_unit(answer.hook_load_n, cell_unit)
    x, y = (load_words(s.p95 / G_M_S2, cell_unit) for s in (answer.squeeze_x_n, answer.squeeze_y_n))
    said = [
        f"Hook load: {load.words()}.",
        f"Out of level: {answer.tilt_deg.words()}.",
        f"The legs press the load together with up to {x} along and {y} across (P95).",
        f"Shared by: {answer.ruling.words} ({answer.ruling.source}: {answer.ruling.mark}).",
    ]
    if answer.roll_deg is not None:
        said.insert(2, f"Rolled about the line of its two attachments: {answer.roll_deg.words()}.")
    if answer.infeasible > 0.0:
        said.append(
            f"In {100 * answer.infeasible:.2g} % of the draws it cannot hang so; they are left out of the figures."
        )
    return (*said, *(f"Advice: {line}." for line in answer.advice))


def bag_lines(bags: BagAnswer, cell_unit: str) -> tuple[str, ...]:
    """Say what the bags lift, what air they need and how they rise."""
    air = bags.air
    said = [
        f"{len(bags.bags.bags)} bags at {bags.bags.depth_m:g} m: full they lift "
        f"{load_words(bags.lift_full_kg, cell_unit)}, counted on are {load_words(bags.lift_counted_kg, cell_unit)}.",
        f"Load under water: {in_unit(bags.submerged_kg, cell_unit).words()}.",
        (
            f"Excess lift with all bags full: {bags.excess.words()}; they lift the load at all in "
            f"{100 * bags.lifts:.0f} % of the draws."
            if bags.lifts > 0.0
            else "The bags alone never lift the load: they relieve the hook of a part of it."
        ),
        f"Free air at 1 bar: {1000 * air.needed_bar_m3:,.0f} l needed for every fill, losses counted; "
        + (
            "what is at hand is not known."
            if air.at_hand_bar_m3 is None
            else f"{1000 * air.at_hand_bar_m3:,.0f} l come out of the cylinders at that depth."
        ),
    ]
    for rise in (bags.just_lifting, bags.all_full):
        if rise is not None and rise.greatest_m_s is not None:
            said.append(
                f"If nobody vents, {rise.name}: greatest speed {rise.greatest_m_s.words()}, from {rise.from_m:g} m "
                f"to {rise.to_m:g} m."
            )
    for choice in bags.instead if bags.lifts > 0.0 else ():
        kinds = ", ".join(f"{n} x {kind.title}" for kind, n in choice.counts)
        said.append(
            f"Instead: {kinds}: counted on for {_over(choice.counted)}, full {_over(choice.excess)}"
            + (f"; objection: {choice.objection}." if choice.objection else ".")
        )
    return tuple(said)


def spreader_lines(answer: SpreaderAnswer, cell_unit: str) -> tuple[str, ...]:
    """Say what a spreader carries in one state."""
    top = ", ".join(in_unit(force, cell_unit).words() for force in answer.top_n)
    drop = ", ".join(in_unit(force, cell_unit).words() for force in answer.drop_n)
    return (
        f"Drops: {drop}.",
        f"Top legs, {answer.from_horizontal_deg:.0f}\u00b0 from the horizontal: {top}.",
        f"Compression of the beam: {in_unit(answer.compression_n, cell_unit).words()}.",
        f"Out of level: {answer.tilt_deg.words()}.",
        *(f"objection: {o}." for o in answer.objections),
    )


def turning_lines(answer: TurningAnswer, cell_unit: str) -> tuple[str, ...]:
    """Say what a turning or rolling asks for, where it goes by itself, and what stands against it."""
    lines = [f"Not computed: {answer.refused}."] if answer.refused else []
    turn = answer.turn
    if turn is not None:
        lines.append(
            f"Greatest pull: {in_unit(turn.largest_pull_kg, cell_unit).words()}; as a load-cell reading."
        )
        lines.append(
            f"It goes by itself at {turn.balance_deg.words()}; held back with up to "
            f"{load_words(turn.largest_hold_kg.p95, cell_unit)}."
            if turn.goes_by_itself > 0.0
            else "It does not go by itself before it is down."
        )
    if answer.roll is not None:
        pull = in_unit(answer.roll.largest_pull_kg, cell_unit)
        lines.append(f"Greatest pull: {pull.words()}; as a load-cell reading.")
    for part in (turn, answer.frame, answer.roll):
        lines += [] if part is None else [f"objection: {o}." for o in part.objections]
    return tuple(lines)


def _over(share: float) -> str:
    """Say a share of the weight over or under it: "11 % over the weight"."""
    return f"{abs(100 * share):.0f} % {'over' if share >= 0.0 else 'under'} the weight"
