"""Losses that let a few gross errors count less: for finding starts and ranking suspects, not for final numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


class Loss(Protocol):
    """A loss of residuals in units of their sd."""

    def cost(self, r: Array) -> float:
        """Sum of the loss; the plain loss is the sum of squares."""
        ...

    def weight(self, r: Array) -> Array:
        """Weight of each residual in the next step."""
        ...


@dataclass(frozen=True, slots=True)
class Plain:
    """Sum of squares."""

    def cost(self, r: Array) -> float:
        """Sum of squares, infinite where it overflows."""
        with np.errstate(over="ignore"):
            return float(r @ r)

    def weight(self, r: Array) -> Array:
        """One for all."""
        return np.ones_like(r)


@dataclass(frozen=True, slots=True)
class Huber:
    """Squares up to `k` sd, straight lines beyond (Huber 1964, k = 1.5; memory, verify)."""

    k: float = 1.5

    def cost(self, r: Array) -> float:
        """r2 inside, 2 k |r| - k2 outside."""
        size = np.abs(r)
        return float(np.where(size <= self.k, size * size, 2.0 * self.k * size - self.k**2).sum())

    def weight(self, r: Array) -> Array:
        """One inside, k / |r| outside."""
        return self.k / np.maximum(np.abs(r), self.k)
