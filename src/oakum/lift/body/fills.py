"""Reading what a part is made of, what clings to it and what fills it."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches

from oakum.ground.estimate import Estimate, exact
from oakum.ground.materials import materials
from oakum.lift.body.cursor import Cursor
from oakum.lift.body.model import Coat, Outlet, SedimentFill, Stuff, WaterFill

Own = Mapping[str, Stuff]
"""The file's own `[material.NAME]` tables."""


def read_stuff(table: Cursor, own: Own, *, needed: bool = True) -> Stuff | None:
    """Read material, density, basic_density or umax; None (and a problem if `needed`) where there is none."""
    name = table.text("material")
    given = _given(table, name)
    if given is not None:
        return given
    if not name:
        if needed:
            table.problem("material", 'is missing: write one from the table, such as material = "oak"')
        return None
    if name in own:
        return own[name]
    known = materials()
    found = known.get(name) or known.get(name.lower())
    if found is None:
        close = get_close_matches(name.lower(), list(known), n=1, cutoff=0.6)
        hint = f' Did you mean "{close[0]}"?' if close else ""
        table.problem(
            "material",
            f'the density of "{name}" is not known.{hint} Or write it with the part, such as density = '
            '"2000..2600 kg/m3" (waterlogged wood: basic_density = "450..560 kg/m3" or umax = "185..400 %")',
        )
        return None
    if found.kind == "wood":
        return Stuff(name, basic_kg_m3=found.density_kg_m3.labelled(f"basic density of {name}"))
    return Stuff(name, density_kg_m3=found.density_kg_m3.labelled(f"density of {name}"))


def _given(table: Cursor, name: str) -> Stuff | None:
    """Return the stuff whose density stands in the table itself.

    A density that is wrong has been noted; the stand-in keeps the reading going and is never weighed.
    """
    ways = [key for key in ("density", "basic_density", "umax") if table.has(key)]
    if not ways:
        return None
    what = name or table.what
    if len(ways) > 1:
        table.problem(ways[1], f"{' and '.join(ways)} say the same thing twice: keep one")
    if ways[0] == "density":
        density = table.estimate("density", "density", label=f"density of {what}", needed=True)
        return Stuff(what, density_kg_m3=density or exact(1.0))
    if ways[0] == "basic_density":
        basic = table.estimate("basic_density", "density", label=f"basic density of {what}", needed=True)
        return Stuff(what, basic_kg_m3=_within(table, basic) or exact(1.0))
    umax = table.estimate("umax", "fraction", label=f"Umax of {what}", needed=True)
    return Stuff(what, umax=umax or exact(1.0))


def _within(table: Cursor, basic: Estimate | None) -> Estimate | None:
    if basic is not None and basic.quantile(0.999) >= 1450.0:
        table.problem(
            "basic_density",
            "is dry mass over wet volume and lies well below that of the cell wall, 1500 kg/m3 "
            '(sound oak about 560 kg/m3); if you mean the wet density write density = "..."',
        )
        return None
    return basic


def read_coat(table: Cursor | None, part: str, own: Own) -> Coat | None:
    """Read a coat of concretion."""
    if table is None:
        return None
    thickness = table.estimate("thickness", "length", needed=True)
    covers = table.share("covers")
    if not table.has("covers"):
        table.problem("covers", 'is missing: write the share of the surface with crust, such as "80..100 %"')
    elif covers is None:
        table.problem("covers", 'must be a share with a number, such as "80..100 %"; if not known "0..100 %"')
    over = table.choice("over", ("all", "sides", "outside"), default="all")
    stuff = read_stuff(table, own)
    table.finish()
    if thickness is None or stuff is None or covers is None:
        return None
    return Coat(thickness, stuff, covers.labelled(f"{part}: share under crust"), over)


def read_water_fill(table: Cursor) -> WaterFill:
    """Read whether water is held, and how it gets out."""
    return WaterFill(_held(table), _outlet(table))


def _held(table: Cursor) -> Estimate | None:
    value = table.raw("held")
    if isinstance(value, str) and value.strip().lower() in ("yes", "no", "not known"):
        return {"yes": exact(1.0), "no": exact(0.0), "not known": None}[value.strip().lower()]
    if value is None:
        return None
    if isinstance(value, bool):
        table.problem("held", 'write "yes", "no", "not known" or a share such as "40..80 %", in quotes')
        return None
    found = table.share("held")
    return found.labelled(f"{table.what}: share of water held") if found else None


def _outlet(table: Cursor) -> Outlet | None:
    holes = table.table_of("drain_holes", f"drain holes of {table.what}")
    floor = table.table_of("open_floor", f"open floor of {table.what}")
    if holes is not None and floor is not None:
        table.problem("open_floor", "give drain_holes or open_floor, not both: keep the larger opening")
    if holes is not None:
        diameter = holes.estimate("diameter", "length", needed=True)
        height = holes.estimate("height", "length", needed=True, sign=True)
        outlet = Outlet(holes.number("count"), diameter, height, None, holes.share("open_share"))
        holes.finish()
        return outlet if diameter is not None and height is not None else None
    if floor is not None:
        share = floor.share("share")
        if share is None or share.quantile(0.001) <= 0.0:
            floor.problem("share", 'is missing or zero: write the open share of the floor, such as "20 %"')
        outlet = Outlet(0, None, None, share, floor.share("open_share"))
        floor.finish()
        return outlet if share is not None else None
    return None


def read_sediment_fill(table: Cursor, own: Own) -> SedimentFill | None:
    """Read saturated sediment and the share of it that stays after draining."""
    stuff = read_stuff(table, own)
    stays = table.share("stays")
    if stays is not None:
        stays = stays.labelled(f"{table.what}: share that stays after draining")
    return SedimentFill(stuff, stays) if stuff else None
