"""Two drives on one gantry."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory import gantry_drives as theory


@given(st.floats(-0.5, 0.5), st.floats(0.0, 1e8))
def test_both_shares_make_one(offset: float, yaw: float) -> None:
    given_ = {"distance": 1.0, "drive_stiffness": 2e7, "yaw_stiffness": yaw}
    assert theory.drive_share(offset=offset, **given_) + theory.drive_share(offset=-offset, **given_) == pytest.approx(1.0)


def test_stiff_guides_even_the_shares_out() -> None:
    soft, stiff = (theory.drive_share(offset=0.4, distance=1.0, drive_stiffness=2e7, yaw_stiffness=yaw) for yaw in (0.0, 1e9))
    assert soft == pytest.approx(0.9)
    assert stiff == pytest.approx(0.5, abs=0.01)


def test_the_moment_of_a_stall_is_that_of_its_offset() -> None:
    offset = theory.stall_offset(thrust=1500.0, distance=1.2, yaw_stiffness=2e6)
    assert theory.racking_moment(offset=offset, distance=1.2, yaw_stiffness=2e6) == pytest.approx(
        theory.stall_moment(thrust=1500.0, distance=1.2)
    )


def test_forces_of_the_blocks_make_the_moment() -> None:
    places = [-0.2, -0.1, 0.1, 0.2]
    squares = sum(place**2 for place in places)
    outer = theory.block_force_of_yaw(moment=100.0, farthest=0.2, sum_of_squares=squares)
    assert sum(outer * place / 0.2 * place for place in places) == pytest.approx(100.0)


def test_yaw_stiffness_of_four_blocks() -> None:
    assert theory.guide_yaw_stiffness(lateral_stiffness=1e8, sum_of_squares=4 * 0.1**2) == pytest.approx(4e6)
