"""Everything that is wrong with a body file, at once, each with its line and key."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.errors import OakumError


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing to put right: line (from 1), key as it stands in the file, and what to do."""

    line: int
    key: str
    message: str

    def words(self) -> str:
        """Say it in one line."""
        return (
            f"line {self.line}, {self.key}: {self.message}"
            if self.key
            else f"line {self.line}: {self.message}"
        )


class BodyFileError(OakumError, ValueError):
    """A body file that cannot be taken; `problems` lists all that is wrong, in the order of the file."""

    def __init__(self, name: str, problems: list[Problem]) -> None:
        self.name = name
        self.problems = tuple(sorted(problems, key=lambda p: p.line))
        many = "1 thing" if len(problems) == 1 else f"{len(problems)} things"
        super().__init__(
            "\n".join([f"{name}: {many} to put right", *(f"  {p.words()}" for p in self.problems)])
        )
