"""Many seas in the file of a lift plan: what came of running through them, in sentences."""

from __future__ import annotations

from typing import Any

from oakum.desk.lifts.sea_run import SeaRun
from oakum.draw import splash_time

OUTDATED = "The plan has changed since: mass, rig, vessel, cradle or sea are not those that were run through."
NOT_RUN = "Not run through many seas for this plan: the limits above are those of the simplified method alone."


def seas_data(run: SeaRun | None, *, fits: bool) -> dict[str, Any]:
    """Return the part on many seas: of a kept result that fits the plan its odds, otherwise why there are none."""
    if run is None:
        return {"lead": NOT_RUN, "objected": None, "masses": []}
    if not fits:
        return {"lead": f"{OUTDATED} Then: {run.words}.", "objected": None, "masses": []}
    return {
        "lead": f"{run.words[:1].upper()}{run.words[1:]}.",
        "objected": list(run.objections),
        "masses": [
            {
                "title": mass.title,
                "operations": [
                    {
                        "title": title[:1].upper() + title[1:],
                        "lines": list(splash_time.extreme_lines(one, run.bears_kg, run.cell_unit)),
                    }
                    for title, one in mass.operations
                ],
            }
            for mass in run.masses
        ],
    }
