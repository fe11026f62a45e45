"""What every import says of a row, and how many rows came to what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Status = Literal["ready", "look", "refused"]


@dataclass(frozen=True, slots=True)
class Counts:
    """How many rows came to what. `left_out` are headings between the rows and repeated column names."""

    finds: int
    ready: int
    look: int
    refused: int
    blank: int
    left_out: int
    what: tuple[str, str] = ("find", "finds")

    def words(self) -> str:
        """The counts as a sentence."""
        return (
            f"{self.finds} {self.what[self.finds != 1]}: {self.ready} ready, {self.look} to be looked at, "
            f"{self.refused} refused; {_plural(self.blank, 'blank row')} and "
            f"{_plural(self.left_out, 'heading')} left out."
        )


def _plural(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")
