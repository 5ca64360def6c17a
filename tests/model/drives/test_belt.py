from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from gantrywright.base.errors import OutOfRange
from gantrywright.catalog import kinds
from gantrywright.model.drives.belt import BeltDrive, make
from gantrywright.model.drives.protocol import DriveParts

BELT = kinds.Belt(pitch=0.005, width=0.010, stiffness=275e3, allowed=1100.0, mass_per_length=0.04, top_speed=8.0)
PULLEY = kinds.Pulley(pitch=0.005, teeth=20, width=0.011, inertia=1e-5)


def belt(**changes: Any) -> BeltDrive:
    given = {
        "path": "axis.x.drive.main", "kind": "belt", "part": BELT, "free_length": 1.2, "travel": 0.8, "nearest": 0.2, "farthest": 1.0,
        "rise": 0.0, "pulley": PULLEY, "bracket": 1e30, "pretension": 300.0,
    } | changes  # fmt: skip
    return make(DriveParts(**given))


def test_stiffness_along_the_travel() -> None:
    """S-22: 1.500, 0.611, 0.471 N/um."""
    assert belt().axial_stiffness(np.array([0.2, 0.6, 1.0])) == pytest.approx([1.5e6, 0.611e6, 0.471e6], rel=3e-3)
    assert belt(part=replace(BELT, stiffness=None)).axial_stiffness(0.5) is None
    assert belt(part=replace(BELT, stiffness=np.array([2e5, 3e5]))).axial_stiffness(np.array([0.2, 0.6, 1.0])).shape == (2, 3)


def test_fixed_belt() -> None:
    """275 kN (1/0.6 + 1/0.6) = 0.917 N/um, and no loop that runs with the pulleys."""
    riding = belt(runs="fixed-belt")
    assert riding.axial_stiffness(0.6) == pytest.approx(0.9167e6, rel=1e-3)
    assert riding.inertia == pytest.approx(2e-5)


def test_loop_and_pulleys_turn() -> None:
    """Two pulleys 1e-5 each and 2.4 m of 0.04 kg/m on a radius of 15.915 mm: 4.43e-5."""
    assert belt().inertia == pytest.approx(2e-5 + 0.096 * 0.0159155**2, rel=1e-4)


def test_limits() -> None:
    limits = {x.reason: x.force for x in belt().load_limits()}
    assert limits == {"slack side": 300.0, "belt tension": 800.0}
    assert belt(pretension=None).load_limits() == ()
    assert belt().speed_limits()[0].speed * 0.1 / (2 * np.pi) == pytest.approx(8.0)


def test_rest() -> None:
    drive = belt()
    assert drive.travel_per_turn == pytest.approx(0.1)
    assert drive.teeth_in_mesh == 10
    assert drive.lost_motion is None
    assert drive.life(mean_force=1.0) is None
    assert drive.self_locking() == 0.0
    assert drive.lead_error() == pytest.approx(2.4e-4)
    assert drive.growth(5.0) == pytest.approx(4.6e-5)
    assert drive.back_efficiency == pytest.approx(2 - 1 / 0.96)
    assert drive.drag_torque == 0.05
    assert {w.name for w in drive.workings()} >= {"pitch_circle", "span_frequency", "tension_limit", "loop_inertia"}
    note = next(w for w in drive.workings() if w.name == "span_frequency").value
    assert note == pytest.approx(np.sqrt(300 / 0.04) / 2.4)


def test_needs_a_pulley() -> None:
    with pytest.raises(OutOfRange, match="pulley"):
        belt(pulley=None)
