"""Frames: drawings and mosaics laid on the marks, and the site's own grid tied to a map grid."""

from oakum.seabed.frame.compass import bearing_of, grid_bearing, true_bearing
from oakum.seabed.frame.errors import FrameError
from oakum.seabed.frame.grid import GridControl, GridFit, GridResidual, fit_grid
from oakum.seabed.frame.projective import apply, fit_affine, fit_projective
from oakum.seabed.frame.registration import (
    FITS,
    LEAST,
    Control,
    Registration,
    Residual,
    register,
)
from oakum.seabed.frame.similarity import Similarity, fit_similarity

__all__ = [
    "FITS",
    "LEAST",
    "Control",
    "FrameError",
    "GridControl",
    "GridFit",
    "GridResidual",
    "Registration",
    "Residual",
    "Similarity",
    "apply",
    "bearing_of",
    "fit_affine",
    "fit_grid",
    "fit_projective",
    "fit_similarity",
    "grid_bearing",
    "register",
    "true_bearing",
]
