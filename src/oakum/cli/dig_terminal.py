"""The dig in the terminal: the same sentences and figures as on its pages."""

from __future__ import annotations

from oakum.desk.seabed.dig import SquareAnswer
from oakum.seabed.dig import Season, Sizing


def print_square(square: SquareAnswer) -> None:
    """Print one square with its spits."""
    if square.where is None:
        print(f"Square {square.name}: no area. {square.refused}")
        return
    known = "no spit has levels before and after it yet"
    if square.volume is not None:
        known = square.volume.words()
    elif square.no_width:
        known = f"about {square.best_m3:.2f} m³, its width not known"
    print(f"Square {square.name}, {square.where.area_m2:.2f} m²: {known}.")
    for spit in square.spits:
        if spit.dug is None:
            print(f"  spit {spit.name}: no volume: {spit.refused}.")
            continue
        dug = spit.dug
        words = dug.volume.words() if dug.volume else f"about {dug.best_m3:.2f} m³, its width not known"
        print(f"  spit {spit.name}: {words}; mean depth {dug.depth_m:.3f} m")
        if dug.volume is not None and dug.volume.drivers:
            first = dug.volume.drivers[0]
            print(f"    what drives the width: {first.label} ({100 * first.share:.0f} %)")
        for words in (*spit.assumptions, *dug.cautions):
            print(f"    {words}")


def print_season(season: Season) -> None:
    """Print the season with rate and forecast, or why there is none."""
    print(
        f"Season: {season.volume_m3:.2f} m³ on {season.area_m2:.1f} m² in {season.hours:.1f} diver-hours of "
        f"{season.dives} {'dive' if season.dives == 1 else 'dives'}."
    )
    if season.rate is not None:
        print(
            f"Measured rate: {1000 * season.rate.m3_per_hour:.0f} litres in place a diver-hour "
            f"({season.rate.source}, {season.rate.count} of them)."
        )
    if season.forecast is not None:
        print(f"The rest, {max(0.0, season.forecast.rest_m3):.2f} m³: {season.forecast.words}.")
    if season.refused:
        print(f"No forecast: {season.refused}")
    for note in season.notes:
        print(note)


def print_sizing(sizing: Sizing) -> None:
    """Print an order of magnitude with its cautions."""
    print(f"{sizing.title}, orders of magnitude only:")
    for one in sizing.figures:
        print(f"  {one.what}: about {one.best:.2g} {one.unit} ({one.low:.2g} to {one.high:.2g})")
    for objection in sizing.objections:
        print(f"objection: {objection}")
    for question in sizing.open_questions:
        print(question)
    for caution in sizing.cautions:
        print(f"caution: {caution}")
