"""Ellipses hold what they promise, errors of the MDB are found as often as promised; truth is drawn apart.

A small run of `bench/survey_calibration.py` (500 sites there), which draws the truth without the solver.
"""

from __future__ import annotations

import importlib.util
import sys
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from oakum.seabed.network import Mark, Site, SiteSolution, Tape, solve_site

SITES = 40


@pytest.fixture(scope="module")
def calibration() -> ModuleType:
    path = Path(__file__).resolve().parents[2] / "bench" / "survey_calibration.py"
    spec = importlib.util.spec_from_file_location("survey_calibration", path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules["survey_calibration"] = module
    spec.loader.exec_module(module)
    return module


def started(calibration: ModuleType, seed: int, misread: float = 0.0) -> tuple[Site, object]:
    """A site with its marks thought 0.15 m off, as yesterday's plan would have them."""
    site, truth = calibration.draw(seed, 10, misread)
    off = truth.places + np.random.default_rng([seed, 9]).normal(0.0, 0.15, truth.places.shape)
    marks = tuple(
        Mark(name=n, x_m=p[0], y_m=p[1], z_m=p[2]) for n, p in zip(truth.names, off.tolist(), strict=True)
    )
    return replace(site, marks=marks), truth


def test_clean_sites_cover_and_seldom_alarm(calibration: ModuleType) -> None:
    inside, alarms, tests = 0, 0, 0
    for seed in range(SITES):
        site, truth = started(calibration, seed)
        solution = solve_site(site)
        inside += calibration.inside(solution, truth, seed)
        w = [abs(r.w) for r in solution.readings if r.w is not None]
        tests += len(w)
        alarms += sum(v > 3.290527 for v in w)
    low, high = calibration.limits(SITES, 0.95)
    assert low <= inside / SITES <= high
    low, high = calibration.limits(tests, 0.001)
    assert low <= alarms / tests <= high


def test_errors_of_the_mdb_are_found_with_the_stated_power(calibration: ModuleType) -> None:
    found = 0
    for seed in range(SITES):
        site, _ = started(calibration, 1000 + seed)
        found += _found(site, solve_site(site), seed)
    low, high = calibration.limits(SITES, 0.80)
    assert low <= found / SITES <= high


def _found(site: Site, solution: SiteSolution, seed: int) -> bool:
    rng = np.random.default_rng([seed, 3])
    rows = [r for r in solution.readings if r.kind == "tape" and r.mdb is not None and r.redundancy > 0.2]
    pick = rows[int(rng.integers(len(rows)))]
    error = pick.mdb or 0.0
    readings = tuple(
        replace(o, length_m=o.length_m + error, sd_m=pick.sd, sd_per_m=None)
        if isinstance(o, Tape) and o.id == pick.id
        else o
        for o in site.observations
    )
    row = solve_site(replace(site, observations=readings)).reading(pick.id)
    return row.w is not None and abs(row.w) > 3.290527


def test_sites_with_misread_tapes_cover_once_the_suspects_are_out(calibration: ModuleType) -> None:
    inside, named, wrong = 0, 0, 0
    for seed in range(SITES // 2):
        site, truth = started(calibration, 2000 + seed, 0.05)
        solution = solve_site(site)
        misread = truth.misread  # type: ignore[attr-defined]
        wrong += len(misread)
        named += len(misread & {s.id for s in solution.suspects})
        inside += calibration.inside(solution.without_suspects or solution, truth, seed)
    low, high = calibration.limits(SITES // 2, 0.95)
    assert low <= inside / (SITES // 2) <= high
    assert wrong > 15 and named >= 0.93 * wrong
