"""The dig: areas and volumes of squares and spits, contours, sections, spoil, and how the season goes.

`outline` makes a square, `dug` says what was taken out between two sets of levels, `contours` and `section` what to
draw, `season` how far the work is and what is left, `airlift` and `dredge` size the tool as an order of magnitude.
Heights z are positive upward, all lengths in metres of the site.
"""

from oakum.seabed.dig.airlift import AirliftAsked, Sizing, air_ratio, airlift, mixture_kg_m3, mixture_lift_m
from oakum.seabed.dig.basis import CAUTIONS, DREDGE_CAUTIONS, GOVERNS, Basis, Sized
from oakum.seabed.dig.contours import Contour, contours, finest_interval_m
from oakum.seabed.dig.dredge import DredgeAsked, dredge
from oakum.seabed.dig.errors import DigError
from oakum.seabed.dig.outline import Outline, Point, outline
from oakum.seabed.dig.progress import Dive, Milestone, Season, SpitDone, season
from oakum.seabed.dig.rate import Forecast, Rate, Work, band_m3, forecast, rate_of
from oakum.seabed.dig.section import Layer, LeftOut, OnSection, Section, section
from oakum.seabed.dig.sections import (
    frustum,
    prismoid,
    section_spread,
    simpson,
    simpson_weights,
    trapezoid,
    trapezoid_weights,
)
from oakum.seabed.dig.squares import grid_spread, grid_weights
from oakum.seabed.dig.surface import Level, Surface, surface
from oakum.seabed.dig.volume import Dug, Epoch, Rise, dug
from oakum.seabed.dig.width import Part, spread_from

__all__ = [
    "CAUTIONS",
    "DREDGE_CAUTIONS",
    "GOVERNS",
    "AirliftAsked",
    "Basis",
    "Contour",
    "DigError",
    "Dive",
    "DredgeAsked",
    "Dug",
    "Epoch",
    "Forecast",
    "Layer",
    "LeftOut",
    "Level",
    "Milestone",
    "OnSection",
    "Outline",
    "Part",
    "Point",
    "Rate",
    "Rise",
    "Season",
    "Section",
    "Sized",
    "Sizing",
    "SpitDone",
    "Surface",
    "Work",
    "air_ratio",
    "airlift",
    "band_m3",
    "contours",
    "dredge",
    "dug",
    "finest_interval_m",
    "forecast",
    "frustum",
    "grid_spread",
    "grid_weights",
    "mixture_kg_m3",
    "mixture_lift_m",
    "outline",
    "prismoid",
    "rate_of",
    "season",
    "section",
    "section_spread",
    "simpson",
    "simpson_weights",
    "spread_from",
    "surface",
    "trapezoid",
    "trapezoid_weights",
]
