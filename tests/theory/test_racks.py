import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.base.errors import OutOfRange
from gantrywright.theory import racks


@given(st.floats(0.0, 0.5))
def test_helix_makes_the_pitch_circle_larger(helix: float) -> None:
    straight = racks.travel_per_turn(module=0.002, teeth=20, helix=0.0)
    assert racks.travel_per_turn(module=0.002, teeth=20, helix=helix) * np.cos(helix) == pytest.approx(straight)


def test_force_limit_and_stress_are_one_law() -> None:
    tooth = {"width": 0.015, "module": 0.0015, "form": 0.32}
    force = racks.tooth_force_limit(strength=150e6, **tooth)
    assert force == pytest.approx(1080.0)
    assert racks.root_stress(force=force, **tooth) == pytest.approx(150e6)


def test_helical_teeth_count_as_more_teeth() -> None:
    assert racks.lewis_form(teeth=20, helix=np.radians(19.5)) > racks.lewis_form(teeth=20, helix=0.0)
    assert racks.lewis_form(teeth=500, helix=0.0) == pytest.approx(0.447)


def test_undercut_pinion_is_refused() -> None:
    with pytest.raises(OutOfRange, match="undercut"):
        racks.lewis_form(teeth=10, helix=0.0)


def test_forces_on_the_pinion() -> None:
    assert racks.separating_force(force=1000.0, helix=0.0) == pytest.approx(1000 * np.tan(np.radians(20)))
    assert racks.side_thrust(force=1000.0, helix=0.0) == 0.0
    assert racks.side_thrust(force=1000.0, helix=np.radians(19.5283)) == pytest.approx(354.7, rel=1e-3)


def test_pinion_torque_by_hand() -> None:
    """1000 N on a pitch radius of 10 mm is 10 N m before the loss."""
    assert racks.pinion_torque(force=1000.0, travel_per_turn=0.02 * np.pi, efficiency=0.95) == pytest.approx(10 / 0.95)


def test_mesh_is_as_stiff_as_it_is_wide() -> None:
    assert racks.mesh_stiffness(width=np.array([0.01, 0.02])) == pytest.approx([200e6, 400e6])
