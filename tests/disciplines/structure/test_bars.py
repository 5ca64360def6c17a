"""Bars of members whose sections are not alike on both sides: unsymmetrical bending and the shear centre by closed form."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drawn_member import STEEL, E, G, bar_of, give_at, member, section_of
from gantrywright.catalog import kinds
from gantrywright.model.bodies import Member
from gantrywright.model.frame import Vector, along
from gantrywright.theory.sections import Geometry

ANGLE = Geometry(shape="angle", width=0.05, height=0.05, wall=0.005, radius=0.007)
UNEQUAL = Geometry(shape="angle", width=0.04, height=0.08, wall=0.006, radius=0.007)
CHANNEL = Geometry(shape="channel", width=0.05, height=0.1, wall=0.0085, web=0.006)
TUBE = Geometry(shape="tube", width=0.05, height=0.08, wall=0.003)
shapes = pytest.mark.parametrize("shape", [ANGLE, UNEQUAL, CHANNEL, TUBE], ids=["equal", "unequal", "channel", "tube"])


def place(one: Member, spot: tuple[float, float]) -> Vector:
    """A spot of the section (width, height from the middle of its box) at the free end."""
    return along(along(one.stop, one.width_axis, spot[0]), one.height_axis, spot[1])


@shapes
@pytest.mark.parametrize("hand", [1.0, -1.0])
def test_tip_load_of_a_cantilever_bends_it_askew_as_the_handbook_says(shape: Geometry, hand: float) -> None:
    """A load through the shear centre: L^3/(3 E (I_h I_w - P^2)) times [[I_w, -P], [-P, I_h]] along height and width.

    Unsymmetrical bending as in every text on strength of materials (Timoshenko; from memory). Shear is left out of the bar.
    """
    one = member(shape, hand=hand)
    section = one.section
    height, width, product = section.second_moment_height, section.second_moment_width, section.product
    wanted = 1 / (3 * E * (height * width - product**2)) * np.array([[width, -product], [-product, height]])
    give = give_at(replace(bar_of(one), shear_height=inf, shear_width=inf), place(one, section.shear_centre))
    ways = np.array([one.height_axis, one.width_axis])
    assert ways @ give[:3, :3] @ ways.T == pytest.approx(wanted, rel=1e-6, abs=1e-12)
    assert np.abs(give[3, :3]).max() < 1e-9 * np.abs(give[4:, :3]).max()  # it does not twist


@shapes
def test_a_load_beside_the_shear_centre_twists_by_its_arm(shape: Geometry) -> None:
    """Twist e L/(G J) under 1 N along the height at the middle of the section's box; its turn lets the load sink by e more of it."""
    one = member(shape)
    section, bar = one.section, bar_of(one)
    arm = -section.shear_centre[0]  # of a force along the height, in the width
    at_middle, at_centre = give_at(bar, place(one, (0.0, 0.0))), give_at(bar, place(one, section.shear_centre))
    twist = arm / (G * float(section.torsion or 0))
    up = np.array([*one.height_axis])
    assert abs(at_middle[3, :3] @ up) == pytest.approx(abs(twist), rel=1e-6, abs=1e-15)
    more = up @ (at_middle - at_centre)[:3, :3] @ up
    assert more == pytest.approx(twist * arm, rel=1e-6, abs=1e-15)


@shapes
def test_a_pull_through_the_centroid_bends_nothing(shape: Geometry) -> None:
    one = member(shape)
    give = give_at(bar_of(one), place(one, one.section.centre))
    assert give[0, 0] == pytest.approx(1 / (E * one.section.area), rel=1e-6)
    assert np.abs(give[1:, 0]).max() < 1e-6 * give[0, 0]


def test_the_weak_axis_of_an_equal_angle_lies_square_to_its_diagonal() -> None:
    """50 x 50 x 5: I_u 17.4 and I_v 4.55 cm4 about the diagonals, as rolled-section tables print (from memory)."""
    bar = bar_of(member(ANGLE))
    assert sorted((bar.bend_height / E * 1e8, bar.bend_width / E * 1e8)) == pytest.approx([4.55, 17.4], rel=0.01)
    assert abs(bar.height_axis[1]) == pytest.approx(abs(bar.height_axis[2])) == pytest.approx(0.5**0.5)


@settings(max_examples=30, deadline=None)
@given(
    st.floats(0.02, 0.12), st.floats(0.02, 0.12), st.floats(0.05, 0.3), st.sampled_from([1.0, -1.0]),
    st.sampled_from([(1.0, 0.0, 0.0), (0.0, 0.7, 0.7), (0.3, -0.5, 0.2)]),
)  # fmt: skip
def test_second_moments_of_any_ring_are_the_same_tensor_turned(
    width: float, height: float, cut: float, hand: float, stop: Vector
) -> None:
    """A rectangle with one corner cut off: bending about any way, seen in the machine's axes, is that of height and width."""
    x, y = width / 2, height / 2
    ring = ((-x, -y), (x, -y), (x, y - cut * height), (x - cut * width, y), (-x, y))
    upright = np.cross(stop, (0.1, 0.9, 0.3))
    upright /= np.linalg.norm(upright)
    one = member(Geometry(shape="outline", width=width, height=height, points=ring), stop=stop, height=tuple(upright), hand=hand)
    bar, section = bar_of(one), one.section
    first, along_bar = np.array(bar.height_axis), np.array(stop) / np.linalg.norm(stop)
    second = np.cross(along_bar, first)
    found = bar.bend_height * np.outer(first, first) + bar.bend_width * np.outer(second, second)
    up, out = np.array(one.height_axis), np.array(one.width_axis)
    wanted = E * (
        section.second_moment_height * np.outer(up, up)
        + section.second_moment_width * np.outer(out, out)
        + section.product * (np.outer(up, out) + np.outer(out, up))
    )
    assert found == pytest.approx(wanted, rel=1e-9, abs=1e-9 * np.trace(wanted))


def test_samples_keep_the_axes_of_the_typical_section() -> None:
    soft = np.array([0.9, 1.0, 1.2]) * E
    one = replace(member(UNEQUAL), material=kinds.Material(id="steel", density=7850.0, modulus=soft, shear_modulus=soft / 2.6))
    bar, typical = bar_of(one), bar_of(replace(one, material=STEEL))
    assert bar.height_axis == pytest.approx(typical.height_axis)
    assert bar.bend_width / typical.bend_width == pytest.approx(soft / E)


def test_a_filling_of_a_crooked_hollow_bends_with_it() -> None:
    """A hollow whose metal is the same as its filling is a solid bar but for torsion."""
    ring = ((-0.03, -0.03), (0.03, -0.03), (0.03, 0.0), (0.0, 0.03), (-0.03, 0.03))
    hole = tuple((0.8 * x - 0.001, 0.8 * y - 0.001) for x, y in ring)
    hollow = member(Geometry(shape="outline", width=0.06, height=0.06, points=ring, openings=(hole,)))
    filled = bar_of(replace(hollow, filling=STEEL))
    solid = section_of(Geometry(shape="outline", width=0.06, height=0.06, points=ring))
    whole = solid.second_moment_height + solid.second_moment_width
    assert filled.axial == pytest.approx(E * solid.area, rel=1e-9)
    assert (filled.bend_height + filled.bend_width) / E == pytest.approx(whole, rel=0.02)  # about the centroid of the metal
