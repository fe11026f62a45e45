"""The problem of one site: rows of every usable reading, what is held, what was assumed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.builder import Builder, datum_sd
from oakum.seabed.network.names import marks_of
from oakum.seabed.network.rows import Network
from oakum.seabed.network.site import Fix, Site
from oakum.seabed.network.vet import Vetted

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Built:
    """The problem of all readings, which rows count, and what was assumed.

    `place_m` are the places the marks are thought to have, nan where none is given; a start, not a reading.
    """

    network: Network
    counted: NDArray[np.bool_]
    place_m: Array
    assumed: tuple[tuple[str, int], ...]


def build(site: Site, vetted: Vetted) -> Built:
    """Rows of every reading left by the vetting, those set aside among them."""
    used = {name for r in vetted.counted for name in marks_of(r)} | {d.mark for d in vetted.datums}
    builder = Builder(site, sorted(used), vetted.counted)
    n = len(builder.names)
    place = np.full((n, 3), np.nan)
    for mark in site.marks:
        if mark.name in builder.at:
            thought = (mark.x_m, mark.y_m, mark.z_m)
            place[builder.at[mark.name] // 3] = [np.nan if v is None else v for v in thought]
    known = np.full((n, 3), np.nan)
    fixed = np.zeros((n, 3), dtype=bool)
    for datum in vetted.datums:
        row = builder.at[datum.mark] // 3
        for k, value in enumerate((datum.x_m, datum.y_m, datum.z_m)):
            if value is not None:
                known[row, k] = value
                fixed[row, k] |= datum_sd(datum, "xyz"[k]) <= 0.0
    fixes = [r for r in vetted.counted if isinstance(r, Fix)]
    fixed_at = np.array([[f.x_m, f.y_m, np.nan if f.z_m is None else f.z_m] for f in fixes]).reshape(-1, 3)
    seen = np.vstack([known, place, fixed_at])
    origin = np.array([np.nanmedian(c) if np.isfinite(c).any() else 0.0 for c in seen.T])
    given = np.zeros(builder.nothing + 1)
    given[: 3 * n] = np.where(fixed, known - origin, 0.0).ravel()
    held = np.zeros(len(given), dtype=bool)
    held[: 3 * n], held[-1] = fixed.ravel(), True
    for reading in vetted.counted:
        builder.add(reading, origin)
    for datum in vetted.datums:
        builder.weighted(datum, origin)
    builder.known_of_instruments()
    counting = {r.id for r in vetted.counted}
    for reading in vetted.aside:
        if set(marks_of(reading)) <= set(builder.names) and builder.knows(reading):
            builder.add(reading, origin)
    network = builder.network(given, held, origin)
    aside = {r.id for r in vetted.aside} - counting
    counted = np.array([label.id not in aside for label in network.labels], dtype=bool)
    return Built(network, counted, place - origin, tuple(sorted(builder.assumed_uses.items())))
