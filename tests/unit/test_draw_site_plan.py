"""The plan of the site as a drawing: places, ellipses, layers, doubt, names, and its numbers as rows."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from lxml import etree

from oakum.desk.seabed.plan_items import PlanItems, PlanMark, PlanOutline, hull
from oakum.draw.site_key import site_key
from oakum.draw.site_labels import Room, place
from oakum.draw.site_plan import LAYERS, auto_factor, site_plan, site_plan_rows
from oakum.draw.site_view import SiteView, places_of, sheet_view, whole_view
from oakum.draw.theme import PRINT
from oakum.seabed.network import Site, SiteSolution, Tape, Twin, solve_site
from oakum.seabed.network.site import Datum, Depth

SVG = "{http://www.w3.org/2000/svg}"
PLACES = {"A": (0, 0, -10), "B": (10, 0, -10.5), "C": (10, 8, -10.2), "D": (0, 8, -9.8), "P": (4, 3, -10.4)}
ITEMS = PlanItems(
    marks={
        "A": PlanMark(name="A", what="datum"),
        "P": PlanMark(name="P", what="find", find="f", number="T-0001", title="capstan <oak>"),
    },
    squares=(PlanOutline(name="1", points=((0, 0), (5, 0), (5, 5), (0, 5))),),
    true_north_deg=30.0,
)


@pytest.fixture(scope="module")
def solution() -> SiteSolution:
    names = list(PLACES)
    tapes = [
        Tape(id=f"{a}{b}", a=a, b=b, length_m=math.dist(PLACES[a], PLACES[b]), sd_m=0.02, text="tape")
        for i, a in enumerate(names)
        for b in names[i + 1 :]
    ]
    tapes[0] = replace(tapes[0], length_m=tapes[0].length_m + 1.0)
    depths = [
        Depth(id=f"d{n}", mark=n, depth_m=-z, sd_m=0.05, water_level_m=0.0, text="depth")
        for n, (_, _, z) in PLACES.items()
    ]
    held = (Datum(mark="A", x_m=0.0, y_m=0.0), Datum(mark="B", y_m=0.0))
    return solve_site(Site(observations=(*tapes, *depths), datums=held, anticlockwise=("A", "B", "C")))


@pytest.fixture(scope="module")
def view(solution: SiteSolution) -> SiteView:
    return whole_view(places_of(solution, ITEMS), 600.0, 450.0)


def parsed(svg: str) -> etree._Element:
    return etree.fromstring(svg.encode())


def groups(root: etree._Element) -> set[str]:
    return {g.get("id", "").removeprefix("site-plan-") for g in root.iter(f"{SVG}g") if g.get("id")}


def test_a_metre_on_the_site_is_a_metre_at_the_scale_of_the_drawing_and_north_is_up(view: SiteView) -> None:
    (ax, ay), (bx, by) = view.at(0, 0), view.at(3, 4)
    assert math.hypot(bx - ax, by - ay) == pytest.approx(5 * view.per_m)
    assert bx > ax and by < ay
    sheet = sheet_view(0, 0, 50, 500, 400)
    assert sheet.per_m == pytest.approx(72 / 0.0254 / 50)


def test_ellipses_have_the_half_axes_and_direction_of_the_covariance(solution: SiteSolution, view: SiteView) -> None:
    mark = solution.mark("P")
    near = replace(view, per_m=900.0, x_m=mark.x_m, y_m=mark.y_m)
    root = parsed(site_plan(solution, ITEMS, near, factor=1.0).svg)
    drawn = [e for e in root.iter(f"{SVG}ellipse") if e.get("transform", "").startswith("translate(300 225)")]
    assert len(drawn) == 1
    values, vectors = np.linalg.eigh(mark.cov_m2[:2, :2])
    k = math.sqrt(5.991464547107979)  # chi-square, 2 degrees, 95 %: table value
    assert float(drawn[0].get("rx")) == pytest.approx(900 * k * math.sqrt(values[1]), abs=0.006)
    assert float(drawn[0].get("ry")) == pytest.approx(900 * k * math.sqrt(values[0]), abs=0.006)
    turned = float(drawn[0].get("transform").split("rotate(")[1].rstrip(")"))
    wanted = -math.degrees(math.atan2(vectors[1, 1], vectors[0, 1]))  # the page counts clockwise from east
    assert abs((turned - wanted + 90) % 180 - 90) < 0.01


def test_every_layer_is_a_group_that_can_be_left_out_and_what_is_in_doubt_stays(
    solution: SiteSolution, view: SiteView
) -> None:
    whole = groups(parsed(site_plan(solution, ITEMS, view, factor=20.0).svg))
    assert {"grid", "squares", "tapes", "ellipses", "true", "doubt", "signs", "names", "world", "furniture"} <= whole
    bare = groups(parsed(site_plan(solution, ITEMS, view, layers=("datums", "finds", "details")).svg))
    assert not bare & {"grid", "squares", "tapes", "ellipses", "names"}
    assert {"true", "doubt", "signs"} <= bare
    only = parsed(site_plan(solution, ITEMS, view, layers=("finds",)).svg)
    assert [g.get("class") for g in only.iter(f"{SVG}g") if g.get("class")] == ["find"]


def test_the_factor_of_the_dashed_ellipses_is_printed_and_round(solution: SiteSolution, view: SiteView) -> None:
    plan = site_plan(solution, ITEMS, view)
    assert plan.factor is not None and f"\u00d7{plan.factor:g}" in plan.svg
    assert auto_factor([0.2]) == 50.0 and auto_factor([14.0, 20.0, 30.0]) == 1.0 and auto_factor([]) == 1.0
    assert "at true scale" in site_plan(solution, ITEMS, view, factor=1.0).svg


def test_a_misread_tape_is_heavy_dashed_and_numbered(solution: SiteSolution, view: SiteView) -> None:
    assert [s.id for s in solution.suspects][:1] == ["AB"]
    root = parsed(site_plan(solution, ITEMS, view).svg)
    doubt = next(g for g in root.iter(f"{SVG}g") if g.get("id") == "site-plan-doubt")
    heavy = [e for e in doubt.iter(f"{SVG}line") if e.get("stroke-dasharray") == "8 3"]
    assert len(heavy) == len({s.id for s in solution.suspects})
    assert "1" in [e.text for e in doubt.iter(f"{SVG}text")]


def test_a_second_place_is_drawn_as_a_ghost_and_stands_in_the_rows(solution: SiteSolution, view: SiteView) -> None:
    twin = Twin("P", (5.0, -2.0, -10.4), 5.1, 0.0, "P fits a second place")
    both = replace(solution, twins=(twin,))
    svg = site_plan(both, ITEMS, whole_view(places_of(both, ITEMS), 600, 450)).svg
    assert "P or here?" in svg and svg.count('stroke-dasharray="3 2"') >= 1
    rows = site_plan_rows(both, ITEMS)
    line = next(line for line in rows.lines if line[0] == "P")
    assert "5.00, \u22122.00, \u221210.40" in line[-1] and "capstan <oak>" in line[1]


def test_the_drawing_is_well_formed_says_what_it_shows_and_links_every_mark(
    solution: SiteSolution, view: SiteView
) -> None:
    svg = site_plan(solution, ITEMS, view, mark="P", address=lambda name: f"?mark={name}&x=1").svg
    root = parsed(svg)
    links = list(root.iter(f"{SVG}a"))
    assert root.get("role") == "group" and {a.get("data-mark") for a in links} == set(PLACES)
    assert all(float(a[0].get("r")) * 2 / 96 * 25.4 >= 12 for a in links)
    described = root.find(f"{SVG}desc").text
    assert "5 marks" in described and "readings in doubt" in described
    assert parsed(site_plan(solution, ITEMS, view).svg).get("role") == "img"


def test_print_takes_black_ink_only(solution: SiteSolution, view: SiteView) -> None:
    root = parsed(site_plan(solution, ITEMS, view, theme=PRINT).svg)
    inks = {e.get(a) for e in root.iter() for a in ("stroke", "fill") if e.get(a)}
    assert inks <= {"#000000", "#444444", "#b8b8b8", "#ffffff", "none"}


def test_names_keep_clear_of_marks_and_of_each_other() -> None:
    room = Room(200, 100)
    room.cover((95, 45, 105, 55))
    held = [place(room, 100, 50, 60, 12, 6) for _ in range(9)]
    found = [one for one in held if one is not None]
    assert 2 <= len(found) < 9
    boxes = [(x, y - 9.6, x + 60, y - 9.6 + 11.4) for x, y in found]
    for i, a in enumerate(boxes):
        for b in boxes[i + 1 :]:
            assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


def test_a_window_moves_by_a_quarter_and_keeps_its_middle_when_nearer(view: SiteView) -> None:
    assert view.moved("right").x_m - view.x_m == pytest.approx(view.across_m / 4)
    assert view.moved("up").y_m > view.y_m
    assert view.moved("in").across_m == pytest.approx(view.across_m / 1.5)
    assert view.moved("in").moved("out").across_m == pytest.approx(view.across_m)
    assert view.nearer(1e9).across_m > 0 and view.moved("sideways") == view
    assert whole_view([], 300, 300).across_m == pytest.approx(10.0)


def test_the_key_names_every_sign_in_words() -> None:
    told = site_key(inside=0.95, factor=20.0, width=300.0)
    for words in ("datum", "find", "held as known", "95 % ellipse", "20 times", "doubted", "set aside", "fits here"):
        assert words in told
    assert "times" not in site_key(inside=0.95, factor=None, width=300.0)
    assert set(LAYERS) >= {"squares", "datums", "finds", "timbers", "tapes", "ellipses"}


def test_the_hull_runs_anticlockwise_round_every_point() -> None:
    points = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0), (1.0, 1.0), (1.0, 0.0)]
    assert hull(points) == ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    assert hull([(1.0, 1.0), (0.0, 0.0)]) == ((0.0, 0.0), (1.0, 1.0))
