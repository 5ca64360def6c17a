import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting.hold_down import (
    clamp_spacing,
    gaping_use,
    lift_pull,
    pressing_force,
    sheet_rise,
    slip_push,
    slip_use,
    smallest_area,
    strip_bending,
    tipping_use,
)

FORCE = st.floats(1.0, 1e4)
RATIO = st.floats(0.05, 0.6)


@given(pressing=FORCE, friction=RATIO, share=st.floats(0.3, 1.0))
def test_push_that_just_slips_uses_all(pressing: float, friction: float, share: float) -> None:
    push = slip_push(pressing=pressing, friction=friction, share=share)
    assert slip_use(push=push, pressing=pressing, friction=friction, share=share) == pytest.approx(1.0)


@given(push=FORCE, pressure=st.floats(5e3, 8e4), friction=RATIO, lift=st.floats(0.0, 200.0), share=st.floats(0.3, 1.0))
def test_smallest_part_is_just_used_up(push: float, pressure: float, friction: float, lift: float, share: float) -> None:
    area = smallest_area(push=push, pressure=pressure, friction=friction, lift=lift, share=share, safety=1.0)
    pressing = pressing_force(pressure=pressure, area=area)
    assert slip_use(push=push, pressing=pressing, friction=friction, lift=lift, share=share) == pytest.approx(1.0)


def test_lift_as_large_as_what_presses_leaves_nothing() -> None:
    assert slip_push(pressing=100.0, friction=0.3, lift=100.0) == 0.0
    assert slip_use(push=1.0, pressing=100.0, friction=0.3, lift=120.0) == np.inf
    assert lift_pull(pressing=100.0, safety=2.0) == 50.0


def test_a_cut_that_presses_helps_against_slipping() -> None:
    assert slip_push(pressing=100.0, friction=0.5, lift=-40.0) == pytest.approx(70.0)


def test_weight_and_clamps_press_with_the_vacuum() -> None:
    assert pressing_force(pressure=20e3, area=0.01, mass=2.0, clamps=100.0) == pytest.approx(200.0 + 19.6133 + 100.0)


@given(push=FORCE, height=st.floats(0.001, 0.1), width=st.floats(0.02, 0.5), pressing=FORCE)
def test_face_gapes_at_a_third_of_what_tips_it(push: float, height: float, width: float, pressing: float) -> None:
    tips = tipping_use(push=push, height=height, pressing=pressing, lever=width / 2)
    gapes = gaping_use(push=push, height=height, pressing=pressing, width=width)
    assert gapes == pytest.approx(3 * tips)


def test_lift_at_the_far_edge_tips_at_half_of_what_presses() -> None:
    """No push: a pull at one edge lifts it when its moment about the other is that of what presses."""
    assert tipping_use(push=0.0, height=0.02, pressing=100.0, lever=0.05, lift=50.0, lift_lever=0.1) == pytest.approx(1.0)


def test_lift_at_the_edge_opens_it_at_a_quarter_of_what_presses() -> None:
    """Pressure at that edge is (N - L)/A - 6 L (b/2)/(A b) = 0 at L = N/4."""
    assert gaping_use(push=0.0, height=0.02, pressing=100.0, width=0.1, lift=25.0, lift_lever=0.1) == pytest.approx(1.0)


def test_nothing_that_presses_holds_nothing() -> None:
    assert tipping_use(push=1.0, height=0.1, pressing=0.0, lever=0.1) == np.inf
    assert gaping_use(push=1.0, height=0.1, pressing=5.0, width=0.1, lift=5.0) == np.inf


@given(lift=FORCE, rise=st.floats(1e-5, 1e-3), held=st.floats(0.0, 1.0))
def test_spacing_gives_the_rise_that_is_wanted(lift: float, rise: float, held: float) -> None:
    bending = strip_bending(modulus=3e9, width=0.2, thickness=0.006)
    span = clamp_spacing(lift=lift, bending=bending, rise=rise, held=held)
    assert sheet_rise(lift=lift, span=span, bending=bending, held=held) == pytest.approx(rise)


def test_sheet_that_its_clamps_hold_level_rises_a_quarter() -> None:
    free, level = (sheet_rise(lift=20.0, span=0.3, bending=10.0, held=held) for held in (0.0, 1.0))
    assert free == pytest.approx(20.0 * 0.3**3 / (48 * 10.0))
    assert level == pytest.approx(free / 4)


def test_samples_are_each_worked_alone() -> None:
    friction, lift = np.array([0.2, 0.3, 0.3]), np.array([0.0, 50.0, 200.0])
    got = slip_use(push=20.0, pressing=150.0, friction=friction, lift=lift)
    np.testing.assert_allclose(got, [20 / 30, 20 / 30, np.inf])
    np.testing.assert_allclose(
        tipping_use(push=friction, height=1.0, pressing=np.array([1.0, 1.0, 0.0]), lever=1.0), [0.2, 0.3, np.inf]
    )
