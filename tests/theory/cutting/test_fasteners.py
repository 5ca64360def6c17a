import numpy as np
import pytest

from gantrywright.theory.bolts import preload_of_torque
from gantrywright.theory.cutting.fasteners import (
    path_clearance,
    row_force,
    screw_clamp_force,
    screw_withdrawal,
    strap_force,
    tape_force,
    tape_use,
    wood_screw_clamp,
)


def test_nut_factor_agrees_with_the_thread_that_it_stands_for() -> None:
    """A dry M8 with friction 0.15 in thread and under the head."""
    exact = preload_of_torque(
        torque=10.0, diameter=0.008, pitch=0.00125, thread_friction=0.15, head_friction=0.15, head_bearing=0.01163, hole=0.009
    )
    assert screw_clamp_force(torque=10.0, diameter=0.008) == pytest.approx(exact, rel=0.06)


def test_strap_shares_the_screw_between_work_and_heel() -> None:
    work, heel = strap_force(screw=900.0, to_work=0.03, to_heel=0.06), strap_force(screw=900.0, to_work=0.06, to_heel=0.03)
    assert (work, heel) == (pytest.approx(600.0), pytest.approx(300.0))


def test_row_is_held_by_the_weaker_of_screw_and_slot() -> None:
    np.testing.assert_allclose(row_force(count=4, screw=np.array([1000.0, 8000.0]), slot=5000.0), [4000.0, 20000.0])


def test_wood_screw_grows_with_the_square_of_the_density() -> None:
    light, dense = (screw_withdrawal(specific_gravity=g, diameter=0.004, length=0.02) for g in (0.35, 0.7))
    assert dense == pytest.approx(4 * light)
    assert wood_screw_clamp(specific_gravity=0.7, diameter=0.004, length=0.02) == pytest.approx(dense / 4)


def test_tape_comes_off_at_its_shear_alone_and_at_its_pull_alone() -> None:
    tape = {"shear_strength": 40e3, "tensile_strength": 20e3, "area": 0.01}
    assert tape_use(push=tape_force(strength=40e3, area=0.01), lift=0.0, **tape) == pytest.approx(1.0)
    assert tape_use(push=0.0, lift=tape_force(strength=20e3, area=0.01), **tape) == pytest.approx(1.0)
    assert tape_use(push=200.0, lift=-500.0, **tape) == pytest.approx(0.5)
    assert tape_use(push=200.0, lift=0.0, share=0.5, **tape) == pytest.approx(1.0)


def test_cutter_stays_clear_of_a_screw_head() -> None:
    gap = path_clearance(cutter=0.006, fastener=0.008) - 0.003 - 0.004
    assert gap == pytest.approx(0.005)
