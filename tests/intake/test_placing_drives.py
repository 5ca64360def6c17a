"""Lines of action, distances of the grip, motors, end fixity, and parts that nobody names."""

import numpy as np
import pytest
from placed import document, machine, mm, problems_of, revised

from gantrywright.intake.resolve import resolve
from gantrywright.model.axis import DriveFit


def drive(name: str, path: str, *edits: tuple[str, str | None]) -> DriveFit:
    found = revised(name, *edits) if edits else machine(name)
    return next(d for axis in found.axes for d in axis.drives if d.path == path)


def test_screw_beside_a_rail() -> None:
    """Rail of the left strip: x -172 (strip's outer face at bed x -12), z 804 + zero; 40 further out and 130 lower, 1850 about its middle."""
    y = drive("salvaged", "axis.y.drive.left")
    assert mm(y.line[0]) == (-212, 907 - 925, -183)
    assert mm(y.line[1]) == (-212, 907 + 925, -183)
    assert mm(y.grip) == (-212, 907, -183)
    assert (y.holds, y.grips, y.motor_body) == ("bed", "gantry", "bed")


def test_mirrored_screw() -> None:
    left, right = drive("salvaged", "axis.y.drive.left"), drive("salvaged", "axis.y.drive.right")
    assert right.line[0][0] - 0.5 == pytest.approx(0.5 - left.line[0][0])
    assert right.line[0][1:] == pytest.approx(left.line[0][1:])


def test_grip_runs_from_motor_end_by_the_travel() -> None:
    parts = drive("salvaged", "axis.x.drive.main").drive.parts
    assert (parts.nearest, parts.farthest) == pytest.approx((0.170, 1.170))
    assert parts.farthest - parts.nearest == pytest.approx(parts.travel)


def test_motor_sits_beyond_the_end_that_the_file_names() -> None:
    x = drive("salvaged", "axis.x.drive.main")
    assert not x.motor_end_first
    assert x.motor_at[0] > x.line[1][0] + 0.05
    turned = drive("salvaged", "axis.x.drive.main", ("axis.x.drive.main.motor_end", "left"))
    assert turned.motor_end_first
    assert turned.motor_at[0] < turned.line[0][0] - 0.05


def test_turning_nut_keeps_motor_and_nut_on_the_base() -> None:
    """The screw rides under the table; its nut sits 37 in from the base's front end, 18 in from the near end of the travel."""
    y = drive("fixed_gantry", "axis.y.drive.main")
    assert (y.holds, y.grips, y.motor_body) == ("table", "bed", "bed")
    assert y.grip[1] == pytest.approx(0.7057, abs=1e-4)
    assert y.free_length == pytest.approx(42 * 0.0254)
    assert (y.drive.parts.nearest, y.drive.parts.farthest) == pytest.approx((3 * 0.0254, 39 * 0.0254))
    assert y.reduction.ratio == 1.5
    assert y.motor_at[2] == pytest.approx(y.grip[2] - 3 * 0.0254)


def test_rack_motor_rides_on_the_carriage() -> None:
    x = drive("fixed_gantry", "axis.x.drive.main")
    assert (x.holds, x.grips, x.motor_body) == ("gantry", "carriage", "carriage")
    assert x.reduction.kind == "gearbox"
    assert x.coupling is None


def test_fixed_belt_carries_its_motor_on_the_gantry_and_a_moving_belt_does_not() -> None:
    assert drive("long_bed", "axis.y.drive.main").motor_body == "gantry"
    assert drive("long_bed", "axis.x.drive.main").motor_body == "gantry"
    assert drive("long_bed", "axis.x.drive.main").holds == "gantry"
    assert drive("long_bed", "axis.y.drive.main").holds == "bed"


def test_pretension_is_the_later_measurement_or_unknown() -> None:
    assert drive("long_bed", "axis.y.drive.main").drive.parts.pretension == pytest.approx(540.0)
    assert drive("long_bed", "axis.x.drive.main").drive.parts.pretension is None
    assert drive("long_bed", "axis.y.drive.main").drive.travel_per_turn == pytest.approx(0.04811)


def test_parts_that_nobody_names() -> None:
    parts = drive("salvaged", "axis.x.drive.main").drive.parts
    assert parts.nut is not None
    assert parts.bearing is not None
    assert (parts.nut.id, parts.bearing.id) == ("nut-1610", "bearing-fixed-12")
    assert machine("salvaged").origins["axis.x.drive.main.nut.part"].kind == "default"
    assert "axis.x.drive.main.nut.stiffness" in machine("salvaged").spreads


def test_a_part_that_is_named_wins() -> None:
    fit = drive("salvaged", "axis.x.drive.main", ("axis.x.drive.main.nut", "nut-1610-preloaded"))
    assert fit.drive.parts.nut is not None
    assert fit.drive.parts.nut.id == "nut-1610-preloaded"


def test_ends_in_doubt_are_sampled_together() -> None:
    """Both screws inherit one choice but each has its own path; the whirl root takes both values of the table."""
    path = "axis.y.drive.left.ends"
    found = resolve(document("salvaged"), samples={path: np.array([0.0, 1.0, 1.0])})
    parts = next(d for d in found.axis("y").drives if d.path.endswith("left")).drive.parts
    assert np.asarray(parts.whirl_root).tolist() == [15.418, 9.870, 9.870]
    assert np.asarray(parts.buckling_factor).tolist() == [2.046, 1.0, 1.0]
    assert drive("salvaged", "axis.y.drive.left").drive.parts.whirl_root == 15.418


def test_driver_keeps_its_largest_setting_beside_the_one_used() -> None:
    driver = drive("salvaged", "axis.y.drive.left").driver
    assert driver is not None
    assert driver.current is not None
    assert driver.part.current is not None
    assert driver.current.value == pytest.approx(6.0)
    assert driver.part.current.value > driver.current.value


def test_grip_off_the_screw_is_told() -> None:
    found = revised("salvaged", ("axis.x.drive.main.length", "900 mm"))
    assert ("axis.x.drive.main", "the grip runs 50 mm off the end of the drive") in found.stray


def test_drive_on_a_body_that_takes_no_part_is_refused() -> None:
    assert any("takes no part in this axis" in line for line in problems_of("salvaged", ("axis.x.drive.main.on", "head")))


def test_axis_of_two_drives_one_driven_by_the_other() -> None:
    found = drive(
        "salvaged", "axis.y.drive.right", ("axis.y.drive.right.driven_by", "axis.y.drive.left"), ("axis.y.drive.right.motor", None),
    )  # fmt: skip
    assert found.driven_by == "axis.y.drive.left"


def test_the_loss_of_a_drive_is_usual_until_it_is_written() -> None:
    assert drive("salvaged", "axis.x.drive.main").loss == 0.05
    assert (
        machine("salvaged").spreads["axis.x.drive.main.loss"].low,
        machine("salvaged").spreads["axis.x.drive.main.loss"].high,
    ) == (0.03, 0.1)
    assert drive("salvaged", "axis.x.drive.main", ("axis.x.drive.main.loss", "0.08")).loss == 0.08
