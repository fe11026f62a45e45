"""Laws that any weighing must keep, over bodies made up at random."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from oakum.ground.estimate import Draws, Estimate, exact, normal, uniform
from oakum.lift import (
    Body,
    BodyWater,
    CellReading,
    Coat,
    Part,
    Place,
    Repeat,
    Shape,
    Stuff,
    WeightReport,
    joined,
    weigh,
)
from oakum.lift.weights.conditioning import condition, reading_weights
from oakum.lift.weights.drawn import draw
from oakum.lift.weights.sums import summed

LAWS = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
WATER = BodyWater("water", normal(1027.0, 1.0, "density of the water"))
MEASURES = {
    "box": ("length", "width", "height"),
    "cylinder": ("diameter", "height"),
    "frustum": ("bottom_diameter", "top_diameter", "height"),
    "barrel": ("bulge_diameter", "end_diameter", "height"),
}

sizes = st.floats(0.1, 2.0)
degrees = st.floats(-180.0, 180.0)
places = st.floats(-3.0, 3.0)


def about(value: float, label: str) -> Estimate:
    return uniform(0.95 * value, 1.05 * value, label)


@st.composite
def parts(pick: st.DrawFn, name: str = "part") -> Part:
    kind = pick(st.sampled_from(sorted(MEASURES)))
    values = sorted((pick(sizes) for _ in MEASURES[kind]), reverse=True)
    if kind == "barrel":  # the bulge stays the widest in every draw
        values[0] = 1.2 * values[0]
    shape = Shape(
        kind, tuple((k, about(v, f"{name}: {k}")) for k, v in zip(MEASURES[kind], values, strict=True))
    )
    density = pick(st.floats(1100.0, 9000.0))
    x, y, z = (exact(pick(places)) for _ in range(3))
    place = Place(x, y, z, (pick(degrees), pick(degrees), pick(degrees)))
    coat = Coat(
        uniform(0.01, 0.05, f"{name}: coat"),
        Stuff("crust", uniform(1800.0, 2900.0, "density of crust")),
        exact(0.9),
    )
    repeat = pick(st.sampled_from([None, Repeat(3, "z"), Repeat(2, None, step_m=(0.5, 0.0, 0.0))]))
    stuff = Stuff("stuff", about(density, f"density of {name}"))
    return Part(name, "object", shape, place, stuff, repeat, coat=pick(st.sampled_from([None, coat])))


@st.composite
def bodies(pick: st.DrawFn, stem: str = "part", least: int = 1) -> Body:
    count = pick(st.integers(least, 3))
    return Body("made up", WATER, tuple(pick(parts(f"{stem} {i}")) for i in range(count)))


def weighed(body: Body, draws: int = 400) -> WeightReport:
    return weigh(body, rng=np.random.default_rng(11), draws=draws)


def loads(report: WeightReport) -> np.ndarray:
    return np.array([[s.load_kg.p5, s.load_kg.best, s.load_kg.p95] for s in report.states])


@LAWS
@given(bodies(), st.floats(0.3, 3.0))
def test_scaled_by_s_every_load_grows_by_s_cubed(body: Body, s: float) -> None:
    def longer(e: Estimate) -> Estimate:
        return replace(e, a=s * e.a, b=s * e.b, c=s * e.c)

    def scaled(part: Part) -> Part:
        shape = replace(part.shape, dimensions=tuple((k, longer(e)) for k, e in part.shape.dimensions))
        place = replace(
            part.place, x_m=longer(part.place.x_m), y_m=longer(part.place.y_m), z_m=longer(part.place.z_m)
        )
        coat = replace(part.coat, thickness_m=longer(part.coat.thickness_m)) if part.coat else None
        step = part.repeat.step_m if part.repeat else None
        repeat = (
            replace(part.repeat, step_m=tuple(s * v for v in step)) if part.repeat and step else part.repeat
        )
        return replace(part, shape=shape, place=place, coat=coat, repeat=repeat)

    small, large = weighed(body), weighed(replace(body, parts=tuple(scaled(p) for p in body.parts)))
    np.testing.assert_allclose(loads(large), s**3 * loads(small), rtol=1e-9)
    for a, b in zip(small.centres, large.centres, strict=True):
        for axis in ("x_m", "y_m", "z_m"):
            assert getattr(b, axis).best == pytest.approx(s * getattr(a, axis).best, abs=1e-9)


@LAWS
@given(bodies("left"), bodies("right"))
def test_two_bodies_joined_weigh_their_sum(left: Body, right: Body) -> None:
    """Means add exactly, because every cause keeps its own draw whatever stands beside it."""
    both = weighed(joined(left, right))
    for a, b, c in zip(weighed(left).states, weighed(right).states, both.states, strict=True):
        assert c.load_kg.mean == pytest.approx(a.load_kg.mean + b.load_kg.mean, rel=1e-9)


@LAWS
@given(bodies(), places, places, places, degrees)
def test_moving_and_turning_the_body_changes_no_weight(
    body: Body, x: float, y: float, z: float, turn: float
) -> None:
    def moved(part: Part) -> Part:
        p = part.place
        about_z = (p.turn_deg[0], p.turn_deg[1], p.turn_deg[2] + turn)
        shifted = Place(exact(p.x_m.best + x), exact(p.y_m.best + y), exact(p.z_m.best + z), about_z)
        return replace(part, place=shifted)

    there = weighed(replace(body, parts=tuple(moved(p) for p in body.parts)))
    np.testing.assert_allclose(loads(there), loads(weighed(body)), rtol=1e-12)


@LAWS
@given(bodies(), places, places, places)
def test_moving_the_body_moves_its_centres_with_it(body: Body, x: float, y: float, z: float) -> None:
    plain = replace(body, parts=tuple(replace(p, repeat=None) for p in body.parts))

    def moved(part: Part) -> Part:
        p = part.place
        return replace(
            part,
            place=replace(p, x_m=exact(p.x_m.best + x), y_m=exact(p.y_m.best + y), z_m=exact(p.z_m.best + z)),
        )

    here, there = weighed(plain), weighed(replace(plain, parts=tuple(moved(p) for p in plain.parts)))
    for a, b in zip(here.centres, there.centres, strict=True):
        found = (b.x_m.best - a.x_m.best, b.y_m.best - a.y_m.best, b.z_m.best - a.z_m.best)
        assert found == pytest.approx((x, y, z), abs=1e-9)


@LAWS
@given(bodies(least=2), st.randoms(use_true_random=False))
def test_the_order_of_the_parts_does_not_matter(body: Body, random: object) -> None:
    shuffled = list(body.parts)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    np.testing.assert_allclose(
        loads(weighed(replace(body, parts=tuple(shuffled)))), loads(weighed(body)), rtol=1e-12
    )


@LAWS
@given(bodies())
def test_states_stand_in_order_and_the_curve_between_them(body: Body) -> None:
    report = weighed(body)
    assert report.state("submerged").load_kg.best < report.state("clear").load_kg.best
    assert report.emergence.best[0] == pytest.approx(
        report.state("submerged").load_kg.best, rel=1e-6, abs=1e-6
    )
    assert report.emergence.best[-1] == pytest.approx(report.state("clear").load_kg.best, rel=1e-6)
    steps = np.diff(report.emergence.best)
    assert np.all(steps >= -1e-6 * report.state("clear").load_kg.best)


# Conditioning. For any model the readings that the model itself foretells narrow it *on average*: the mean of
# the variances after is no greater than the variance before (law of total variance). For a single reading that
# holds of a normal model always; a lopsided model may be widened by one reading in its long tail.


@LAWS
@given(st.floats(100.0, 5000.0), st.floats(5.0, 300.0), st.floats(2.0, 300.0), st.floats(-2.0, 2.0))
def test_no_reading_widens_a_normal_model(mean: float, sd: float, cell_sd: float, where: float) -> None:
    rng = np.random.default_rng(17)
    model = rng.normal(mean, sd, 40_000)
    reading = CellReading(mean + where * sd, cell_sd, "reading")
    result = condition(model, [reading], rng).result
    assert result is not None
    if result.effective_draws >= 500:
        assert result.after_kg.sd <= 1.05 * min(result.before_kg.sd, cell_sd)


@LAWS
@given(bodies(), st.floats(0.2, 1.0))
def test_readings_the_model_foretells_narrow_it_on_average(body: Body, relative_sd: float) -> None:
    submerged = summed(draw(body, Draws(4000, np.random.default_rng(7)))).submerged_kg
    cell_sd = relative_sd * float(submerged.std())
    rng = np.random.default_rng(23)
    after = []
    for truth in rng.choice(submerged, 60):
        reading = CellReading(float(truth + cell_sd * rng.standard_normal()), cell_sd, "reading")
        weights = reading_weights(submerged, [reading])
        mean = np.average(submerged, weights=weights)
        after.append(np.average(np.square(submerged - mean), weights=weights))
    assert np.mean(after) <= submerged.var()


@LAWS
@given(bodies())
def test_a_reading_that_says_nothing_changes_nothing(body: Body) -> None:
    plain = weighed(body, 2000)
    kg = plain.state("submerged").load_kg
    reading = CellReading(kg.best, 1e6 * kg.sd, "useless")
    after = weigh(body, rng=np.random.default_rng(11), draws=2000, readings=[reading])
    np.testing.assert_allclose(loads(after), loads(plain), rtol=2e-3)
