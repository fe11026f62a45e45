"""The weight sheet in the terminal says what the paper says, and takes nothing for markup."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
from rich.console import Console

from oakum.draw import spread_figures
from oakum.lift import WeightReport, parse_body, starting_bodies, weigh
from oakum.report import render_terminal


@lru_cache
def gun() -> WeightReport:
    body = parse_body(starting_bodies()["gun"].toml, name="gun")
    return weigh(body, rng=np.random.default_rng(7), draws=2000, seed=7)


def shown(report: WeightReport, width: int = 110, *, demo: bool = False) -> str:
    console = Console(file=io.StringIO(), width=width, color_system=None)
    render_terminal(report, console, demo=demo)
    assert isinstance(console.file, io.StringIO)
    return console.file.getvalue()


def test_the_terminal_says_verdict_weights_and_who_governs() -> None:
    report, text = gun(), " ".join(shown(gun()).split())
    for state in report.states:
        assert " ".join((state.title, *spread_figures(state.load_kg))) in text
    for statement in (
        report.title,
        "no objection found under these assumptions",
        report.state("clear").load_kg.words(),
        "share of the variance",
        "hanging point in air",
        "Planning support: local codes, the gear's own papers and competent persons govern.",
        "2,000 draws, seed 7.",
    ):
        assert statement in text, statement
    assert all(caution[:50] in text for caution in report.cautions)


def test_objections_stand_before_the_numbers() -> None:
    text = shown(replace(gun(), objections=("the water is not known",)))
    assert text.index("objection: the water is not known") < text.index("low, P5")
    assert "no objection" not in text


def test_brackets_in_a_name_are_no_markup() -> None:
    text = shown(replace(gun(), title="[red]Gun[/red] [bold]", open_questions=("[/] closing nothing",)))
    assert "[red]Gun[/red] [bold]" in text and "[/] closing nothing" in text


@pytest.mark.parametrize("width", [60, 80, 140])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    assert max(len(line) for line in shown(gun(), width).splitlines()) <= width


def test_the_demo_says_that_its_figures_are_invented() -> None:
    assert "Invented figures" in shown(gun(), demo=True) and "Invented figures" not in shown(gun())
