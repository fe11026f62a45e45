"""Reading the bed a body lies in."""

from __future__ import annotations

from oakum.lift.body.cursor import Cursor
from oakum.lift.body.model import Bed

BED_KINDS = ("clay", "silt", "sand", "gravel", "rock")


def read_bed(table: Cursor | None) -> Bed | None:
    """Read the `[bed]` table; None where there is none."""
    if table is None:
        return None
    table.what = "bed"
    kind = table.choice("kind", BED_KINDS, needed=True)
    bed = Bed(
        kind=kind or "clay",
        shear_strength_pa=table.estimate("shear_strength", "pressure"),
        base_area_m2=table.estimate("base_area", "area"),
        side_area_m2=table.estimate("side_area", "area", sign=True),
        adhesion=table.share("adhesion"),
        overburden_m=table.estimate("overburden", "length", sign=True),
        overburden_area_m2=table.estimate("overburden_area", "area"),
        overburden_kg_m3=table.estimate("overburden_density", "density"),
        pull_s=table.estimate("pull_time", "time"),
        embedded_s=table.estimate("embedded_time", "time"),
    )
    layer = (bed.overburden_m, bed.overburden_area_m2, bed.overburden_kg_m3)
    if any(x is not None for x in layer) and not all(x is not None for x in layer):
        table.problem("overburden", "needs overburden, overburden_area and overburden_density together")
    table.finish()
    return bed
