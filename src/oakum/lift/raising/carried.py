"""A trial with a lesser piece, carried over to the intact one: what scales, and what does not."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.gravity import G_M_S2
from oakum.lift.raising.afterwards import Comparison
from oakum.lift.raising.plan import RaisingPlan
from oakum.lift.slings import SlingAnswer


@dataclass(frozen=True, slots=True)
class Scaled:
    """A number of the trial beside that of the intact piece; `ratio` None where one of them is not known."""

    what: str
    trial: float | None
    intact: float | None
    unit: str

    @property
    def ratio(self) -> float | None:
        """Intact over trial."""
        if self.trial is None or self.intact is None or self.trial == 0.0:
            return None
        return self.intact / self.trial


@dataclass(frozen=True, slots=True)
class NotScaled:
    """What the trial showed, in words, beside what the intact piece will be like, and why it does not carry over."""

    what: str
    trial: str
    intact: str
    why: str


@dataclass(frozen=True, slots=True)
class CarriedOver:
    """Side by side: what scales with its ratio, and what does not.

    `over_likely` is what the trial's readings were over its likely weights, where it was compared. It tells
    how good the model of the trial piece was; it is no factor on the intact one, whose weights are its own.
    """

    trial_title: str
    intact_title: str
    scales: tuple[Scaled, ...]
    does_not: tuple[NotScaled, ...]
    over_likely: float | None
    cautions: tuple[str, ...]


CAUTIONS = (
    "The trial proves the way of working, not the strength of the intact object.",
    "A ratio is between two computed plans: weigh the intact piece under water before its own trial lift.",
)


def carry_over(trial: RaisingPlan, plan: RaisingPlan, compared: Comparison | None = None) -> CarriedOver:
    """Return the trial's plan beside the intact piece's plan, number by number."""
    scales = [
        Scaled(
            "weight hanging under water, likely",
            trial.weight.state("submerged").load_kg.best,
            plan.weight.state("submerged").load_kg.best,
            "kg",
        ),
        Scaled(
            "weight just clear of the surface, 95th percentile",
            trial.weight.state("clear").load_kg.p95,
            plan.weight.state("clear").load_kg.p95,
            "kg",
        ),
        Scaled("volume of the object", trial.weight.volume_m3.best, plan.weight.volume_m3.best, "m3"),
        *_centres(trial, plan),
        _air(trial, plan),
        *_legs(trial, plan),
    ]
    return CarriedOver(
        trial.title,
        plan.title,
        tuple(scales),
        _does_not(trial, plan),
        None if compared is None else compared.over_likely,
        CAUTIONS,
    )


def _centres(trial: RaisingPlan, plan: RaisingPlan) -> list[Scaled]:
    found = []
    for state, which in (("under water", "submerged"), ("in air", "in_air")):
        first, second = getattr(trial.weight.hanging, which), getattr(plan.weight.hanging, which)
        for axis in "xyz":
            a, b = getattr(first, f"{axis}_m").best, getattr(second, f"{axis}_m").best
            found.append(Scaled(f"hanging point {state}, {axis}", a, b, "m"))
    return found


def _air(trial: RaisingPlan, plan: RaisingPlan) -> Scaled:
    a, b = (None if p.bags is None else p.bags.air.needed_bar_m3 for p in (trial, plan))
    return Scaled("free air for the bags at 1 bar", a, b, "m3")


def _legs(trial: RaisingPlan, plan: RaisingPlan) -> list[Scaled]:
    """Return the greatest force of every leg that has the same name in both, in air."""
    first, second = _greatest(trial.in_air), _greatest(plan.in_air)
    return [
        Scaled(
            f'greatest force in leg "{name}" in air, 95th percentile', first.get(name), second.get(name), "kg"
        )
        for name in dict.fromkeys([*first, *second])
    ]


def _greatest(answer: SlingAnswer | None) -> dict[str, float]:
    return {} if answer is None else {leg.name: leg.greatest_n.p95 / G_M_S2 for leg in answer.legs}


def _does_not(trial: RaisingPlan, plan: RaisingPlan) -> tuple[NotScaled, ...]:
    def spread(p: RaisingPlan, what: str) -> str:
        value = getattr(p.weight, what) if what == "breakout_kg" else getattr(p.weight.hanging, what)
        return "not known" if value is None else value.words()

    return (
        NotScaled(
            "what the bed holds back",
            spread(trial, "breakout_kg"),
            spread(plan, "breakout_kg"),
            "it goes by the area buried, the soil and the time it has lain, not by the weight",
        ),
        NotScaled(
            "tilt between water and air",
            spread(trial, "tilt_deg"),
            spread(plan, "tilt_deg"),
            "it goes by where the centres lie, not by how much there is",
        ),
        NotScaled(
            "time to drain",
            _drain(trial),
            _drain(plan),
            "it goes by hollows and holes, and holes clog",
        ),
        NotScaled(
            "strength of the object",
            "as the lesser piece was",
            "not known",
            "stress grows with size, and a piece given up for a trial is seldom in the state of the intact one",
        ),
        NotScaled(
            "behaviour of the bags",
            _bags(trial),
            _bags(plan),
            "the share of excess lift, not the lift, decides whether it runs away",
        ),
        NotScaled(
            "force of the sea",
            "as it was that day",
            "not known",
            "it goes by shape, waterplane and sea; a lighter piece may even be worse",
        ),
        NotScaled(
            "minutes taken",
            _minutes(trial),
            _minutes(plan),
            "digging, slinging and trimming go by access, crew and sight",
        ),
    )


def _drain(plan: RaisingPlan) -> str:
    step = next((s for s in plan.steps if s.key == "drain"), None)
    return "not known" if step is None or step.minutes is None else step.minutes.words()


def _bags(plan: RaisingPlan) -> str:
    return "no bags" if plan.bags is None else f"excess with all full: {plan.bags.excess.words()}"


def _minutes(plan: RaisingPlan) -> str:
    total = plan.minutes
    return "not known" if total is None else total.words()
