"""Drawings as SVG text, one file a drawing, each with a twin that returns its numbers as a table.

`draw.body` (elevation, plan), `draw.curves` (bands), `draw.bars` (what drives the width), `draw.rig` (the rig
in elevation and from above), `draw.utilisation`, `draw.hook_load`, `draw.ascent` (bags), `draw.turning`. A
`Theme` makes one drawing serve the page (`PAGE`, colours follow light and dark) and paper (`PRINT`, black ink). Nothing
here reads files, the clock or the network.
"""

from oakum.draw.rows import Rows, figure, spread_figures
from oakum.draw.svg import DrawingError
from oakum.draw.theme import PAGE, PRINT, Theme, stylesheet

__all__ = ["PAGE", "PRINT", "DrawingError", "Rows", "Theme", "figure", "spread_figures", "stylesheet"]
