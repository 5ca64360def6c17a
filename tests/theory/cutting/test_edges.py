"""Stretches of the edge: where they lie, what they meet, how their forces point."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gantrywright.theory.cutting import edges
from gantrywright.theory.cutting.cycle import force_cycle
from gantrywright.theory.cutting.engagement import Way
from gantrywright.theory.cutting.forces import Coefficients, mean_forces

A = Coefficients(796e6, 27.7e3, 169e6, 30.8e3, 222e6, 1.4e3)


def test_compression_halves_pull_against_each_other() -> None:
    def lift(depth: float) -> float:
        edge = edges.compression(depth=depth, diameter=6e-3, helix=0.5, up_cut=4e-3, start=0.0, stop=np.pi)
        return float(edges.mean_over(cut=A, edge=edge, flutes=2, feed_per_tooth=50e-6).axial)

    assert lift(8e-3) == pytest.approx(0.0, abs=1e-9)
    assert lift(3e-3) > 0 > lift(12e-3)
    up_cut = edges.end_mill(depth=3e-3, diameter=6e-3, helix=0.5, start=0.0, stop=np.pi)
    assert lift(3e-3) == pytest.approx(edges.mean_over(cut=A, edge=up_cut, flutes=2, feed_per_tooth=50e-6).axial)


def test_effective_diameters() -> None:
    assert edges.ball_diameter(depth=3e-3, diameter=6e-3) == pytest.approx(6e-3)
    assert edges.ball_diameter(depth=5e-3, diameter=6e-3) == pytest.approx(6e-3)
    assert edges.ball_diameter(depth=0.5e-3, diameter=6e-3) == pytest.approx(2 * np.sqrt(3e-3**2 - 2.5e-3**2))
    assert edges.v_diameter(depth=20e-3, diameter=12e-3, tip=0.0, included_angle=1.0) == pytest.approx(12e-3)
    assert edges.v_diameter(depth=1e-3, diameter=12e-3, tip=0.5e-3, included_angle=np.radians(60)) == pytest.approx(
        0.5e-3 + 2e-3 / np.sqrt(3)
    )


@given(depth=st.floats(0.1e-3, 9e-3), width=st.floats(0.2e-3, 6e-3), way=st.sampled_from(["climb", "conventional"]))
@settings(max_examples=60)
def test_slices_of_a_ball_fill_the_depth_and_remove_what_lies_in_its_way(depth: float, width: float, way: Way) -> None:
    edge = edges.ball_nose(depth=depth, diameter=6e-3, helix=0.5, width=width, way=way, slices=200)
    assert sum(part.height for part in edge) == pytest.approx(depth)
    # power by shear alone is the coefficient times the volume: section of the ball beside the stock's face
    shear = edges.mean_over(cut=Coefficients(1e9, 0.0, 0.0, 0.0), edge=edge, flutes=2, feed_per_tooth=50e-6)
    turned = [part.height * part.diameter / 2 * (np.cos(part.start) - np.cos(part.stop)) for part in edge]
    radius = np.sqrt(np.maximum(9e-6 - np.maximum(3e-3 - np.linspace(0, depth, 20_001), 0) ** 2, 0))
    face = radius[-1] - width
    section = np.trapezoid(np.clip(radius - face, 0.0, 2 * radius), np.linspace(0, depth, 20_001))
    assert sum(turned) == pytest.approx(section, rel=5e-3, abs=1e-9)
    assert shear.torque * 2 * np.pi == pytest.approx(1e9 * 2 * 50e-6 * section, rel=5e-3, abs=1e-9)


def test_a_ball_presses_where_an_end_mill_pulls() -> None:
    """The work under a ball pushes it up, more than a usual helix pulls it down."""
    ball = edges.ball_nose(depth=1e-3, diameter=6e-3, helix=0.5, width=6e-3, way="climb")
    mill = edges.end_mill(depth=1e-3, diameter=6e-3, helix=0.5, start=0.0, stop=np.pi)
    pressing, pulling = (edges.mean_over(cut=A, edge=edge, flutes=2, feed_per_tooth=50e-6).axial for edge in (ball, mill))
    assert pressing < 0 < pulling


def test_more_slices_hardly_change_the_means() -> None:
    for width, way in ((6e-3, "conventional"), (1e-3, "climb"), (1.5e-3, "conventional")):
        few, many = (
            edges.mean_over(
                cut=A, edge=edges.ball_nose(depth=2e-3, diameter=6e-3, helix=0.5, width=width, way=way, slices=n), flutes=2,
                feed_per_tooth=50e-6,
            )
            for n in (edges.SLICES, 200)
        )  # fmt: skip
        scale = many.in_plane
        assert few.torque == pytest.approx(many.torque, rel=1e-2)
        assert (few.along_feed, few.across, few.axial) == pytest.approx(
            (many.along_feed, many.across, many.axial), abs=1.5e-2 * scale
        )


def test_means_of_a_ball_are_those_of_its_trace() -> None:
    edge = edges.ball_nose(depth=2e-3, diameter=6e-3, helix=0.5, width=1e-3, way="climb")
    trace = force_cycle(cut=A, edge=edge, flutes=2, feed_per_tooth=50e-6, run_out=0.0, run_out_angle=0.0).mean
    closed = edges.mean_over(cut=A, edge=edge, flutes=2, feed_per_tooth=50e-6)
    assert (trace.along_feed, trace.across, trace.axial) == pytest.approx(
        (closed.along_feed, closed.across, closed.axial), abs=5e-3 * closed.in_plane
    )


def test_a_v_bit_that_hardly_opens_is_an_end_mill() -> None:
    thin = edges.v_bit(depth=3e-3, diameter=7e-3, tip=6e-3, included_angle=1e-4, width=7e-3, way="conventional")
    got = edges.mean_over(cut=A, edge=thin, flutes=2, feed_per_tooth=50e-6)
    mill = mean_forces(cut=A, flutes=2, depth=3e-3, feed_per_tooth=50e-6, diameter=6e-3, start=0.0, stop=np.pi)
    assert (got.along_feed, got.across, got.torque) == pytest.approx((mill.along_feed, mill.across, mill.torque), rel=1e-3)


def test_a_blunter_v_presses_more() -> None:
    def press(included: float) -> float:
        edge = edges.v_bit(
            depth=2e-3, diameter=20e-3, tip=0.0, included_angle=np.radians(included), width=20e-3, way="conventional"
        )
        straight = Coefficients(35e6, 2.5e3, 8.75e6, 2.5e3)
        return -float(edges.mean_over(cut=straight, edge=edge, flutes=2, feed_per_tooth=0.1e-3).axial)

    assert 0 < press(30) < press(60) < press(90) < press(120)


def test_sampled_edges_are_answered_one_by_one() -> None:
    depth, width = np.array([0.5e-3, 2e-3, 5e-3]), np.array([6e-3, 1e-3, 2e-3])
    together = edges.ball_nose(depth=depth, diameter=6e-3, helix=0.5, width=width, way="climb")
    run_out = np.array([0.0, 5e-6, 10e-6])
    trace = force_cycle(cut=A, edge=together, flutes=2, feed_per_tooth=50e-6, run_out=run_out, run_out_angle=0.0)
    for i in range(3):
        alone = edges.ball_nose(depth=depth[i], diameter=6e-3, helix=0.5, width=width[i], way="climb")
        one = force_cycle(cut=A, edge=alone, flutes=2, feed_per_tooth=50e-6, run_out=run_out[i], run_out_angle=0.0)
        np.testing.assert_allclose(trace.axial[i], one.axial, atol=1e-6 * np.abs(one.axial).max())
