import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting.fasteners import screw_withdrawal, wood_screw_clamp
from gantrywright.theory.cutting.screw_shear import bearing_strength, screw_shear, screw_yield_moment, screws_hold

LIKE = {"work_bearing": 40e6, "board_bearing": 40e6, "diameter": 0.004}
SIDE = st.floats(0.004, 0.03)
PRESSURE = st.floats(1e7, 1e8)


def test_stiff_screw_in_two_like_boards_tilts_at_the_root_of_two_less_one() -> None:
    force = screw_shear(work_thickness=0.012, board_depth=0.012, yield_moment=1e3, **LIKE)
    assert force == pytest.approx((np.sqrt(2) - 1) * 40e6 * 0.004 * 0.012)


def test_long_thin_screw_bends_at_the_root_of_moment_and_bearing() -> None:
    force = screw_shear(work_thickness=0.03, board_depth=0.03, yield_moment=1.0, **LIKE)
    assert force == pytest.approx(np.sqrt(2 * 1.0 * 40e6 * 0.004))


def test_thin_soft_work_is_crushed() -> None:
    force = screw_shear(
        work_bearing=1e6, board_bearing=60e6, work_thickness=0.003, board_depth=0.03, diameter=0.004, yield_moment=50.0
    )
    assert force == pytest.approx(1e6 * 0.004 * 0.003)


@given(one=PRESSURE, other=PRESSURE, deep=SIDE, into=SIDE, moment=st.floats(0.5, 50.0))
def test_it_does_not_matter_which_side_is_called_the_work(
    one: float, other: float, deep: float, into: float, moment: float
) -> None:
    there = screw_shear(
        work_bearing=one, board_bearing=other, work_thickness=deep, board_depth=into, diameter=0.004, yield_moment=moment
    )
    back = screw_shear(
        work_bearing=other, board_bearing=one, work_thickness=into, board_depth=deep, diameter=0.004, yield_moment=moment
    )
    assert there == pytest.approx(back, rel=1e-9)


@given(one=PRESSURE, deep=SIDE, into=SIDE, moment=st.floats(0.5, 50.0), factor=st.floats(0.1, 10.0))
def test_all_strengths_together_scale_the_force(one: float, deep: float, into: float, moment: float, factor: float) -> None:
    def force(scale: float) -> float:
        return float(
            screw_shear(
                work_bearing=one * scale, board_bearing=3e7 * scale, work_thickness=deep, board_depth=into, diameter=0.004,
                yield_moment=moment * scale,
            )
        )  # fmt: skip

    assert force(factor) == pytest.approx(factor * force(1.0), rel=1e-9)


def test_screws_hold_far_more_sideways_than_by_friction() -> None:
    bearing = bearing_strength(density=740.0, diameter=0.004)
    moment = screw_yield_moment(strength=600e6, diameter=0.003)
    shear = screws_hold(
        count=1,
        each=screw_shear(
            work_bearing=bearing,
            board_bearing=bearing,
            work_thickness=0.012,
            board_depth=0.012,
            diameter=0.003,
            yield_moment=moment,
        ),
    )
    friction = 0.2 * wood_screw_clamp(specific_gravity=0.66, diameter=0.004, length=0.012)
    assert shear > 2 * friction
    assert friction < 0.05 * screw_withdrawal(specific_gravity=0.66, diameter=0.004, length=0.012) * (1 + 1e-9)


def test_samples_are_each_worked_alone() -> None:
    bearing = np.array([2e7, 4e7, 8e7])
    rest = {"board_bearing": 4e7, "work_thickness": 0.01, "board_depth": 0.015, "diameter": 0.004, "yield_moment": 6.0}
    got = screw_shear(work_bearing=bearing, **rest)
    np.testing.assert_allclose(got, [screw_shear(work_bearing=float(one), **rest) for one in bearing])
