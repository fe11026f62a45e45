"""Laws of a plan at sea: of frames in the weighing, of turning on edge, of ballast."""

from __future__ import annotations

from functools import cache

import numpy as np
from hypothesis import example, given, settings
from hypothesis import strategies as st

from oakum.ground.solids import Placement
from oakum.lift import CellReading, Weighing, parse_body, weighing_of
from oakum.lift.cradle import Frame, Member, frame_parts, rectangle, timber_grade
from oakum.lift.raising.lighter import with_ballast
from oakum.lift.raising.on_edge import turns_deg
from oakum.lift.seaway import SeaAsked, SeawayInputs
from oakum.lift.seaway.inputs import seaway_questions
from oakum.lift.splash import TipPerHeight, simplified
from oakum.lift.weights.sums import without_frame

BLOCK = """
title = "Block"
water = "1020..1030 kg/m3"
hook_above_top = "2 m"
[[part]]
name = "block"
shape = "box"
length = "1.0 ± 0.02 m"
width = "0.7 ± 0.02 m"
height = "0.4 ± 0.02 m"
density = "2300 ± 80 kg/m3"
place = { x = "0 m", z = "0 m" }
"""
degrees = st.floats(-180.0, 180.0)


@cache
def alone() -> Weighing:
    return weighing_of(parse_body(BLOCK), rng=np.random.default_rng(2), draws=400, seed=2)


def bearer(side_m: float) -> Frame:
    """Return a frame of one bearer of square section."""
    section, wood = rectangle(side_m, side_m), timber_grade("C24")
    return Frame("bearer", (Member("b0", "bearer", section, wood, (0.0, -0.6, -0.3), (0.0, 0.6, -0.3)),))


@st.composite
def frames(draw: st.DrawFn) -> Frame:
    beam = rectangle(draw(st.floats(0.05, 0.2)), draw(st.floats(0.05, 0.2)))
    count = draw(st.integers(1, 4))
    wood = timber_grade("C24")
    return Frame(
        "bearers",
        tuple(
            Member(f"b{i}", "bearer", beam, wood, (0.3 * i, -0.6, -0.3), (0.3 * i, 0.6, -0.3))
            for i in range(count)
        ),
    )


@settings(max_examples=12, deadline=None)
@given(frames())
def test_a_frame_adds_itself_to_every_draw_and_leaves_the_find_as_it_was(frame: Frame) -> None:
    made = weighing_of(
        parse_body(BLOCK), rng=np.random.default_rng(2), draws=400, seed=2, frame=frame_parts(frame)
    ).sums
    np.testing.assert_array_equal(without_frame(made).submerged_kg, alone().sums.submerged_kg)
    np.testing.assert_allclose(made.submerged_kg - alone().sums.submerged_kg, made.frame_submerged_kg)
    np.testing.assert_allclose(made.mass_kg - alone().sums.mass_kg, made.frame_clear_kg)
    assert np.all(made.frame_clear_kg > 0.0)


@settings(max_examples=6, deadline=None)
@given(frames(), st.floats(-2.0, 2.0))
@example(bearer(0.125), -2.0)
@example(bearer(0.125), 1.875)
def test_what_is_not_known_of_the_frame_never_makes_the_hook_lighter_nor_the_line_tauter(
    frame: Frame, off_sd: float
) -> None:
    spread = alone().report.state("submerged").load_kg
    kg = spread.best + off_sd * spread.sd

    def clear(said: bool | None) -> tuple[float, float]:
        reading = CellReading(kg, 0.5 * spread.sd, "reading", with_frame=said)
        made = weighing_of(
            parse_body(BLOCK), rng=np.random.default_rng(2), draws=3000, seed=2, readings=(reading,),
            frame=frame_parts(frame),
        )  # fmt: skip
        find = without_frame(made.sums).submerged_kg
        heavy, light = (
            float(np.average(find + (0.0 if use.extra_kg is None else use.extra_kg), weights=use.weights))
            for use in (made.use, made.slack)
        )
        return heavy, light

    unsaid, hung, not_hung = clear(None), clear(True), clear(False)
    assert unsaid[0] >= max(hung[0], not_hung[0]) - 1e-6
    assert unsaid[1] <= min(hung[1], not_hung[1]) + 1e-6


@settings(max_examples=100, deadline=None)
@given(degrees, degrees, degrees)
def test_turns_read_from_a_matrix_make_it_again(x: float, y: float, z: float) -> None:
    def matrix(a: float, b: float, c: float) -> np.ndarray:
        placed = Placement(0.0, 0.0, 0.0, turn_x_deg=a, turn_y_deg=b, turn_z_deg=c)
        return np.asarray(placed.matrix())[:3, :3]

    np.testing.assert_allclose(matrix(*turns_deg(matrix(x, y, z))), matrix(x, y, z), atol=1e-6)


@settings(max_examples=15, deadline=None)
@given(st.floats(0.05, 0.5), st.floats(10.0, 500.0), st.floats(1.0, 500.0))
def test_more_ballast_never_lets_the_line_go_slack_sooner(hs_m: float, some_kg: float, more_kg: float) -> None:
    sea = SeaAsked(depth_m=14.0, hoist_m_s=0.2, line_n_m=1e6, tip=TipPerHeight(0.3, 0.3, 0.4))

    def ratio(kg: float) -> float:
        inputs = SeawayInputs(with_ballast(alone(), kg), alone().use, alone().slack, sea, hook_kg=5000.0)
        return max(c.slack_ratio for c in simplified(seaway_questions(inputs).slack, hs_m, 5.0).cases)

    assert ratio(some_kg + more_kg) <= ratio(some_kg) + 1e-9
