from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from gantrywright.base.errors import OutOfRange
from gantrywright.catalog import kinds
from gantrywright.model.drives.protocol import DriveParts
from gantrywright.model.drives.rack import RackDrive, make
from simple_machine import COUPLING

RACK = kinds.Rack(module=0.001, width=0.015, helix=0.0)
PINION = kinds.Pinion(module=0.001, teeth=20, width=0.012, helix=0.0, strength=150e6, play=1e-4)


def rack(**changes: Any) -> RackDrive:
    given = {
        "path": "axis.y.drive.left", "kind": "rack", "part": RACK, "free_length": 1.5, "travel": 1.2, "nearest": 0.1, "farthest": 1.3,
        "rise": 0.0, "pinion": PINION, "bracket": 100e6,
    } | changes  # fmt: skip
    return make(DriveParts(**given))


def test_travel_and_backlash() -> None:
    """S-21."""
    assert rack().travel_per_turn == pytest.approx(62.832e-3, rel=5e-4)
    assert rack(travel_per_turn=0.0629).travel_per_turn == 0.0629
    assert rack().lost_motion == pytest.approx(0.0728e-3, rel=1e-3)


def test_spring_takes_the_play_and_caps_the_push() -> None:
    held = rack(pinion=replace(PINION, preload=200.0))
    assert held.lost_motion == 0.0
    force = next(x.force for x in held.load_limits() if x.reason == "pinion spring")
    assert force == pytest.approx(200 / np.tan(np.radians(20.0)))


def test_tooth_root_on_the_narrower_face() -> None:
    """150 MPa x 12 mm x 1 mm x 0.322 = 580 N."""
    assert next(x.force for x in rack().load_limits() if x.reason == "tooth root") == pytest.approx(579.6, rel=1e-3)
    assert rack(part=replace(RACK, width=None), pinion=replace(PINION, width=None)).load_limits() == ()


def test_stiffness_is_the_same_everywhere() -> None:
    """Mesh 240 N/um and bracket 100 in a row: 70.6 N/um; a coupling of 60 N m/rad takes it to 0.6."""
    assert rack().axial_stiffness(np.array([0.1, 1.3])) == pytest.approx([70.6e6, 70.6e6], rel=1e-3)
    assert rack(coupling=COUPLING).axial_stiffness(0.5) == pytest.approx(0.5949e6, rel=1e-3)
    assert rack(part=replace(RACK, width=None), pinion=replace(PINION, width=None)).axial_stiffness(0.5) is None
    assert rack(bracket=np.array([50e6, 100e6])).axial_stiffness(np.array([0.1, 0.5, 0.9])).shape == (2, 3)


def test_rest() -> None:
    drive = rack()
    assert drive.inertia == pytest.approx(np.pi * 7850 * 0.012 * 0.02**4 / 32)
    assert rack(pinion=replace(PINION, inertia=1e-6)).inertia == 1e-6
    assert drive.back_efficiency == pytest.approx(2 - 1 / drive.efficiency)
    assert drive.self_locking() == 0.0
    assert drive.life(mean_force=1.0) is None
    assert drive.lead_error() == pytest.approx(1.2e-4)
    assert drive.growth(10.0) == pytest.approx(1.38e-4)
    assert drive.speed_limits() == ()
    assert drive.drag_torque == 0.02
    assert {w.name for w in drive.workings()} == {
        "pitch_circle",
        "opening_backlash",
        "lead_error_by_rate",
        "pinion_inertia",
        "tooth_force_limit",
    }


def test_needs_a_pinion() -> None:
    with pytest.raises(OutOfRange, match="pinion"):
        rack(pinion=None)
