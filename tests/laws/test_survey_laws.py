"""What must hold for every site: order, turn and shift change nothing; redundancy adds up; a tape never harms."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array

from oakum.seabed.network import Datum, Depth, Mark, Observation, Site, SiteSolution, Tape, solve_site
from oakum.seabed.network.next_tape import next_tapes
from oakum.seabed.network.settle import measure, settle
from oakum.seabed.network.site import Levels
from oakum.seabed.solver.dissect import dissect
from oakum.seabed.solver.normal import Scheme

FEW = settings(max_examples=8, deadline=None)


def site(
    seed: int, marks: int = 8, turn: float = 0.0, shift: tuple[float, float] = (0.0, 0.0), held: int = 3
) -> Site:
    rng = np.random.default_rng(seed)
    grid = np.array([(i % 3, i // 3) for i in range(marks)], dtype=float) * 3.0
    xy = grid + rng.uniform(-0.9, 0.9, (marks, 2))
    z = -14.0 + rng.uniform(0.0, 1.5, marks)
    names = [f"P{i}" for i in range(marks)]
    readings: list[Observation] = []
    for i in range(marks):
        for j in range(i):
            d = math.dist((*xy[i], z[i]), (*xy[j], z[j])) + float(rng.normal(0.0, 0.02))
            if d < 6.5:
                readings.append(Tape(id=f"{i}-{j}", a=names[i], b=names[j], length_m=d, sd_m=0.02))
        readings.append(
            Depth(
                id=f"d{i}",
                mark=names[i],
                depth_m=float(-z[i] + rng.normal(0, 0.05)),
                sd_m=0.05,
                water_level_m=0.0,
            )
        )
    c, s = math.cos(turn), math.sin(turn)
    put = xy @ np.array([[c, s], [-s, c]]) + shift
    marks_ = tuple(
        Mark(name=n, x_m=float(x), y_m=float(y), z_m=float(h))
        for n, (x, y), h in zip(names, put, z, strict=True)
    )
    datums = tuple(
        Datum(mark=names[i], x_m=float(put[i, 0]), y_m=float(put[i, 1]), z_m=float(z[i])) for i in range(held)
    )
    return Site(observations=tuple(readings), datums=datums, marks=marks_ if held < 3 else ())


def places(s: SiteSolution) -> np.ndarray:
    return np.array([m.place for m in s.marks])


@FEW
@given(st.integers(0, 10_000), st.randoms(use_true_random=False))
def test_the_order_of_the_readings_does_not_matter(seed: int, random: object) -> None:
    first = site(seed)
    shuffled = list(first.observations)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    a, b = solve_site(first), solve_site(replace(first, observations=tuple(shuffled)))
    assert places(b) == pytest.approx(places(a), abs=1e-6)
    assert b.whole.phi == pytest.approx(a.whole.phi, rel=1e-6)


@FEW
@given(st.integers(0, 10_000), st.floats(-3.1, 3.1), st.floats(-5e5, 5e5), st.floats(-5e6, 5e6))
def test_turning_and_shifting_the_site_turns_and_shifts_the_answer(
    seed: int, turn: float, x: float, y: float
) -> None:
    a, b = solve_site(site(seed)), solve_site(site(seed, turn=turn, shift=(x, y)))
    c, s = math.cos(turn), math.sin(turn)
    moved = places(a)
    moved[:, :2] = moved[:, :2] @ np.array([[c, s], [-s, c]]) + (x, y)
    assert places(b) == pytest.approx(moved, abs=2e-6)
    for one, other in zip(a.readings, b.readings, strict=True):
        assert (other.residual, other.redundancy) == pytest.approx((one.residual, one.redundancy), abs=1e-5)
    for m, n in zip(a.marks, b.marks, strict=True):
        e, f = m.ellipse(), n.ellipse()
        assert (f.major_m, f.minor_m) == pytest.approx((e.major_m, e.minor_m), abs=1e-6)


@FEW
@given(st.integers(0, 10_000), st.integers(0, 3))
def test_redundancy_numbers_sum_to_the_degrees_of_freedom(seed: int, held: int) -> None:
    s = solve_site(site(seed, held=held))
    assert sum(r.redundancy for r in s.readings) == pytest.approx(s.whole.freedom, abs=1e-6)
    assert all(-1e-9 <= r.redundancy <= 1.0 + 1e-9 for r in s.readings)


@FEW
@given(st.integers(0, 10_000))
def test_residuals_do_not_depend_on_what_holds_the_plan(seed: int) -> None:
    """With depths a held mark and a held direction are a minimal datum: residuals are those of the free plan."""
    free = site(seed, held=0)
    pinned = site(seed, held=1)
    datum = replace(pinned.datums[0], z_m=None)
    a, b = solve_site(free), solve_site(replace(free, datums=(datum,)))
    for one, other in zip(a.readings, b.readings, strict=True):
        assert (other.residual, other.redundancy) == pytest.approx((one.residual, one.redundancy), abs=1e-6)


@FEW
@given(st.integers(0, 10_000), st.integers(0, 27), st.integers(1, 3))
def test_adding_a_tape_never_enlarges_a_covariance(seed: int, pick: int, held: int) -> None:
    """At one state: the covariance without a tape less that with it has no negative eigenvalue."""
    settled, _ = settle(site(seed, held=held))
    assert settled is not None
    full = settled.measured.adjusted
    tapes = [i for i, label in enumerate(full.network.labels) if label.kind == "tape"]
    keep = np.ones(len(full.network.labels), dtype=bool)
    keep[tapes[pick % len(tapes)]] = False
    less = measure(replace(full, network=full.network.pick(keep)), Levels())
    if less is not None:
        gaps = less.blocks - settled.measured.blocks
        assert np.linalg.eigvalsh(gaps).min() >= -1e-12


@FEW
@given(st.integers(0, 10_000))
def test_the_promised_gain_of_a_tape_is_what_it_brings(seed: int) -> None:
    s = solve_site(site(seed, held=2))
    plan = next_tapes(s, count=3, longest_m=12.0)
    assert all(t.gain_m2 > 0.0 and t.after_m <= t.before_m for t in plan.tapes)
    assert s.handle is not None
    for t in plan.tapes[:1]:
        i, j = s.handle.index(t.a), s.handle.index(t.b)
        e = s.handle.places_m[j] - s.handle.places_m[i]
        e = e / np.linalg.norm(e)
        right = np.zeros((3 * len(s.marks), 1))
        right[3 * j : 3 * j + 3, 0], right[3 * i : 3 * i + 3, 0] = e, -e
        column = s.handle.covariance.columns(right)
        q = float((right.T @ column)[0, 0])
        assert t.gain_m2 == pytest.approx(float((column**2).sum()) / (0.025**2 + q), rel=1e-9)


@FEW
@given(st.integers(0, 10_000), st.integers(30, 120))
def test_fronts_agree_with_the_dense_inverse(seed: int, n: int) -> None:
    """Own calculation: numpy's inverse of the whole."""
    rng = np.random.default_rng(seed)
    points = rng.uniform(0.0, 10.0, (n, 2))
    near = np.argsort(np.linalg.norm(points[:, None] - points, axis=2), axis=1)[:, 1:4]
    a, b = np.repeat(np.arange(n), 3), near.ravel()
    columns = np.column_stack([2 * a, 2 * a + 1, 2 * b, 2 * b + 1, np.full(len(a), 2 * n)])
    data = np.vstack([rng.normal(size=columns.shape)]).ravel()
    rows = csr_array((data, columns.ravel(), np.arange(0, data.size + 1, 5)), shape=(len(a), 2 * n + 1))
    group = np.append(np.repeat(np.arange(n), 2), n)
    places_ = np.vstack([points, [[np.nan, np.nan]]])
    scheme = Scheme(rows, group, places_, dense=0)
    entries = scheme.pattern.normal(rows)
    entries[scheme.pattern.diagonal] += 1.0
    full = rows.toarray().T @ rows.toarray() + np.eye(2 * n + 1)
    inverse = np.linalg.inv(full)
    factor = scheme.factor(entries)
    assert factor.inverse() == pytest.approx(inverse[scheme.pattern.rows, scheme.pattern.columns], abs=1e-9)
    right = rng.normal(size=(2 * n + 1, 2))
    assert factor.solve(right) == pytest.approx(inverse @ right, abs=1e-9)


def test_dissection_gives_each_group_once() -> None:
    rng = np.random.default_rng(3)
    points = rng.uniform(0.0, 20.0, (300, 2))
    near = np.linalg.norm(points[:, None] - points, axis=2) < 2.0
    blocks = dissect(points, csr_array(near), np.array([7]))
    assert sorted(np.concatenate([b.groups for b in blocks]).tolist()) == list(range(300))
    assert 7 in blocks[-1].groups and len(blocks) > 8
