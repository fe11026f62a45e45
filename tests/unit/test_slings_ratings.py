"""What a tag is worth in a given use, and what is said where something is not known."""

from __future__ import annotations

from dataclasses import replace

import pytest

from oakum.ground.quantities import QuantityError, read
from oakum.lift.slings import Fitting, Leg, SlingError, fitting_rating, leg_rating, nearest, set_factor
from oakum.lift.slings.factors import basket, bend, choke_angle, shackle

PLAIN = Leg("fore", (0.0, 0.0, 0.0), 1000.0, "polyester")
WIRE = replace(PLAIN, kind="wire rope", diameter_m=0.012)


def test_a_straight_leg_bears_what_its_tag_says() -> None:
    rating = leg_rating(PLAIN, "EU")
    assert rating.capacity_kg == 1000.0 and rating.words == "WLL 1,000 kg" and rating.rule.key == "tag"


def test_no_tag_no_rating_even_where_a_table_knows_the_rope() -> None:
    rope = replace(PLAIN, wll_kg=None, kind="natural fibre rope", diameter_m=0.0254)
    rating = leg_rating(rope, "US")
    assert rating.capacity_kg is None
    assert "no tag, no rating" in rating.objections[0] and "816 kg at most" in rating.objections[0]


def test_a_ton_without_a_name_is_no_wll() -> None:
    with pytest.raises(QuantityError, match="long ton"):
        read("2 ton", "mass")


@pytest.mark.parametrize("wll", [0.0, -5.0, float("nan"), float("inf")])
def test_a_wll_of_nothing_is_refused(wll: float) -> None:
    with pytest.raises(SlingError, match="WLL must be greater than zero"):
        leg_rating(replace(PLAIN, wll_kg=wll), "EU")


def test_factors_multiply_and_the_severest_names_the_rule() -> None:
    leg = replace(PLAIN, kind="polyamide", hitch="choke", choke_angle_deg=75.0)
    rating = leg_rating(leg, "EU")
    assert rating.capacity_kg == pytest.approx(1000.0 * 0.8 * 0.74 * 0.85)
    assert rating.rule.key == "choke angle"
    assert "0.80 (choke hitch)" in rating.words and "0.85 (wet polyamide)" in rating.words


def test_an_unknown_angle_of_choke_objects_and_takes_the_worst() -> None:
    rating = leg_rating(replace(PLAIN, hitch="choke"), "US")
    assert rating.capacity_kg == pytest.approx(1000.0 * 0.75 * 0.49)
    assert "angle of choke is not known" in rating.objections[0]


def test_a_tag_for_the_choke_is_not_reduced_twice() -> None:
    leg = replace(PLAIN, hitch="choke", wll_for="choke", choke_angle_deg=130.0)
    assert leg_rating(leg, "EU").capacity_kg == pytest.approx(1000.0)
    wrong = leg_rating(replace(PLAIN, wll_for="choke"), "EU")
    assert wrong.capacity_kg is None and "type the WLL for that" in wrong.objections[0]


def test_basket_hitches() -> None:
    leg = replace(PLAIN, hitch="basket", basket_deg=60.0)
    assert leg_rating(leg, "US").capacity_kg == pytest.approx(1732.05, abs=0.01)
    assert leg_rating(leg, "EU").capacity_kg == pytest.approx(1400.0)
    assert leg_rating(replace(leg, wll_for="basket"), "US").capacity_kg == pytest.approx(866.03, abs=0.01)
    flat = leg_rating(replace(leg, basket_deg=20.0), "EU")
    assert flat.capacity_kg == 0.0 and "too flat" in flat.objections[0]
    assert leg_rating(replace(leg, basket_deg=None), "EU").capacity_kg is None


def test_bent_wire_rope() -> None:
    leg = replace(WIRE, bend_diameter_m=0.048)
    assert leg_rating(leg, "EU").capacity_kg == pytest.approx(750.0)
    tight = leg_rating(replace(WIRE, bend_diameter_m=0.010), "EU")
    assert tight.capacity_kg == 0.0 and "tighter than its own diameter" in tight.objections[0]
    blind = leg_rating(replace(WIRE, hitch="basket", basket_deg=90.0), "EU")
    assert blind.capacity_kg is None and "how tightly" in blind.objections[0]
    web = leg_rating(replace(PLAIN, bend_diameter_m=0.03), "EU")
    assert web.capacity_kg == 1000.0 and "ask its maker" in web.questions[0]


def test_a_table_only_lowers() -> None:
    chain = replace(PLAIN, kind="chain grade 80", diameter_m=0.007)
    assert leg_rating(chain, "EU").capacity_kg == 1000.0  # the table says 1,588 kg
    more = leg_rating(replace(chain, wll_kg=2000.0), "EU")
    assert more.capacity_kg == pytest.approx(3500 * 0.45359237)
    assert more.rule.key == "grade 80 table" and "which is right?" in more.questions[0]
    unmeasured = leg_rating(replace(chain, diameter_m=None), "EU")
    assert unmeasured.capacity_kg == 1000.0 and "could not be compared" in unmeasured.questions[0]
    thin = leg_rating(replace(chain, diameter_m=0.004), "EU")
    assert "thinner than any" in thin.questions[0]
    assert "what it is made of" in leg_rating(replace(PLAIN, kind="other"), "EU").questions[0]


def test_a_worn_chain_is_compared_with_its_nominal_size() -> None:
    worn, thinner = nearest("chain_grade_80", 0.0098), nearest("chain_grade_80", 0.0094)
    assert worn is not None and thinner is not None
    assert (worn.size, thinner.size) == ("3/8", "5/16")


def test_fittings() -> None:
    bow = Fitting("shackle", "bow", 2000.0)
    assert fitting_rating(bow, 0.0).capacity_kg == 2000.0
    assert fitting_rating(bow, 30.0).capacity_kg == 1400.0
    assert fitting_rating(bow, 95.0).capacity_kg == 0.0
    unknown = fitting_rating(bow, None)
    assert unknown.capacity_kg is None and "is not known" in unknown.objections[0]
    unmarked = fitting_rating(replace(bow, wll_kg=None), 0.0)
    assert unmarked.capacity_kg is None and "no mark, no rating" in unmarked.objections[0]
    plain = Fitting("plain eyebolt", "eye", 500.0)
    assert fitting_rating(plain, 4.0).capacity_kg == 500.0
    assert fitting_rating(plain, 20.0).capacity_kg == 0.0
    assert fitting_rating(Fitting("shoulder eyebolt", "eye", 500.0), 20.0).capacity_kg == 325.0
    assert fitting_rating(Fitting("swivel eye", "eye", 500.0), 60.0).capacity_kg == 500.0
    welded = fitting_rating(Fitting("welded eye", "pad", 500.0), None)
    assert welded.capacity_kg == 500.0 and "competent person" in welded.questions[0]
    assert fitting_rating(Fitting("ring", "master", 3000.0), None).capacity_kg == 3000.0


def test_impossible_angles_and_sets_are_refused() -> None:
    for bad in (lambda: choke_angle(190.0), lambda: basket(0.0, "EU"), lambda: shackle(-1.0),
                lambda: bend(0.0, 0.01), lambda: set_factor("set EU", 5, 60.0)):  # fmt: skip
        with pytest.raises(SlingError):
            bad()
    assert set_factor("set EU", 4, 29.0) is None and set_factor("set US", 2, 29.9) is None


def test_one_longer_leg_counts_as_two() -> None:
    factor = set_factor("set EU", 4, 60.0, one_longer=True)
    assert factor is not None and (factor.value, factor.legs_counted) == (1.4, 2)
