"""What drives single steps, read between the nodes at which waves and tip are summed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.drive import hermite

Array = NDArray[np.float64]
Nodes = tuple[Array, Array, Array]
"""Surface, water speed and tip with hoist, (3 k, n) each: value, rate and second rate at k nodes."""


class Fine:
    """Reads `steps` steps from a node on, lengths in heights of the body and times in steps.

    `weights` (6, steps, 6) act on value and rates at the two nodes and give the rows of the drive: surface, water
    speed and its quickening, where the line would hang to unstretched, its speed and its quickening.
    """

    def __init__(self, steps: int, spacing_s: float, step_s: float, height_m: float, members: int) -> None:
        value, rate, second = (
            step_s**order / height_m * hermite(steps, spacing_s, order) for order in range(3)
        )
        self.weights = np.stack([value, step_s * value, step_s * rate, value, rate, second])
        self.steps = steps
        self.rows = np.empty((6, steps, members))

    def at(self, nodes: Nodes, i: int) -> Array:
        """Return the drive (6, steps, n) from node `i` on, in memory that the next call uses again."""
        for row, of in enumerate((0, 1, 1, 2, 2, 2)):
            np.matmul(self.weights[row], nodes[of][3 * i : 3 * i + 6], out=self.rows[row])
        return self.rows

    def surface(self, nodes: Nodes, i: int) -> Array:
        """Return the surface (steps, n) from node `i` on."""
        return np.asarray(self.weights[0] @ nodes[0][3 * i : 3 * i + 6])
