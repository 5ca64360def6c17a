"""The oblique edge against forces drawn up as vectors on the rake face and in the shear plane."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting.oblique import ShearCoefficients, oblique


def by_vectors(stress: float, shear: float, friction: float, rake: float, inclination: float, flow: float) -> np.ndarray:
    """Tangential, radial, axial force per chip area: friction along the chip's path, shear stress over the shear plane.

    Axes: x across the edge along the cut surface, y out of it, z along the edge. The tool moves along x and, by the inclination, along z.
    """
    up_the_rake, out_of_rake = np.array([-np.sin(rake), np.cos(rake), 0.0]), np.array([np.cos(rake), np.sin(rake), 0.0])
    edge = np.array([0.0, 0.0, 1.0])
    path = np.cos(flow) * up_the_rake + np.sin(flow) * edge
    on_chip = out_of_rake - np.tan(friction) * path
    in_shear_plane = np.hypot(on_chip @ (np.cos(shear), np.sin(shear), 0.0), on_chip @ edge)
    area = 1 / (np.cos(inclination) * np.sin(shear))
    force = on_chip * stress * area / in_shear_plane
    velocity = np.array([np.cos(inclination), 0.0, -np.sin(inclination)])
    beside = np.array([np.sin(inclination), 0.0, np.cos(inclination)])
    return np.array([force @ velocity, -force[1], force @ beside])


def told(*angles: float, stress: float = 300e6) -> ShearCoefficients:
    shear, friction, rake, inclination, flow = angles
    return oblique(
        shear_stress=stress, shear_angle=shear, friction_angle=friction, rake=rake, inclination=inclination, chip_flow=flow
    )


@given(
    shear=st.floats(0.2, 0.9), friction=st.floats(0.1, 0.8), rake=st.floats(-0.1, 0.4), inclination=st.floats(-0.8, 0.8),
    flow=st.floats(-0.8, 0.8),
)  # fmt: skip
def test_vectors_give_the_same(shear: float, friction: float, rake: float, inclination: float, flow: float) -> None:
    got = told(shear, friction, rake, inclination, flow)
    expected = by_vectors(300e6, shear, friction, rake, inclination, flow)
    np.testing.assert_allclose((got.tangential, got.radial, got.axial), expected, rtol=1e-9, atol=1.0)


def test_a_straight_edge_is_orthogonal_cutting() -> None:
    got = told(0.5, 0.45, 0.1, 0.0, 0.0)
    assert got.tangential == pytest.approx(300e6 * np.cos(0.35) / (np.sin(0.5) * np.cos(0.85)))
    assert got.radial == pytest.approx(got.tangential * np.tan(0.35))
    assert got.axial == 0


def test_axial_coefficient_of_a_usual_helix_is_near_three_tenths_of_the_tangential() -> None:
    helix = np.radians(30)
    for rake in np.radians([0, 5, 10, 15]):
        got = told(np.radians(28), np.radians(25), rake, helix, helix)
        assert 0.25 < got.axial / got.tangential < 0.34


@given(inclination=st.floats(0.0, 0.8))
def test_the_other_hand_of_helix_turns_the_axial_force_round(inclination: float) -> None:
    one, other = told(0.5, 0.45, 0.1, inclination, inclination), told(0.5, 0.45, 0.1, -inclination, -inclination)
    assert (one.tangential, one.radial, one.axial) == pytest.approx((other.tangential, other.radial, -other.axial))
