"""Dimensions: a number, or an array of draws of that number, checked once when a solid is made."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids.errors import SolidError

FloatArray: TypeAlias = NDArray[np.float64]
IntArray: TypeAlias = NDArray[np.int64]
Dim: TypeAlias = "float | FloatArray"
Point: TypeAlias = "tuple[Dim, Dim, Dim]"


def as_dim(owner: str, name: str, value: object) -> Dim:
    """Return `value` as a float or a read-only (n,) array; refuse text, tables, non-finite numbers."""
    try:
        array = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        raise SolidError(f"{owner}: {name} must be a number in metres, got {value!r}.") from None
    if array.ndim > 1 or array.size == 0:
        raise SolidError(f"{owner}: {name} must be one number or one row of draws, got shape {array.shape}.")
    if not np.isfinite(array).all():
        raise SolidError(
            f"{owner}: {name} must be a finite number, got {_worst(~np.isfinite(array), array)}."
        )
    if array.ndim == 0:
        return float(array)
    own = array.copy()
    own.flags.writeable = False
    return own


def positive(owner: str, name: str, value: object) -> Dim:
    """Return `value` checked to be greater than zero in every draw; lengths in metres."""
    dim = as_dim(owner, name, value)
    wrong = np.asarray(dim) <= 0
    if wrong.any():
        raise SolidError(
            f"{owner}: {name} must be greater than zero, got {_worst(wrong, np.asarray(dim))}. "
            "Give the measured length in metres; leave the part out if it is not there."
        )
    return dim


def not_negative(owner: str, name: str, value: object) -> Dim:
    """Return `value` checked to be zero or more in every draw; lengths in metres."""
    dim = as_dim(owner, name, value)
    wrong = np.asarray(dim) < 0
    if wrong.any():
        raise SolidError(f"{owner}: {name} must be zero or more, got {_worst(wrong, np.asarray(dim))}.")
    return dim


def require(ok: Dim | np.bool_ | NDArray[np.bool_] | bool, sentence: str) -> None:
    """Raise `SolidError(sentence)` unless the condition holds in every draw."""
    held = np.asarray(ok, dtype=bool)
    if not held.all():
        count = f" (in {int((~held).sum()):,} of {held.size:,} draws)" if held.ndim else ""
        raise SolidError(sentence + count + ".")


def scalar(owner: str, name: str, value: Dim) -> float:
    """Return `value` as one float; refuse draws where a single shape is needed (a mesh, a drawing)."""
    if isinstance(value, np.ndarray):
        raise SolidError(
            f"{owner}: {name} holds {value.size:,} draws; one shape is needed here. "
            "Use .nominal() for the medians."
        )
    return float(value)


def length_words(value: Dim) -> str:
    """Return a length as text, e.g. '0.48 m'; draws are shown by their median."""
    if isinstance(value, np.ndarray):
        return f"about {float(np.median(value)):.4g} m"
    return f"{value:.4g} m"


def _worst(wrong: NDArray[np.bool_], array: FloatArray) -> str:
    if array.ndim == 0:
        return f"{float(array):g}"
    return f"{array[wrong][0]:g} ({int(wrong.sum()):,} of {array.size:,} draws)"
