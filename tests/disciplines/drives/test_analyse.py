from dataclasses import replace

import numpy as np
import pytest

from drive_cases import CUTTING, drives, masses, with_fit
from gantrywright.catalog import kinds
from gantrywright.model.axis import Counterweight, Reduction
from gantrywright.model.machine import Machine
from gantrywright.results.drives import DriveAnswer
from gantrywright.results.masses import RigidMass
from simple_machine import BEARING, NUT, SCREW, simple_machine


def answer(machine: Machine, path: str) -> DriveAnswer:
    return drives(machine)[0].drives[path]


def test_every_drive_answers() -> None:
    found, _ = drives(simple_machine())
    assert set(found.drives) == {"axis.x.drive.main", "axis.y.drive.left", "axis.y.drive.right", "axis.z.drive.main"}
    assert len(found.of_axis("y")) == 2


def test_direct_drive_by_hand() -> None:
    """X: shaft 14.4 mm x 0.8 m = 2.651e-5 and coupling 1e-5 kg m2; lead 10 mm; whirl 0.8 of 3859 rpm = 0.5146 m/s."""
    x = answer(simple_machine(), "axis.x.drive.main")
    assert x.inertia == pytest.approx(3.651e-5, rel=1e-3)
    assert x.travel_per_radian == pytest.approx(0.01 / (2 * np.pi))
    speeds = {limit.reason: limit.speed for limit in x.speed_limits}
    assert speeds["whirl"] == pytest.approx(0.8 * 3859 / 60 * 0.01, rel=2e-3)
    assert speeds["speed value"] == pytest.approx(4375 / 60 * 0.01)
    assert x.thrust == pytest.approx(12 * 1.0 + 20 + 80)
    assert x.mean_force == pytest.approx(((70**3 + 20**3) / 2) ** (1 / 3))
    assert x.growth == pytest.approx(11.5e-6 * 0.6 * 20)
    assert x.lost_motion == 4e-5
    assert x.fall is None


def test_reduction_is_seen_through() -> None:
    """Ratio 2 and efficiency 0.9: a quarter of the shaft's inertia, half its travel, drag over 1.8; play of 1e-3 rad adds 1.6 um."""
    plain = answer(simple_machine(), "axis.x.drive.main")
    stage = Reduction("belt", ratio=2.0, efficiency=0.9, backlash=1e-3, stiffness=300.0, inertia=3e-6)
    geared = answer(with_fit("x", reduction=stage), "axis.x.drive.main")
    assert geared.inertia == pytest.approx(plain.inertia / 4 + 3e-6)
    assert geared.travel_per_radian == pytest.approx(plain.travel_per_radian / 2)
    assert geared.drag_torque == pytest.approx(plain.drag_torque / 1.8)
    assert geared.efficiency == pytest.approx(plain.efficiency * 0.9)
    assert geared.lost_motion == pytest.approx(4e-5 + 1e-3 * 0.01 / (2 * np.pi))
    stage_along = 300 * (2 * np.pi / 0.01) ** 2
    assert geared.stiffness_least == pytest.approx(1 / (1 / plain.stiffness_least + 1 / stage_along))


def test_unknown_play_of_a_stage_is_unknown() -> None:
    geared = answer(with_fit("x", reduction=Reduction("gearbox", ratio=3.0, backlash=None)), "axis.x.drive.main")
    assert geared.lost_motion is None
    assert geared.stiffness_least is not None


def test_gearbox_caps_speed_and_push() -> None:
    """Input 300 rad/s at ratio 3 and lead 10: 0.159 m/s; 5 N m at the output with 0.95: 2985 N."""
    part = kinds.Gearbox(id="gearbox-3", ratio=3.0, top_speed=300.0, torque=5.0)
    geared = answer(with_fit("x", reduction=Reduction("gearbox", ratio=3.0, part=part)), "axis.x.drive.main")
    assert next(x.speed for x in geared.speed_limits if x.reason == "gearbox speed") == pytest.approx(300 * 0.01 / (2 * np.pi * 3))
    assert next(force for reason, force, *_ in geared.load_limits if reason == "gearbox torque") == pytest.approx(2985, rel=1e-3)


def test_gantry_drives_share_by_the_lever() -> None:
    """Screws at x -0.2 and 0.8; the middle of mass is midway and moves by 12/40 of 0.3 m with the carriage: 0.59 at worst; tool: 0.8."""
    found, ledger = drives(simple_machine())
    left = found.drives["axis.y.drive.left"]
    assert left.mass_share == pytest.approx(0.5 + 0.3 * 12 / 40)
    assert left.force_share == pytest.approx(0.8)
    assert left.thrust == pytest.approx(0.59 * (40 + 20) + 0.8 * 80)
    assert ledger["axis.y.drive.left.mass_share"].formula


def test_off_centre_mass_loads_one_side_more() -> None:
    heavy_right = masses(y=RigidMass("axis.y", 40.0, (0.5, 0.6, 0.2), (1.0, 1.0, 1.0)))
    found, _ = drives(simple_machine(), heavy_right)
    assert found.drives["axis.y.drive.right"].mass_share == pytest.approx(0.79)
    assert found.drives["axis.y.drive.left"].mass_share == pytest.approx(0.39)


def test_upright_axis_holds_by_its_detent() -> None:
    """8 kg on lead 10: (78.45 - 16) N x 1.5915 mm x 0.948 = 0.0942 N m against drag 0.05 and detent 0.10."""
    z = answer(simple_machine(), "axis.z.drive.main")
    assert z.back_torque == pytest.approx(0.0942, rel=2e-3)
    assert z.resisting_torque == pytest.approx(0.15)
    assert z.fall == 0.0


def test_heavier_head_falls() -> None:
    """20 kg: (196.1 - 16) x 1.5915e-3 x 0.9478 - 0.15 over J/r + m r eta_b, J = 1.928e-5 + 8e-5."""
    found, _ = drives(simple_machine(), masses(z=RigidMass("axis.z", 20.0, (0.3, 0.5, 0.2), (1.0, 1.0, 1.0))))
    z = found.drives["axis.z.drive.main"]
    radian, back = 0.01 / (2 * np.pi), 0.94785
    expected = (180.133 * radian * back - 0.15) / (9.928e-5 / radian + 20 * radian * back)
    assert z.fall == pytest.approx(expected, rel=1e-3)
    assert z.fall_speed == pytest.approx(np.sqrt(2 * expected * 0.12), rel=1e-3)


def test_brake_and_counterweight_hold() -> None:
    heavy = masses(z=RigidMass("axis.z", 20.0, (0.3, 0.5, 0.2), (1.0, 1.0, 1.0)))
    sprung = simple_machine(axis_z={"counterweight": Counterweight("gas spring", 190.0, "carriage")})
    assert drives(sprung, heavy)[0].drives["axis.z.drive.main"].fall == 0.0
    plain = simple_machine()
    fit = plain.axis("z").drives[0]
    braked = replace(fit, motor=replace(fit.motor, part=replace(fit.motor.part, brake=True)))
    assert drives(simple_machine(axis_z={"drives": (braked,)}), heavy)[0].drives["axis.z.drive.main"].fall == 0.0
    missing = replace(fit, motor=None)
    assert drives(simple_machine(axis_z={"drives": (missing,)}), heavy)[0].drives["axis.z.drive.main"].fall is None


def test_two_upright_drives_fall_together() -> None:
    """Two like drives carry 20 kg: as one with twice the drag, detent and inertia."""
    fit = simple_machine().axis("z").drives[0]
    second = replace(fit, path="axis.z.drive.second", grip=(0.5, 0.54, 0.3))
    heavy = masses(z=RigidMass("axis.z", 40.0, (0.3, 0.5, 0.2), (1.0, 1.0, 1.0)))
    found, _ = drives(simple_machine(axis_z={"drives": (fit, second)}), heavy)
    radian, back = 0.01 / (2 * np.pi), 0.947849
    force = 40 * 9.80665 - 16
    expected = (force - 0.3 / (radian * back)) / (40 + 2 * 9.92785e-5 / (radian**2 * back))
    assert found.drives["axis.z.drive.main"].fall == pytest.approx(expected, rel=1e-3)
    assert found.drives["axis.z.drive.main"].back_torque == pytest.approx(force * radian * back, rel=1e-4)


def test_unknown_masses_and_cuts_are_told() -> None:
    unknown = masses(x=RigidMass("axis.x", 12.0, (0.3, 0.6, 0.2), (1.0, 1.0, 1.0), unknown=("head.lamp",)))
    found, _ = drives(simple_machine(), unknown, replace(CUTTING, known=False))
    assert found.drives["axis.x.drive.main"].lacking == (
        "mass of head.lamp",
        "cutting force: a [job] whose material has cutting coefficients",
    )
    assert found.drives["axis.z.drive.main"].lacking == ("cutting force: a [job] whose material has cutting coefficients",)


def test_samples_give_what_each_alone_gives() -> None:
    """A machine with three samples answers as three machines do."""
    roots, stiffness, weight = np.array([0.0125, 0.0131, 0.0135]), np.array([40e6, 60e6, 90e6]), np.array([10.0, 12.0, 15.0])
    moved = lambda m: masses(x=RigidMass("axis.x", m, (0.3, 0.6, 0.2), (1.0, 1.0, 1.0)))  # noqa: E731
    parts = lambda root, k: {"part": replace(SCREW, root=root), "bearing": replace(BEARING, stiffness=k)}  # noqa: E731
    sampled = drives(with_fit("x", parts=parts(roots, stiffness)), moved(weight))[0].drives["axis.x.drive.main"]
    for i in range(3):
        alone = drives(with_fit("x", parts=parts(roots[i], stiffness[i])), moved(weight[i]))[0].drives["axis.x.drive.main"]
        assert sampled.stiffness_least[i] == pytest.approx(alone.stiffness_least)
        assert sampled.speed_limits[0].speed[i] == pytest.approx(alone.speed_limits[0].speed)
        assert sampled.thrust[i] == pytest.approx(alone.thrust)
        assert sampled.life[i] == pytest.approx(alone.life)


def test_least_stiffness_is_at_the_far_end_or_in_the_middle() -> None:
    one = answer(simple_machine(), "axis.y.drive.left")
    drive = simple_machine().axis("y").drives[0].drive
    assert one.stiffness_least == pytest.approx(drive.axial_stiffness(1.05))
    assert one.stiffness_most == pytest.approx(drive.axial_stiffness(0.15))


def test_figures_open_to_their_inputs() -> None:
    _, ledger = drives(simple_machine())
    whirl = ledger["axis.x.drive.main.whirl_speed"]
    assert whirl.unit == "rad/s"
    assert {x.name: x.path for x in whirl.inputs}["root_diameter"] == "axis.x.drive.main.part.root"
    for word in ("inertia", "stiffness_least", "thrust", "mean_force", "life", "efficiency", "buckling_load", "growth_at_work"):
        assert f"axis.x.drive.main.{word}" in ledger
    assert "axis.z.fall" in ledger


def test_unknown_rating_gives_no_life() -> None:
    machine = with_fit("x", parts={"part": replace(SCREW, dynamic=None), "nut": replace(NUT, dynamic=None)})
    assert answer(machine, "axis.x.drive.main").life is None
