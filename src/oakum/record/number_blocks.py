"""Giving out find numbers from the blocks of this station, inside one write transaction."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import Connection

from oakum.record import log_table
from oakum.record.numbers import Block, NumberError, number_after, parse_number, refuse_overlap


def blocks_given(connection: Connection) -> list[Block]:
    """Return every block in the log, struck out or not: a number is never given twice."""
    return [
        Block(entry.subject, entry.body["prefix"], entry.body["first"], entry.body["last"])
        for entry in log_table.select(connection, "WHERE kind = 'block.given'")
    ]


class NumberDesk:
    """Hands out numbers. It remembers what this batch has taken, the file what others took."""

    def __init__(self, connection: Connection, station: str) -> None:
        self.connection = connection
        self.station = station
        self._blocks: list[Block] | None = None
        self._highest: dict[Block, int | None] = {}
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

    def take_next(self) -> str:
        """Return the next number of the station's own blocks."""
        own = self._own()
        for block in own:
            highest = self._highest_of(block)
            if highest is None or highest < block.last:
                number = number_after(block, highest)
                self._highest[block] = number.running
                text = str(number)
                self._taken.add(text)
                return text
        raise NumberError(
            f"The number blocks of this station are used up ({own[-1].words()} was the last). "
            "Give it a new block before the next find is entered."
        )

    def take(self, typed: str) -> str:
        """Return a number somebody chose, in its written form, if it is free and from the station's own block."""
        number = parse_number(str(typed))
        text = str(number)
        block = next((block for block in self._own() if number in block), None)
        if block is None:
            held = ", ".join(block.words() for block in self._own())
            raise NumberError(f"{text} lies outside the number blocks of this station: {held}.")
        used = self.connection.exec_driver_sql("SELECT 1 FROM number WHERE text = ?", (text,)).first()
        if used is not None or text in self._taken:
            raise NumberError(
                f"{text} was given before; no number is used twice. Leave the number out to take the next free one."
            )
        highest = self._highest_of(block)
        self._highest[block] = number.running if highest is None else max(highest, number.running)
        self._taken.add(text)
        return text

    def _own(self) -> list[Block]:
        own = [block for block in self.blocks if block.station == self.station]
        if not own:
            raise NumberError(
                f"The station {self.station} has no block of find numbers. Give it one that no other station has."
            )
        return own

    def _highest_of(self, block: Block) -> int | None:
        if block not in self._highest:
            self._highest[block] = self.connection.exec_driver_sql(
                "SELECT max(running) FROM number WHERE prefix = ? AND running BETWEEN ? AND ?",
                (block.prefix, block.first, block.last),
            ).scalar_one()
        return self._highest[block]
