"""Added-mass tables are read inside only, and say what they are taken from."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.lift.splash import (
    SplashError,
    cylinder_across,
    disc,
    ellipse,
    perforated,
    perforation_factor,
    plate,
    prism,
    with_height,
)


def test_sides_may_come_in_either_order_and_values_lie_between_the_lines() -> None:
    assert plate(2.0, 1.0).volume_m3 == plate(1.0, 2.0).volume_m3 == pytest.approx(0.757 * np.pi / 4 * 2.0)
    assert plate(1.0, 2.0).volume_m3 / 2.0 < plate(1.0, 2.2).volume_m3 / 2.2 < plate(1.0, 2.5).volume_m3 / 2.5
    assert ellipse(1.0, 1.7).words.startswith("elliptic plate 1 by 1.7 m")


def test_height_adds_and_holes_take_away_and_the_words_keep_count() -> None:
    flat = plate(1.2, 2.0)
    tall = with_height(flat, 2.4, 0.8)
    open_ = perforated(tall, 20.0)
    assert tall.volume_m3 > flat.volume_m3 > 0.0 and open_.volume_m3 < tall.volume_m3
    assert with_height(flat, 2.4, 0.0).volume_m3 == pytest.approx(flat.volume_m3)
    assert open_.words.endswith("raised for a height of 0.8 m, 20 % open")
    assert open_.kg(1025.0) == pytest.approx(1025.0 * open_.volume_m3)
    factors = [perforation_factor(p) for p in np.linspace(0.0, 50.0, 101)]
    assert factors == sorted(factors, reverse=True)


def test_a_long_bar_counts_its_own_volume() -> None:
    assert cylinder_across(0.1, 3.0).volume_m3 == pytest.approx(np.pi * 0.01 * 3.0)
    assert disc(0.5).volume_m3 == pytest.approx(1 / 3)


@pytest.mark.parametrize(
    ("ask", "expected"),
    [
        (lambda: plate(1.0, 11.0), "length over width 11 is beyond the table, which holds from 1 to 10"),
        (lambda: ellipse(1.0, 10.5), "beyond the table"),
        (lambda: prism(1.0, 0.5), "height over side 0.5 is beyond the table"),
        (lambda: prism(1.0, 12.0), "beyond the table"),
        (lambda: perforation_factor(51.0), "51 % open is beyond the table, which holds from 0 to 50 %"),
        (lambda: perforation_factor(-1.0), "beyond the table"),
        (lambda: perforation_factor(float("nan")), "beyond the table"),
        (lambda: cylinder_across(0.5, 2.0), "at least five diameters"),
        (lambda: plate(0.0, 1.0), "side of the plate must be more than 0 m"),
        (lambda: disc(-1.0), "radius of a disc"),
        (lambda: with_height(disc(1.0), 0.0, 1.0), "plan area"),
    ],
)
def test_beyond_the_table_is_refused_in_a_sentence(ask, expected: str) -> None:
    with pytest.raises(SplashError, match=expected):
        ask()
