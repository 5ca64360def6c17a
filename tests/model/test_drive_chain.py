"""The springs of placed drives at poses of their axes: distances by hand from the machine files, motors, stages."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.model.axis import Axis, DriveFit, Reduction
from gantrywright.model.drive_chain import DriveChain, drive_chain, drive_links, grip_distance, turned_by
from gantrywright.model.machine import Machine
from simple_machine import STEPPER, simple_machine

ROOT = Path(__file__).parents[2]
FILES = {
    "as-built": ROOT / "src" / "gantrywright" / "data" / "demo" / "as-built.toml",
    "fixed_gantry": ROOT / "tests" / "machines" / "fixed_gantry.toml",
    "long_bed": ROOT / "tests" / "machines" / "long_bed.toml",
    "salvaged": ROOT / "tests" / "machines" / "salvaged.toml",
}


@cache
def machine(name: str) -> Machine:
    return resolve(read_document(FILES[name]))


def placed(name: str, path: str) -> tuple[Axis, DriveFit]:
    axis = machine(name).axis(path.split(".")[1])
    return axis, next(fit for fit in axis.drives if fit.path == path)


def chain(name: str, path: str) -> DriveChain:
    return drive_chain(*placed(name, path))


@pytest.mark.parametrize(("name", "path", "at_zero", "at_end"), [
    # motor at the right end, the carriage goes to the right with the pose: 1.5 m between bearings, 0.125 m left over at each end,
    # and the whole screw is shifted by 0.016 m to the right
    ("as-built", "axis.x.drive.main", 1.375 + 0.016, 0.125 + 0.016),
    ("as-built", "axis.y.drive.left", 1.475, 0.225),
    # screw on the table (work's side), nut on the bed: table goes back as y grows, so that the nut goes away from its first end
    ("fixed_gantry", "axis.y.drive.main", 3 * 0.0254, 39 * 0.0254),
    # belt whose motor is at the first end; belt that lies still
    ("long_bed", "axis.x.drive.main", 0.11, 0.71),
    ("long_bed", "axis.y.drive.main", 0.28, 3.28),
])  # fmt: skip
def test_distance_of_the_grip_at_both_ends_of_the_travel(name: str, path: str, at_zero: float, at_end: float) -> None:
    axis, fit = placed(name, path)
    assert grip_distance(axis, fit, np.array([0.0, axis.travel])) == pytest.approx([at_zero, at_end], abs=1e-6)


@pytest.mark.parametrize("name", FILES)
def test_the_travel_runs_from_the_nearest_to_the_farthest_place(name: str) -> None:
    for axis in machine(name).axes:
        for fit in axis.drives:
            at = grip_distance(axis, fit, np.array([0.0, axis.travel]))
            assert sorted(at) == pytest.approx([fit.drive.parts.nearest, fit.drive.parts.farthest], abs=1e-6)


@pytest.mark.parametrize("name", FILES)
def test_the_grip_as_drawn_is_where_the_pose_as_drawn_puts_it(name: str) -> None:
    """Independent of signs: distance of the drawn grip from the drawn motor end, along the line."""
    for axis in machine(name).axes:
        for fit in axis.drives:
            motor = np.array(fit.line[0] if fit.motor_end_first else fit.line[1])
            run = np.array(fit.line[1]) + np.array(fit.line[0]) - 2 * motor
            drawn = (np.array(fit.grip) - motor) @ run / np.linalg.norm(run)
            assert grip_distance(axis, fit, axis.drawn) == pytest.approx(drawn, abs=1e-9)


def test_a_drive_is_softer_the_farther_its_grip_is_from_the_motor() -> None:
    found = chain("as-built", "axis.x.drive.main")
    along = found.along(np.linspace(0.0, 1.25, 6))
    assert np.all(np.diff(along) > 0)  # the motor is at the far end
    assert found.along(0.0) == pytest.approx(along[0])


def test_mirror_of_the_motor_end_mirrors_the_row() -> None:
    axis, fit = placed("as-built", "axis.x.drive.main")
    turned = drive_chain(axis, replace(fit, motor_end_first=not fit.motor_end_first))
    poses = np.array([0.0, 0.4, 1.25])
    assert turned.distance(poses) == pytest.approx(fit.free_length - drive_chain(axis, fit).distance(poses))


def test_motor_spring_by_hand() -> None:
    """3 N m at 4.2 A rms; the driver gives 5.6 A peak: 3 x 5.6/5.94 = 2.828 N m; 50 pole pairs and a lead of 10 mm: 55.8 N/um."""
    axis = simple_machine().axis("x")
    links = drive_chain(axis, axis.drives[0]).links(0.3)
    peak = 3.0 * 5.6 / (4.2 * 2**0.5)
    assert links["axis.x.drive.main.motor_stiffness"] == pytest.approx(50 * peak * (2 * np.pi / 0.010) ** 2)
    assert next(iter(links)) == "axis.x.drive.main.motor_stiffness"


def test_the_spring_of_the_motor_is_softer_under_torque() -> None:
    axis = simple_machine().axis("x")
    free, loaded = (
        drive_chain(axis, axis.drives[0], torque).links(0.3)["axis.x.drive.main.motor_stiffness"] for torque in (0.0, 2.0)
    )
    assert 0.5 < loaded / free < 0.9


def test_a_loop_holds_its_motor_and_all_links_make_up_the_whole() -> None:
    found = chain("as-built", "axis.x.drive.main")
    links = found.links(0.2)
    assert np.isinf(links["axis.x.drive.main.motor_stiffness"])
    assert found.missing == ()
    fit = placed("as-built", "axis.x.drive.main")[1]
    assert found.along(0.2) == pytest.approx(fit.drive.axial_stiffness(1.391 - 0.2))
    assert found.along(0.2) == pytest.approx(1 / sum(1 / k for k in links.values()))
    assert drive_links(*placed("as-built", "axis.x.drive.main"), 0.2) == links


def test_an_unknown_motor_is_told_and_left_out() -> None:
    axis = simple_machine().axis("x")
    bare = replace(axis.drives[0], motor=None)
    found = drive_chain(axis, bare)
    assert found.missing == ("axis.x.drive.main.motor",)
    assert [link.name for link in found.series(0.3) if link.stiffness is None] == ["motor"]
    assert found.along(0.3) == pytest.approx(bare.drive.axial_stiffness(found.distance(0.3)))


def test_a_stage_is_seen_through() -> None:
    """300 N m/rad at the screw, motor spring over twice the ratio: four times as stiff along the axis."""
    axis = simple_machine().axis("x")
    plain = drive_chain(axis, axis.drives[0]).links(0.3)
    geared = drive_chain(axis, replace(axis.drives[0], reduction=Reduction("belt", ratio=2.0, stiffness=300.0))).links(0.3)
    assert geared["axis.x.drive.main.stage_stiffness"] == pytest.approx(300 * (2 * np.pi / 0.010) ** 2)
    assert geared["axis.x.drive.main.motor_stiffness"] == pytest.approx(4 * plain["axis.x.drive.main.motor_stiffness"])
    usual = drive_chain(axis, replace(axis.drives[0], reduction=Reduction("belt", ratio=2.0))).links(0.3)
    assert usual["axis.x.drive.main.stage_stiffness"] == geared["axis.x.drive.main.stage_stiffness"]


@pytest.mark.parametrize("word", ["axis.y.drive.left", "left"])
def test_one_motor_that_turns_two_screws_is_shared(word: str) -> None:
    """Both springs side by side are the one magnetic spring."""
    axis = simple_machine().axis("y")
    left, right = axis.drives
    belt = replace(axis, drives=(left, replace(right, driven_by=word, motor=None, driver=None)))
    alone = drive_chain(axis, left).links(0.4)["axis.y.drive.left.motor_stiffness"]
    shared = [drive_chain(belt, fit).links(0.4)[f"{fit.path}.motor_stiffness"] for fit in belt.drives]
    assert sum(shared) == pytest.approx(alone)
    assert turned_by(belt, belt.drives[1]).path == "axis.y.drive.left"
    assert drive_chain(belt, belt.drives[1]).series(0.4)[0].part == "axis.y.drive.left.motor"


def test_samples_meet_poses() -> None:
    axis = simple_machine().axis("x")
    fit = axis.drives[0]
    assert fit.motor is not None
    holding = np.array([2.0, 3.0, 4.0])
    sampled = replace(fit, motor=replace(fit.motor, part=replace(STEPPER, holding=holding)))
    poses = np.array([0.0, 0.3])
    found = drive_chain(axis, sampled)
    assert np.shape(found.along(poses)) == (3, 2)
    assert np.shape(found.along(0.3)) == (3,)
    for i, each in enumerate(holding):
        one = drive_chain(axis, replace(fit, motor=replace(fit.motor, part=replace(STEPPER, holding=float(each)))))
        assert found.along(poses)[i] == pytest.approx(one.along(poses))


def test_a_grip_at_a_bearing_does_not_divide_by_nothing() -> None:
    found = chain("as-built", "axis.x.drive.main")
    assert np.isfinite(found.along(10.0))
    assert found.distance(10.0) == pytest.approx(1e-3)
