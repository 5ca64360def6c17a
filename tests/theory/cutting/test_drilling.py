"""Drilling against a sum along the lips."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import drilling


@given(pilot=st.floats(0.0, 7e-3), feed=st.floats(2e-5, 5e-4), point=st.floats(1.5, np.pi))
def test_torque_and_lip_thrust_against_a_sum_along_both_lips(pilot: float, feed: float, point: float) -> None:
    edges = np.linspace(pilot / 2, 4e-3, 2001)
    radius, step = (edges[1:] + edges[:-1]) / 2, np.diff(edges)
    lip = step / np.sin(point / 2)
    force = 40e6 * drilling.chip(feed=feed, point_angle=point) * lip
    told = drilling.torque(specific_force=40e6, diameter=8e-3, pilot=pilot, feed=feed)
    assert told == pytest.approx(2 * np.sum(force * radius), rel=1e-6)
    thrust = drilling.thrust(
        specific_force=40e6, diameter=8e-3, pilot=pilot, feed=feed, point_angle=point, thrust_ratio=0.5, chisel_share=0.0
    )
    assert thrust == pytest.approx(2 * np.sum(0.5 * force * np.sin(point / 2)), rel=1e-6)


def test_a_thinned_point_pushes_less() -> None:
    plain, thinned = (
        drilling.thrust(
            specific_force=40e6, diameter=8e-3, pilot=0.0, feed=2e-4, point_angle=2.06, thrust_ratio=0.5, chisel_share=share
        )
        for share in (0.5, 0.25)
    )
    assert thinned == pytest.approx(plain * 0.5 / 0.75)


def test_a_hole_as_wide_as_the_drill_needs_no_force() -> None:
    assert drilling.torque(specific_force=40e6, diameter=8e-3, pilot=8e-3, feed=2e-4) == 0


def test_twist_of_a_round_bar() -> None:
    """Handbook case (shigley, torsion of round bars): 10 N m on 20 mm, J = pi d^4/32 = 15.708e-9 m4, tau = T r/J = 6.366 MPa."""
    assert drilling.twist_stress(torque=10.0, core=0.02) == pytest.approx(10.0 * 0.01 / (np.pi * 0.02**4 / 32))
    assert drilling.twist_stress(torque=10.0, core=0.02) / 1e6 == pytest.approx(6.366, rel=1e-3)
