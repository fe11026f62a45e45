"""Giving out find numbers from the blocks of this station, inside one write transaction."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection

from oakum.record.finds.numbers import (
    LEAST_DIGITS,
    Block,
    NumberError,
    check_character,
    parse_number,
    refuse_overlap,
)
from oakum.record.log import entry_table as log_table
from oakum.record.log.views import sort_key


def blocks_given(connection: Connection) -> list[Block]:
    """Return every block in the log, struck out or not: a number is never given twice."""
    return [
        Block(entry.subject, entry.body["prefix"], entry.body["first"], entry.body["last"])
        for entry in log_table.blocks(connection)
    ]


class NumberDesk:
    """Hands out numbers. It remembers what this batch has taken, the file what others took."""

    def __init__(self, connection: Connection, station: str) -> None:
        self.connection = connection
        self.station = station
        self._blocks: list[Block] | None = None
        self._own_and_highest: tuple[list[Block], list[int]] | None = None
        self._taken: set[str] = set()

    @property
    def blocks(self) -> list[Block]:
        """All blocks, whoever holds them."""
        if self._blocks is None:
            self._blocks = blocks_given(self.connection)
        return self._blocks

    def give(self, station: str, body: Mapping[str, Any]) -> None:
        """Note a new block, refusing one that overlaps another."""
        block = Block(station, body["prefix"], body["first"], body["last"])
        refuse_overlap(block, self.blocks)
        self.blocks.append(block)
        if self._own_and_highest is not None and station == self.station:
            own, highest = self._own_and_highest
            own.append(block)
            highest.append(block.first - 1)

    def take_next(self) -> str:
        """Return the next number of the station's own blocks."""
        own, highest = self._own()
        for index, block in enumerate(own):
            running = highest[index] + 1
            if running <= block.last:
                highest[index] = running
                digits = f"{running:0{LEAST_DIGITS}d}"
                text = f"{block.prefix}-{digits}-{check_character(block.prefix + digits)}"
                self._taken.add(text)
                return text
        raise NumberError(
            f"The number blocks of this station are used up ({own[-1].words()} was the last). "
            "Give it a new block before the next find is entered."
        )

    def take(self, typed: str) -> str:
        """Return a number somebody chose, as it is written, if it is free and in a block of the station."""
        number = parse_number(str(typed))
        text = str(number)
        own, highest = self._own()
        index = next((index for index, block in enumerate(own) if number in block), None)
        if index is None:
            held = ", ".join(block.words() for block in own)
            raise NumberError(f"{text} lies outside the number blocks of this station: {held}.")
        sql = "SELECT 1 FROM find WHERE sort = ?"
        used = self.connection.exec_driver_sql(sql, (sort_key(text),)).first()
        if used is not None or text in self._taken:
            raise NumberError(
                f"{text} was given before; no number is used twice. "
                "Leave the number out to take the next free one."
            )
        self._taken.add(text)
        highest[index] = max(highest[index], number.running)
        return text

    def _own(self) -> tuple[list[Block], list[int]]:
        """Return the blocks of this station, and the greatest number in use of each."""
        if self._own_and_highest is not None:
            return self._own_and_highest
        own = [block for block in self.blocks if block.station == self.station]
        if not own:
            raise NumberError(
                f"The station {self.station} has no block of find numbers. "
                "Give it one that no other station has."
            )
        self._own_and_highest = own, [self._highest_in_file(block) for block in own]
        return self._own_and_highest

    def _highest_in_file(self, block: Block) -> int:
        """Return the greatest running number of a block that is in use, or the one before its first."""
        ends = (sort_key(f"{block.prefix}-{block.first}-"), sort_key(f"{block.prefix}-{block.last}-~"))
        row = self.connection.exec_driver_sql(
            "SELECT sort FROM find WHERE sort BETWEEN ? AND ? ORDER BY sort DESC LIMIT 1", ends
        ).first()
        return block.first - 1 if row is None else int(row[0].split("-")[1])
