"""Forces of a cut: check values of the linear-edge model, identities, laws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import engagement as eg
from gantrywright.theory.cutting import forces as cf

A = cf.Coefficients(796e6, 27.7e3, 169e6, 30.8e3, 222e6, 1.4e3)
"""Coefficient set of the check values, aluminium 7050."""
MDF = cf.Coefficients(35e6, 2.5e3, 8.75e6, 2.5e3, 9.8e6, 0.0)
SLOT = (0.0, np.pi)


def mean(way: eg.Way, width: float) -> cf.MeanForces:
    start, stop = eg.engagement(diameter=6e-3, width=width, way=way)
    return cf.mean_forces(cut=A, flutes=2, depth=3e-3, feed_per_tooth=50e-6, diameter=6e-3, start=start, stop=stop)


@pytest.mark.parametrize(
    ("way", "width", "expected", "power"),
    [
        ("conventional", 6e-3, (-71.50, 112.60, 25.40, 0.47734), 899.8),  # CU-04, slot
        ("climb", 0.6e-3, (16.17, 27.50, 2.980, 0.07387), 139.2),  # CU-05
        ("conventional", 3e-3, (-81.20, 22.86, 12.70, 0.23867), 449.9),  # CU-06; power = 2 pi n T, derived
    ],
)
def test_mean_forces(way: eg.Way, width: float, expected: tuple[float, ...], power: float) -> None:
    got = mean(way, width)
    np.testing.assert_allclose((got.along_feed, got.across, got.axial, got.torque), expected, rtol=1e-3)
    speed = 18_000 * 2 * np.pi / 60
    feed = 50e-6 * 2 * 300
    identity = cf.cutting_power(cut=A, flutes=2, depth=3e-3, width=width, diameter=6e-3, feed=feed, speed=speed)
    assert identity == pytest.approx(power, rel=1e-3)
    assert got.torque * speed == pytest.approx(identity, rel=1e-9)


def test_mdf_slot() -> None:
    """CU-33."""
    means = cf.mean_forces(cut=MDF, flutes=2, depth=9e-3, feed_per_tooth=0.25e-3, diameter=6e-3, start=SLOT[0], stop=SLOT[1])
    np.testing.assert_allclose((means.along_feed, means.across, means.axial), (-24.2, 53.7, 14.0), rtol=1e-2)
    assert means.torque * 2 * np.pi * 300 == pytest.approx(410.7, rel=1e-3)


def test_ratios_and_helix_give_the_radial_and_axial_coefficients() -> None:
    got = cf.coefficients(shear=35e6, edge=2.5e3, shear_ratio=0.25, edge_ratio=1.0, helix=np.radians(30))
    np.testing.assert_allclose(
        (got.radial_shear, got.radial_edge, got.axial_shear, got.axial_edge), (8.75e6, 2.5e3, 9.8e6, 0.0), rtol=1e-9
    )
    assert cf.coefficients(shear=35e6, edge=2.5e3, shear_ratio=0.25, edge_ratio=1.0, helix=-np.radians(30)).axial_shear < 0


@given(factor=st.floats(0.1, 10))
def test_forces_grow_evenly_with_coefficients_and_depth(factor: float) -> None:
    more = cf.Coefficients(
        *(factor * getattr(A, n) for n in ("shear", "edge", "radial_shear", "radial_edge", "axial_shear", "axial_edge"))
    )
    stronger = cf.mean_forces(cut=more, flutes=2, depth=3e-3, feed_per_tooth=50e-6, diameter=6e-3, start=0.0, stop=np.pi)
    assert stronger.in_plane == pytest.approx(factor * mean("conventional", 6e-3).in_plane)
    got = cf.mean_forces(cut=A, flutes=2, depth=3e-3 * factor, feed_per_tooth=50e-6, diameter=6e-3, start=0.0, stop=np.pi)
    assert got.in_plane == pytest.approx(factor * mean("conventional", 6e-3).in_plane)


def test_halving_the_feed_does_not_halve_the_force() -> None:
    half = cf.mean_forces(cut=A, flutes=2, depth=3e-3, feed_per_tooth=25e-6, diameter=6e-3, start=0.0, stop=np.pi)
    assert 0.6 < half.in_plane / mean("conventional", 6e-3).in_plane < 0.85


def test_no_width_is_no_force() -> None:
    nothing = mean("climb", 0.0)
    assert (nothing.in_plane, nothing.axial, nothing.torque) == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)


def test_samples_are_answered_one_by_one() -> None:
    shear, depth = np.array([500e6, 796e6]), np.array([2e-3, 3e-3])
    many = cf.coefficients(shear=shear, edge=np.array([1e4, 2e4]), shear_ratio=0.25, edge_ratio=1.0, helix=0.5)
    got = cf.mean_forces(cut=many, flutes=2, depth=depth, feed_per_tooth=5e-5, diameter=6e-3, start=0.0, stop=2.0)
    for i in range(2):
        one = cf.coefficients(shear=shear[i], edge=(1e4, 2e4)[i], shear_ratio=0.25, edge_ratio=1.0, helix=0.5)
        alone = cf.mean_forces(cut=one, flutes=2, depth=depth[i], feed_per_tooth=5e-5, diameter=6e-3, start=0.0, stop=2.0)
        assert got.in_plane[i] == pytest.approx(alone.in_plane)  # type: ignore[index]


def test_feed_per_tooth() -> None:
    assert eg.feed_per_tooth(feed=0.05, speed=18_000 * np.pi / 30, flutes=2) == pytest.approx(0.05 / 600)
