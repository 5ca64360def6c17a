from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from gantrywright.catalog import kinds
from gantrywright.model.drives.lead_screw import LeadScrewDrive, make
from gantrywright.model.drives.protocol import DriveParts
from simple_machine import BEARING

TR16 = kinds.LeadScrew(diameter=0.016, root=0.0115, lead=0.004, starts=1, flank=np.radians(30.0), drag=0.03)
NUT = kinds.Nut(friction=0.12, length=0.032, backlash=1e-4, pressure=5e6, pressure_speed=0.5e6)


def screw(**changes: Any) -> LeadScrewDrive:
    given = {
        "path": "axis.z.drive.main", "kind": "lead-screw", "part": TR16, "free_length": 0.5, "travel": 0.3, "nearest": 0.1,
        "farthest": 0.4, "rise": 1.0, "nut": NUT, "bearing": BEARING,
    } | changes  # fmt: skip
    return make(DriveParts(**given))


def test_single_start_locks() -> None:
    """S-16."""
    assert screw().efficiency == pytest.approx(0.418, rel=3e-3)
    assert screw().back_efficiency == 0.0
    assert screw().self_locking() == 1.0


def test_four_starts_do_not() -> None:
    """S-17: 8 x 8."""
    drive = screw(part=replace(TR16, diameter=0.008, root=0.0055, lead=0.008, starts=4))
    assert drive.efficiency == pytest.approx(0.712, rel=3e-3)
    assert drive.self_locking() == 0.0
    assert drive.back_efficiency == pytest.approx(0.802 * 2 * np.pi / 8, rel=3e-3)


def test_flank_pressure_limit_and_heat() -> None:
    """S-20: 703.7 mm2; half of 5 MPa on it is 1759 N; 800 N at 300 turns a minute is 0.251 MPa m/s."""
    force = next(x.force for x in screw().load_limits() if x.reason == "flank pressure")
    assert force == pytest.approx(1759, rel=1e-3)
    assert screw().pressure_speed(force=-800.0, turning_speed=10 * np.pi) == pytest.approx(0.251e6, rel=3e-3)


def test_unknown_nut_is_unknown() -> None:
    assert screw(nut=None).pressure_speed(force=800.0, turning_speed=1.0) is None
    assert [x.reason for x in screw(nut=None).load_limits()] == ["buckling"]
    assert screw(nut=None).lost_motion is None
    assert screw().life(mean_force=100.0) is None


def test_defaults_and_given_values() -> None:
    assert screw().drag_torque == pytest.approx(0.05)
    assert screw().lead_error() == pytest.approx(3e-4 * 0.3)
    assert screw(part=replace(TR16, lead_error=1e-4)).lead_error() == pytest.approx(3e-5)
    assert screw(efficiency=0.3).efficiency == 0.3
    assert screw(nut=replace(NUT, stiffness=80e6)).axial_stiffness(0.2) > screw().axial_stiffness(0.2)
    assert [x.reason for x in screw().speed_limits()] == ["whirl"]


def test_workings_are_named_once() -> None:
    names = [working.name for working in screw().workings()]
    assert len(names) == len(set(names))
    assert next(w for w in screw().workings() if w.name == "screw_efficiency").value == screw().efficiency
