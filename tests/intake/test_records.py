"""The simple records of the examples, recomputed by hand from their texts."""

from pathlib import Path

import pytest
from helper_reading import example, read_whole, with_changes

from gantrywright.base.values import PhaseCurrent
from gantrywright.intake import records
from gantrywright.intake.uses import use


def test_purpose_in_inches_is_kept_in_metres() -> None:
    found = records.purpose(example("fixed_gantry"))
    assert found.work_area == pytest.approx((24 * 0.0254, 36 * 0.0254, 5 * 0.0254))
    assert found.rapid == pytest.approx(600 * 0.0254 / 60)
    assert found.accuracy == pytest.approx(0.003 * 0.0254)
    assert found.stiffness == pytest.approx(60_000 * 4.4482216152605 / 0.0254)
    assert found.accel is None


def test_site_knows_its_coldest_and_warmest() -> None:
    site = records.site(example("salvaged"))
    assert (site.ambient, site.ambient_low, site.ambient_high) == pytest.approx((285.15, 275.15, 303.15))
    assert [outlet.name for outlet in site.outlets] == ["wall", "bench"]
    assert site.loads[0].start_factor == 3.0


def test_a_direct_supply_is_the_rectified_line() -> None:
    (mains,) = records.supplies(example("fixed_gantry"))
    assert mains.direct
    assert mains.part is None
    assert mains.set == pytest.approx(240 * 2**0.5)


def test_a_supply_is_set_as_written_measured_or_named(tmp_path: Path) -> None:
    assert records.supplies(example("long_bed"))[0].set == pytest.approx(47.2)
    path, _ = with_changes(tmp_path, "salvaged", ('x = { part = "dc-48v-350w", set = "42 V" }', 'x = { part = "dc-48v-350w", set = "unknown" }'),
                           ('each = { part = "dc-60v-350w-adjustable", set = "50 V", owned', 'each = { part = "dc-60v-350w-adjustable", owned'))  # fmt: skip
    found = {supply.name: supply.set for supply in records.supplies(read_whole(path))}
    assert found["x"] is None
    assert found["y-left"] == pytest.approx(60.0)


def test_controller_takes_what_is_written_over_its_row() -> None:
    found = records.controller(example("fixed_gantry"))
    assert found is not None
    assert found.pulse_rate == pytest.approx(400e3)
    assert found.supply_voltage == found.part.supply_voltage


def test_motor_driver_and_reduction_of_a_drive() -> None:
    drive = dict(example("fixed_gantry").axis("x").children("drive"))["main"]
    motor, driver, reduction = records.motor(drive), records.driver(drive), records.reduction(drive)
    assert motor is not None
    assert (motor.path, motor.part.id, motor.use.price) == ("axis.x.drive.main.motor", "servo-750w", 240.0)
    assert driver is not None
    assert driver.path == "axis.x.drive.main.driver"
    assert (reduction.kind, reduction.ratio) == ("gearbox", 10.0)
    assert reduction.backlash == pytest.approx(5 / 60 * 3.141592653589793 / 180)


def test_play_and_twist_of_a_belt_stage_are_usual_until_they_are_written(tmp_path: Path) -> None:
    usual = records.reduction(dict(example("fixed_gantry").axis("y").children("drive"))["main"])
    assert (usual.stiffness, usual.backlash) == (300.0, 3e-4)
    written, _ = with_changes(tmp_path, "fixed_gantry", ('ratio = 1.5, offset', 'ratio = 1.5, stiffness = "450 N m/rad", backlash = "2 arcmin", offset'))  # fmt: skip
    found = records.reduction(dict(read_whole(written).axis("y").children("drive"))["main"])
    assert found.stiffness == pytest.approx(450.0)
    assert found.backlash == pytest.approx(2 / 60 * 3.141592653589793 / 180)


def test_play_of_a_stage_that_is_written_as_unknown_stays_unknown(tmp_path: Path) -> None:
    written, _ = with_changes(tmp_path, "fixed_gantry", ("ratio = 1.5, offset", 'ratio = 1.5, backlash = "unknown", offset'))
    assert records.reduction(dict(read_whole(written).axis("y").children("drive"))["main"]).backlash is None


def test_driver_current_is_the_setting() -> None:
    driver = records.driver(dict(example("salvaged").axis("z", {"drive": {"main": {}}}).children("drive"))["main"])
    assert driver is not None
    assert driver.current == PhaseCurrent(3.0, "rms")


def test_observations_carry_the_standard_uncertainty_and_skip_those_taken_out() -> None:
    found = {observation.name: observation for observation in records.observations(example("long_bed"))}
    assert set(found) == {"gantry-weighed", "pull-x", "sway", "y-positions"}
    assert found["gantry-weighed"].uncertainty == pytest.approx(0.15, rel=1e-3)
    assert found["pull-x"].unit == "N/m"
    assert (found["pull-x"].at, found["pull-x"].along, found["pull-x"].between) == (
        (0.3, 1.5, 0.0),
        (1.0, 0.0, 0.0),
        ("tool", "work"),
    )
    assert found["y-positions"].value is None
    assert found["y-positions"].fields["table"] == "measured/y-positions.csv"


def test_alignment_home_and_counterweight() -> None:
    axis = example("fixed_gantry").axis("z")
    assert records.alignment(axis).parallel == pytest.approx(1e-4)
    home = records.home(axis)
    assert home is not None
    assert (home.at, home.each_drive) == ("most", False)
    weight = records.counterweight(axis, "bed")
    assert weight is not None
    assert (weight.kind, weight.on) == ("gas spring", "carriage")
    assert weight.force == pytest.approx(45 * 4.4482216152605)


def test_use_says_how_a_thing_is_had() -> None:
    reading = example("salvaged")
    rails = dict(reading.axis("y").children("rail"))
    left, right = use(rails["left"]), use(rails["right"])
    assert (left.part, left.stock, left.owned, left.condition[:4]) == ("rail-20", "rail-20-donor", True, "rust")
    assert (right.owned, right.price) == (False, 74.0)
    camera = dict(example("long_bed").body("head").children("item"))["camera"]
    assert use(camera).fitted is False
