"""The plan of the site: marks with their ellipses, tapes, squares and drawings in layers, with its numbers as rows."""

from __future__ import annotations

import statistics
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from oakum.desk.seabed.plan_items import PlanItems, PlanOutline, PlanPicture
from oakum.draw import site_furniture, site_marks, site_readings, svg
from oakum.draw.halo import haloed
from oakum.draw.rows import Rows
from oakum.draw.scale import decimals, length_words
from oakum.draw.site_labels import Room
from oakum.draw.site_view import SiteView
from oakum.draw.theme import PAGE, Theme
from oakum.seabed.network import SiteSolution
from oakum.seabed.network.names import natural

LAYERS: dict[str, str] = {
    "grid": "Grid",
    "squares": "Squares",
    "drawings": "Drawings",
    "timbers": "Outlines of finds",
    "tapes": "Tapes",
    "ellipses": "Ellipses, exaggerated",
    "datums": "Datums",
    "details": "Details",
    "finds": "Finds",
    "names": "Names",
}
"""Layers one may leave out. Ellipses at true scale, doubtful readings and second places are always drawn."""

FACTORS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0)
_LOOKS_LIKE = 14.0


@dataclass(frozen=True, slots=True)
class SitePlan:
    """A drawn plan: the SVG, how many times the dashed ellipses are exaggerated, how many names found no room."""

    svg: str
    factor: float | None
    without_name: int


def site_plan(
    solution: SiteSolution,
    items: PlanItems,
    view: SiteView,
    *,
    layers: Iterable[str] = tuple(LAYERS),
    factor: float | None = None,
    mark: str = "",
    inside: float = 0.95,
    address: Callable[[str], str] | None = None,
    picture: Callable[[PlanPicture], str] | None = None,
    said: tuple[str, ...] = (),
    theme: Theme = PAGE,
    title: str = "Plan of the site",
    key: str = "site-plan",
) -> SitePlan:
    """Draw what lies in the window.

    `factor` None takes a round one that shows the ellipses, `mark` is the one looked at, `address` makes every mark a
    link, `picture` tells where the picture of a drawing is (None: outlines only), `said` stands under the scale bar.
    Every layer is a group with the id `key-layer`.
    """
    shown = [name for name in LAYERS if name in set(layers)]
    placed = site_marks.placed_marks(solution, items, view, shown)
    times = _factor(placed, view, inside, factor) if "ellipses" in shown else None
    lines = site_readings.lines_of(solution, view, site_readings.suspects_in_order(solution))
    room = _room(solution, placed, view, theme, mark)
    names, without = site_marks.names(placed, room, theme, mark) if "names" in shown else ("", 0)
    world = {
        "ground": svg.element(
            "rect",
            x=-0.6 * view.width,
            y=-0.6 * view.height,
            width=2.2 * view.width,
            height=2.2 * view.height,
            fill=theme.paper,
        ),
        "drawings": _pictures(items, view, picture) + _outlines(items.drawings, view, theme, "6 2 1 2"),
        "grid": site_furniture.grid(view, theme),
        "squares": _outlines(items.squares, view, theme, None, 2.0),
        "tapes": site_readings.tape_lines(lines, theme),
        "timbers": _outlines(items.timbers, view, theme, None, 1.6, fill=True),
        "true": site_marks.ellipses(placed, view, theme, inside, 1.0),
        "ellipses": site_marks.ellipses(placed, view, theme, inside, times) if times and times != 1.0 else "",
        "doubt": site_readings.aside_lines(lines, theme)
        + site_readings.suspect_lines(lines, theme)
        + site_marks.ghosts(solution, view, theme),
        "signs": _signs(placed, theme),
        "chosen": "".join(site_marks.chosen(one, theme) for one in placed if one.item.name == mark),
        "names": names,
        "links": site_marks.links(placed, address) if address else "",
    }
    kept = {
        name: drawn for name, drawn in world.items() if drawn and (name not in LAYERS or name in shown)
    }
    drawn = f"dashed ones drawn \u00d7{times:g}" if times and times != 1.0 else "at true scale"
    notes = (f"ellipses: {100 * inside:g} %, {drawn}", *said)
    furniture = (
        (site_furniture.grid_figures(view, theme) if "grid" in shown else "")
        + site_furniture.scale_bar(view, theme, notes)
        + site_furniture.north_arrow(view, theme, items.true_north_deg)
    )
    clip = f"{svg.identifier(key)}-window"
    drawing = svg.document(
        view.width,
        view.height,
        svg.element(
            "clipPath", svg.element("rect", width=view.width, height=view.height, x=0.0, y=0.0), id=clip
        ),
        svg.group(
            svg.group(
                *(svg.group(drawn, id=f"{svg.identifier(key)}-{name}") for name, drawn in kept.items()),
                id=f"{svg.identifier(key)}-world",
            ),
            clip_path=f"url(#{clip})",
        ),
        svg.group(furniture, id=f"{svg.identifier(key)}-furniture", pointer_events="none"),
        title=title,
        description=_described(solution, items, view, times, inside),
        key=key,
        font=theme.font,
        role="group" if address else "img",
    )
    return SitePlan(drawing, times, without)


def site_plan_rows(solution: SiteSolution, items: PlanItems, inside: float = 0.95) -> Rows:
    """Return every solved mark with its place and how well it is known."""
    lines = []
    for mark in sorted(solution.marks, key=lambda m: natural(m.name)):
        shape, item = mark.ellipse(inside), items.of(mark.name)
        what = " ".join(part for part in (item.number, item.title) if part) or item.what
        remarks = [f"{mark.held} held"] if mark.held else []
        remarks += [mark.weak] if mark.weak else []
        remarks += [
            f"fits as well at {decimals(t.place_m[0], 2)}, {decimals(t.place_m[1], 2)}, {decimals(t.place_m[2], 2)}"
            for t in solution.twins
            if t.mark == mark.name and t.place_m is not None
        ]
        lines.append(
            (
                mark.name,
                what,
                *(decimals(value, 3) for value in mark.place),
                *(decimals(1000 * sd, 0) for sd in mark.sd_m),
                f"{decimals(1000 * shape.major_m, 0)} \u00d7 {decimals(1000 * shape.minor_m, 0)}",
                f"{shape.bearing_deg:.0f}\u00b0",
                str(mark.readings),
                "; ".join(remarks) or "\u2013",
            )
        )
    head = (
        "mark", "what", "x east, m", "y north, m", "z up, m", "sd x, mm", "sd y, mm", "sd z, mm",
        f"half axes {100 * inside:g} %, mm", "towards", "readings", "remark",
    )  # fmt: skip
    return Rows(f"Places of {len(lines)} marks in the grid of the site", head, tuple(lines))


def auto_factor(major_units: Iterable[float]) -> float:
    """Return the round factor at which the middle ellipse becomes large enough to be seen."""
    held = [value for value in major_units if value > 0]
    if not held:
        return 1.0
    wanted = _LOOKS_LIKE / statistics.median(held)
    return max((f for f in FACTORS if f <= wanted), default=1.0)


def _factor(
    placed: list[site_marks.Placed], view: SiteView, inside: float, factor: float | None
) -> float:
    if factor is not None:
        return factor
    seen = [one for one in placed if view.sees(one.x, one.y)]
    return auto_factor(one.solved.ellipse(inside).major_m * view.per_m for one in seen)


def _room(
    solution: SiteSolution, placed: list[site_marks.Placed], view: SiteView, theme: Theme, mark: str
) -> Room:
    room = Room(view.width, view.height)
    size = theme.text_size
    room.cover((0, view.height - 4 * size, min(0.6 * view.width, 330), view.height))
    room.cover((view.width - 70, 0, view.width, 8 * size))
    for twin in solution.twins:
        if twin.place_m is not None:
            x, y = view.at(twin.place_m[0], twin.place_m[1])
            room.cover((x - 7, y - size, x + 12 + theme.text_width(f"{twin.mark} or here?"), y + size))
    for one in placed:
        if one.item.name == mark:
            room.cover((one.x - 13, one.y - 13, one.x + 13, one.y + 13))
        room.cover((one.x - 5, one.y - 5, one.x + 5, one.y + 5))
    return room


def _signs(placed: list[site_marks.Placed], theme: Theme) -> str:
    return "".join(
        svg.group(
            site_marks.sign(
                one.item.what, one.x, one.y, theme, held=bool(one.solved.held), weak=bool(one.solved.weak)
            ),
            class_=one.item.what,
        )
        for one in reversed(placed)
    )


def _pictures(items: PlanItems, view: SiteView, picture: Callable[[PlanPicture], str] | None) -> str:
    drawn = []
    for one in items.pictures if picture else ():
        left, top = view.at(one.west_m, one.north_m)
        right, low = view.at(one.east_m, one.south_m)
        drawn.append(
            svg.element(
                "image",
                href=picture(one) if picture else None,
                x=left,
                y=top,
                width=right - left,
                height=low - top,
                preserveAspectRatio="none",
                opacity=0.6,
                aria_label=one.name,
            )
        )
    return "".join(drawn)


def _outlines(
    outlines: Iterable[PlanOutline],
    view: SiteView,
    theme: Theme,
    dash: str | None,
    width: float = 1.0,
    *,
    fill: bool = False,
) -> str:
    drawn = []
    for one in outlines:
        points = [view.at(*point) for point in one.points]
        style: dict[str, str | float | None] = {
            "stroke": theme.ink,
            "stroke_width": width,
            "stroke_dasharray": dash,
            "stroke_linejoin": "round",
            "fill": theme.tone if fill and one.closed else "none",
            "fill_opacity": 0.08 if fill and one.closed else None,
        }
        drawn.append(svg.polyline(points, close=one.closed, **style))
        size = 0.9 * theme.text_size
        style = {"font_size": size, "font_style": "italic"}
        if fill:
            x, y = (sum(p[i] for p in points) / len(points) for i in (0, 1))
            drawn.append(haloed(x, y - 0.5 * size, one.name, theme, text_anchor="middle", **style))
        else:
            left, top = min(points, key=lambda p: p[0] + p[1])
            drawn.append(haloed(left + 5, top + 1.2 * size, one.name, theme, **style))
    return "".join(drawn)


def _described(
    solution: SiteSolution, items: PlanItems, view: SiteView, times: float | None, inside: float
) -> str:
    west, south, east, north = view.bounds_m
    kinds = [items.of(mark.name).what for mark in solution.marks]
    said = [
        f"{len(kinds)} marks: {kinds.count('datum')} datums, {kinds.count('detail')} details, "
        f"{kinds.count('find')} on finds",
        f"window from {decimals(west, 2)} to {decimals(east, 2)} m east and {decimals(south, 2)} to "
        f"{decimals(north, 2)} m north, {length_words(view.across_m)} across; site north is up",
    ]
    majors = [mark.ellipse(inside).major_m for mark in solution.marks]
    if majors:
        least, most = 1000 * min(majors), 1000 * max(majors)
        said.append(f"longest half axes of the {100 * inside:g} % ellipses {least:.0f} to {most:.0f} mm")
    if times:
        said.append(f"dashed ellipses are drawn {times:g} times as large")
    if solution.suspects:
        said.append(f"{len(solution.suspects)} readings in doubt")
    if solution.twins:
        said.append(f"{len(solution.twins)} second places that fit as well")
    return "; ".join(said) + "."
