"""Preloaded pairs against ranges that were computed independently, and the packaged spindles against both."""

import numpy as np
import pytest

from gantrywright.catalog.tables import Catalog, record_of
from gantrywright.theory.bearings import PairStiffness, ball_constant, preloaded_pair
from gantrywright.theory.hertz import contact_modulus

STEEL = contact_modulus(elastic_modulus=208e9, poisson=0.3)
ANGLE = np.radians(15)
BALLS = {15: (4.762e-3, 23.5e-3, 12), 25: (6.35e-3, 36e-3, 14)}
"""Ball, pitch diameter, balls a bearing by bore in mm: plausible, from memory."""
PRELOAD = {15: (25.0, 100.0), 25: (50.0, 200.0)}
RADIAL = {15: (125.0, 200.0), 25: (190.0, 310.0)}
AXIAL = {15: (18.0, 29.0), 25: (28.0, 44.0)}
"""N/um, computed independently (Hertz, exact elliptic integrals)."""


def pair(bore: int, preload: float, angle: float = ANGLE) -> PairStiffness:
    ball, pitch, count = BALLS[bore]
    one = ball_constant(
        ball=ball, pitch_diameter=pitch, contact_angle=angle, inner_conformity=0.52, outer_conformity=0.52, contact_modulus=STEEL
    )
    return preloaded_pair(constant=one, balls=count, contact_angle=angle, preload=preload)


@pytest.mark.parametrize("bore", BALLS)
@pytest.mark.parametrize("end", [0, 1])
def test_a_pair_of_fifteen_degrees(bore: int, end: int) -> None:
    found = pair(bore, PRELOAD[bore][end])
    assert found.radial / 1e6 == pytest.approx(RADIAL[bore][end], rel=0.02)
    assert found.axial / 1e6 == pytest.approx(AXIAL[bore][end], rel=0.02)


def test_axial_over_radial_is_the_angle_alone() -> None:
    for angle in np.radians([12.0, 15.0, 25.0]):
        found = pair(25, 100.0, angle)
        assert found.axial / found.radial == pytest.approx(2 * np.tan(angle) ** 2)


def test_a_pair_by_its_balls_one_by_one() -> None:
    """Springs of all balls at their places, summed without the closed form."""
    ball, pitch, count = BALLS[25]
    constant = ball_constant(
        ball=ball, pitch_diameter=pitch, contact_angle=ANGLE, inner_conformity=0.52, outer_conformity=0.53, contact_modulus=STEEL
    )
    load = 120.0 / (count * np.sin(ANGLE))
    spring = 1.5 * constant ** (2 / 3) * load ** (1 / 3)
    whole = np.zeros((3, 3))
    for side in (1.0, -1.0):
        for turn in 2 * np.pi * np.arange(count) / count:
            line = np.array([np.cos(ANGLE) * np.cos(turn), np.cos(ANGLE) * np.sin(turn), side * np.sin(ANGLE)])
            whole += spring * np.outer(line, line)
    found = preloaded_pair(constant=constant, balls=count, contact_angle=ANGLE, preload=120.0)
    np.testing.assert_allclose(whole, np.diag([found.radial, found.radial, found.axial]), atol=1e-3 * found.axial)


@pytest.mark.parametrize(("name", "bore"), [("spindle-0.8kw-24k", 15), ("spindle-2.2kw-24k", 25)])
def test_packaged_spindles_have_what_such_a_pair_gives_when_installed(name: str, bore: int) -> None:
    """0.4 to 0.7 of the raceways radially; endways the raceways are so soft that what carries them takes little away."""
    row = Catalog().find("spindle", name)
    radial, axial = row.cells["bearing_radial"].spread, row.cells["bearing_axial"].spread
    assert radial is not None
    assert axial is not None
    assert radial.low == pytest.approx(0.4 * RADIAL[bore][0] * 1e6, rel=0.05)
    assert radial.high == pytest.approx(0.7 * RADIAL[bore][1] * 1e6, rel=0.05)
    assert axial.high == pytest.approx(AXIAL[bore][1] * 1e6, rel=0.05)
    assert 0.6 * AXIAL[bore][0] * 1e6 < axial.low < AXIAL[bore][0] * 1e6


def test_stronger_spindles_stand_on_stiffer_bearings_and_shafts() -> None:
    rows = sorted(
        (record_of(row) for row in Catalog().rows("spindle") if row.id.startswith("spindle") and "dc" not in row.id),
        key=lambda part: part.power,
    )
    for name in ("bearing_radial", "shaft"):
        assert getattr(rows[-1], name) > 1.5 * getattr(rows[0], name)
    for part in rows:
        assert part.bearing_rear < part.bearing_radial, part.id
        assert part.bearing_axial < part.bearing_radial, part.id
        assert part.shaft < part.diameter / 2, part.id
