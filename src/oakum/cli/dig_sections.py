"""`oakum dig sections`: the volume of a trench from the areas of sections drawn across it."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter


def sections(
    areas: list[float],
    *,
    every: Annotated[str, Parameter(help="Distance between sections, as '2 m'.")],
    sd: Annotated[float | None, Parameter(help="± of one area, m2.")] = None,
    width: Annotated[
        list[float] | None, Parameter(help="Width of each section, m, in order; with --bias.")
    ] = None,
    bias: Annotated[str, Parameter(help="± that all levels share, as '2 cm'.")] = "",
) -> None:
    """Compute a volume by trapezoid, by Simpson's rule and, for three sections, by the prismoid.

    Parameters
    ----------
    areas
        Areas of the sections in m2, in order along the trench.
    """
    from oakum.desk.seabed.dig_typed import metres
    from oakum.seabed.dig import (
        prismoid,
        section_spread,
        simpson,
        simpson_weights,
        trapezoid,
        trapezoid_weights,
    )

    apart = float(metres(every))
    shared = float(metres(bias)) if bias else 0.0
    rules = [("trapezoid", trapezoid_weights, trapezoid(areas, apart))]
    if len(areas) >= 3:
        rules.append(("Simpson", simpson_weights, simpson(areas, apart)))
    for name, weights, volume in rules:
        if sd is None:
            print(f"{name}: {volume:.2f} m³; its width is not known, give --sd")
            continue
        spread = section_spread(
            weights(len(areas), apart), areas, area_sd_m2=sd, widths_m=width or (), bias_sd_m=shared
        )
        print(f"{name}: {spread.words()}")
        if spread.drivers:
            print(
                f"  what drives the width: {spread.drivers[0].label} ({100 * spread.drivers[0].share:.0f} %)"
            )
    if len(areas) == 3:
        print(f"prismoid, the middle section measured: {prismoid(areas[0], areas[1], areas[2], 2 * apart):.2f} m³")
    if len(areas) > 3 and len(areas) % 2 == 0:
        print("An even number of sections: Simpson takes the last interval by the trapezoid.")
    print(
        "Where a trench tapers the trapezoid is too great; nothing is added beyond the first and the last section."
    )
