"""Walls of welded tubes against models of shells, from walls of a tenth of the width to a fortieth; left out where the solver is not installed."""

from pathlib import Path

import pytest

from gantrywright.theory.tube_joints import wall_coefficients
from tube_shells import PROGRAM, Corner, coefficient

pytestmark = pytest.mark.skipif(PROGRAM is None, reason="the finite element solver ccx is not installed")
WIDTH = 0.08


def corner(slenderness: float, ratio: float, run: float = 6.0) -> Corner:
    wall = WIDTH / slenderness
    half, beside = (4, 0) if ratio == 1 else (3, 1) if ratio > 0.6 else (2, 2)
    return Corner(WIDTH - wall, ratio * WIDTH - wall, wall, half=half, beside=beside, run=run)


@pytest.mark.parametrize(("slenderness", "ratio"), [(8.0, 1.0), (40.0, 1.0), (20.0, 0.75), (8.0, 0.5), (40.0, 0.5)])
def test_moments(tmp_path: Path, slenderness: float, ratio: float) -> None:
    """Within 20 %: the first table and these models are 14 % apart out of plane, and long chords hold thin walls less."""
    in_plane, out_of_plane, _ = wall_coefficients(slenderness=slenderness, width_ratio=ratio)
    assert in_plane == pytest.approx(coefficient(tmp_path, corner(slenderness, ratio), "in"), rel=0.2)
    long = corner(slenderness, ratio, run=12.0 if slenderness > 20 else 6.0)
    assert out_of_plane == pytest.approx(coefficient(tmp_path, long, "out"), rel=0.2)


@pytest.mark.parametrize("slenderness", [10.0, 40.0])
def test_pull_on_a_narrow_branch(tmp_path: Path, slenderness: float) -> None:
    found = coefficient(tmp_path, corner(slenderness, 0.5), "pull")
    assert wall_coefficients(slenderness=slenderness, width_ratio=0.5)[2] == pytest.approx(found, rel=0.2)


def test_halves_of_the_mesh_agree(tmp_path: Path) -> None:
    """Twice as many elements each way change what the wall gives by less than 8 %."""
    coarse, wall = corner(20.0, 0.5), WIDTH / 20
    fine = Corner(WIDTH - wall, WIDTH / 2 - wall, wall, half=4, beside=4)
    assert coefficient(tmp_path, fine, "out") == pytest.approx(coefficient(tmp_path, coarse, "out"), rel=0.08)
