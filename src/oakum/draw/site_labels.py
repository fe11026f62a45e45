"""Names beside marks, set where they cover neither a mark nor another name; what finds no room is left out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

Box = tuple[float, float, float, float]
_CELL = 48.0
_AROUND = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1))


@dataclass(slots=True)
class Room:
    """What is covered already, found quickly by cells of the drawing."""

    width: float
    height: float
    _held: dict[tuple[int, int], list[Box]] = field(default_factory=dict)

    def cover(self, box: Box) -> None:
        """Take a box (left, top, right, bottom)."""
        for cell in self._cells(box):
            self._held.setdefault(cell, []).append(box)

    def is_free(self, box: Box) -> bool:
        """Whether a box lies in the drawing and on nothing that is covered."""
        if box[0] < 1 or box[1] < 1 or box[2] > self.width - 1 or box[3] > self.height - 1:
            return False
        return not any(_meet(box, other) for cell in self._cells(box) for other in self._held.get(cell, ()))

    @staticmethod
    def _cells(box: Box) -> Iterable[tuple[int, int]]:
        for i in range(int(box[0] // _CELL), int(box[2] // _CELL) + 1):
            for j in range(int(box[1] // _CELL), int(box[3] // _CELL) + 1):
                yield i, j


def _meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def place(room: Room, x: float, y: float, width: float, size: float, off: float) -> tuple[float, float] | None:
    """Find room for words of this width beside (x, y) and take it.

    Returns the left end of their base line, or None where no side is free. `off` is how far the mark itself reaches.
    """
    high = 0.95 * size
    for across, down in _AROUND:
        reach = off if across == 0 or down == 0 else 0.75 * off
        left = x + reach + 2 if across > 0 else x - reach - 2 - width if across < 0 else x - width / 2
        top = y + reach + 1 if down > 0 else y - reach - 1 - high if down < 0 else y - high / 2
        box = (left, top, left + width, top + high)
        if room.is_free(box):
            room.cover(box)
            return left, top + 0.8 * size
    return None
