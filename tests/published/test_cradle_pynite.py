"""Beams that cross, against a general library of finite elements (PyNiteFEA), which knows nothing of cradles."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from Pynite import FEModel3D

from oakum.lift.cradle import Beam, BeamResult, PointLoad, SpreadLoad, Support, Tie, solve_network

E, AREA, INERTIA = 1.0e10, 0.02, 6.0e-5
EI = E * INERTIA
LINK_M = 0.05  # bearers lie that much over the runners, on pins that only push and pull
COMBO = "Combo 1"


def as_elements(runners: Sequence[Beam], bearers: Sequence[Beam], ties: Sequence[Tie]) -> FEModel3D:
    """Return runners along X and bearers along Y as members in space, held so that they only bend up and down."""
    model = FEModel3D()
    model.add_material("wood", E, E / 16.0, 0.3, 0.0)
    model.add_section("bar", AREA, INERTIA, INERTIA, 1e-5)
    model.add_section("pin", 10.0 * AREA, INERTIA, INERTIA, 1e-5)
    beams = (*runners, *bearers)
    for k, beam in enumerate(beams):
        along_x = k < len(runners)
        tied = [t.first_at_m if t.first == k else t.second_at_m for t in ties if k in (t.first, t.second)]
        places = sorted({0.0, beam.length_m, *(s.at_m for s in beam.supports), *tied})
        for at in places:
            x, y = _crossing(k, at, len(runners), ties)
            model.add_node(f"{k}@{at:g}", x, y, 0.0 if along_x else LINK_M)
            # Free: up and down, and to turn as it bends.
            model.def_support(f"{k}@{at:g}", True, True, False, along_x, not along_x, True)
        for support in beam.supports:
            name = f"{k}@{support.at_m:g}"
            if support.stiffness_n_m is None:
                model.def_support(name, True, True, True, along_x, not along_x, True)
            else:
                model.def_support_spring(name, "DZ", support.stiffness_n_m)
        model.add_member(f"beam {k}", f"{k}@{places[0]:g}", f"{k}@{places[-1]:g}", "wood", "bar")
        for load in beam.points:
            model.add_member_pt_load(f"beam {k}", "FZ", -load.force_n, load.at_m)
        for spread in beam.spread:
            end = spread.start_n_m if spread.end_n_m is None else spread.end_n_m
            model.add_member_dist_load(f"beam {k}", "FZ", -spread.start_n_m, -end, spread.from_m, spread.to_m)
    for i, tie in enumerate(ties):
        low, high = f"{tie.first}@{tie.first_at_m:g}", f"{tie.second}@{tie.second_at_m:g}"
        model.add_member(f"pin {i}", low, high, "wood", "pin")
        model.def_releases(f"pin {i}", Ryi=True, Rzi=True, Ryj=True, Rzj=True)
    model.analyze_linear()
    return model


def _crossing(beam: int, at_m: float, runners: int, ties: Sequence[Tie]) -> tuple[float, float]:
    """Return where a place of a beam lies seen from above: bearers cross all runners, all begin at the first."""
    if beam < runners:
        across = next(t.second_at_m for t in ties if t.first == beam)
        return at_m, across
    along = next(t.first_at_m for t in ties if t.second == beam)
    return along, at_m


def moments(model: FEModel3D, beam: int, at_m: Sequence[float]) -> np.ndarray:
    member = model.members[f"beam {beam}"]
    return np.array([member.moment("My", x, COMBO) for x in at_m])


def compared(found: Sequence[BeamResult], beams: Sequence[Beam], model: FEModel3D) -> None:
    """Hold deflections, reactions and moments against each other."""
    for k, (beam, result) in enumerate(zip(beams, found, strict=True)):
        at = np.linspace(0.0, beam.length_m, 23)[1:-1] + 1e-4
        member = model.members[f"beam {k}"]
        sag = np.array([-member.deflection("dz", x, COMBO) for x in at])
        scale = float(np.abs(sag).max())
        assert np.asarray(result.deflection_m(at)) == pytest.approx(sag, abs=2e-3 * scale)
        theirs = moments(model, k, at)
        mine = np.asarray(result.moment_nm(at))
        sign = 1.0 if float(mine @ theirs) >= 0.0 else -1.0
        assert mine == pytest.approx(sign * theirs, abs=2e-3 * float(np.abs(theirs).max()))
        for support, reaction in zip(beam.supports, result.reactions_n, strict=True):
            node = model.nodes[f"{k}@{support.at_m:g}"]
            k_n_m = support.stiffness_n_m
            theirs_n = node.RxnFZ[COMBO] if k_n_m is None else -k_n_m * node.DZ[COMBO]
            assert reaction == pytest.approx(theirs_n, rel=2e-3, abs=1.0)


def test_a_grid_of_two_runners_and_four_bearers_on_four_stands() -> None:
    """PyNiteFEA (general library): stands under the runners, uneven loads on the bearers, to 0.2 %."""
    stands = (Support(0.3, "a"), Support(2.6, "b"))
    runners = [Beam(3.0, EI, stands, spread=(SpreadLoad(0.0, 3.0, 60.0),), name=f"runner {i}") for i in range(2)]
    places, width = (0.2, 1.0, 1.9, 2.8), 1.2
    bearers = [
        Beam(
            width,
            EI,
            (),
            (PointLoad(0.35 + 0.1 * i, 900.0 + 400.0 * i),),
            (SpreadLoad(0.1, 1.0, 500.0, 200.0 + 300.0 * i),),
            f"bearer {i}",
        )
        for i in range(4)
    ]
    ties = [Tie(r, at, 2 + b, r * width) for b, at in enumerate(places) for r in range(2)]
    found = solve_network((*runners, *bearers), ties)
    compared(found, (*runners, *bearers), as_elements(runners, bearers, ties))
    total = sum(p.force_n for b in bearers for p in b.points) + sum(
        s.total_n for b in (*runners, *bearers) for s in b.spread
    )
    assert sum(sum(r.reactions_n) for r in found) == pytest.approx(total)


def test_a_grid_of_three_runners_on_springs_under_two_stiff_bearers() -> None:
    """PyNiteFEA (general library): three runners on springs of unlike stiffness share what two bearers bring."""
    springs = [
        (Support(0.0, "a", 4e5), Support(1.5, "b", 2e5), Support(3.0, "c", 8e5)),
        (Support(0.4, "d", 1e5), Support(2.7, "e", 3e5)),
        (Support(0.0, "f", 5e5), Support(3.0, "g", 5e5)),
    ]
    runners = [Beam(3.0, EI, held, name=f"runner {i}") for i, held in enumerate(springs)]
    bearers = [
        Beam(1.6, EI, (), (PointLoad(0.5, 2500.0),), (SpreadLoad(0.0, 1.6, 100.0),), "first"),
        Beam(1.6, EI, (), (PointLoad(1.1, 1800.0),), (SpreadLoad(0.0, 1.6, 100.0),), "second"),
    ]
    ties = [Tie(r, at, 3 + b, 0.8 * r) for b, at in enumerate((0.9, 2.2)) for r in range(3)]
    found = solve_network((*runners, *bearers), ties)
    compared(found, (*runners, *bearers), as_elements(runners, bearers, ties))
