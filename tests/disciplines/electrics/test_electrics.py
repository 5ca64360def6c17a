"""Loads of the supplies of a hand-built machine."""

from dataclasses import replace

import numpy as np
import pytest

from fed_machine import results_of
from gantrywright.model.machine import Machine
from gantrywright.results.electrics import SupplyLoad
from gantrywright.theory.supplies import bus_rise, stepper_power
from motor_machines import CLOSED, SERVOS, supplied, wishing, with_part
from simple_machine import DRIVER, STEPPER, simple_machine


def load(machine: Machine, **drive: object) -> SupplyLoad:
    return results_of(machine, **drive).electrics.supplies["main"]


def test_holding_is_copper_heat_and_electronics_of_every_motor() -> None:
    assert load(simple_machine()).holding == pytest.approx(4 * (0.8 * 5.6**2 / 0.95 + 5.0))


def test_power_at_rest_plus_one_axis_that_accelerates() -> None:
    made = results_of(simple_machine())
    given = made.electrics.supplies["main"]
    assert given.holding < given.typical < given.greatest
    moved = made.motion.axes["y"]
    speed = moved.rapid / moved.drives[0].travel_per_radian
    torque = moved.drives[0].accel_torque + 0.039 + 4e-4 * speed
    motor = stepper_power(
        torque=torque, speed=speed, resistance=0.8, inductance=3.5e-3, torque_constant=3.0 / (4.2 * 2**0.5), pole_pairs=50, current=5.6,
        voltage=44.0 - 1.5,
    )  # fmt: skip
    path = "axis.y.drive.left.power.accelerating"
    assert made.ledger[path].value == pytest.approx(motor / 0.95 + 5.0)
    feeding = sum(made.ledger[f"{drive}.power.feeding"].value for drive in given.drives)
    more = sum(
        made.ledger[f"axis.y.drive.{side}.power.{what}"].value * sign
        for side in ("left", "right")
        for what, sign in (("accelerating", 1), ("feeding", -1))
    )
    assert given.typical == pytest.approx(feeding + more)


def test_the_rule_of_two_thirds_stands_beside() -> None:
    assert load(simple_machine()).two_thirds == pytest.approx(2 / 3 * 44.0 * 4 * 4.2)


def test_less_comes_back_than_moves_and_the_bus_rises_by_it() -> None:
    given = load(simple_machine())
    assert 0 < given.returned < given.kinetic
    assert given.capacitance == pytest.approx(2e-3 + 4 * 1e-3)
    assert given.bus_peak == pytest.approx(bus_rise(voltage=44.0, energy=given.returned, capacitance=6e-3))
    assert bus_rise(voltage=given.best_set * 1.02, energy=given.returned, capacitance=6e-3) == pytest.approx(50.0)


def test_the_energy_counts_every_axis_once() -> None:
    made = results_of(wishing(CLOSED, rapid=0.4))  # whirl holds it at 0.3 m/s
    turning = 8e-5 + 9e-5
    radius = 0.01 / (2 * np.pi)
    masses = 10.0 + 33.0 + 7.0  # carriage with head, gantry with all, head
    expected = 0.5 * 0.3**2 * (masses + 4 * turning / radius**2)
    assert made.electrics.supplies["main"].kinetic == pytest.approx(expected)


def test_nobody_stops_from_more_speed_than_is_wanted() -> None:
    slow, fast = (results_of(wishing(CLOSED, rapid=speed)).electrics.supplies["main"].kinetic for speed in (0.1, 0.2))
    assert fast == pytest.approx(4 * slow)


def test_more_friction_gives_less_back() -> None:
    easy, stiff = (results_of(wishing(CLOSED, rapid=0.4), friction=force).electrics.supplies["main"] for force in (5.0, 200.0))
    assert stiff.returned < easy.returned


def test_a_slow_gentle_machine_gives_nothing_back() -> None:
    gentle = load(wishing(simple_machine(), rapid=0.02, accel=0.2), speed_limits=())
    hard = load(simple_machine())
    assert gentle.kinetic <= hard.kinetic


def test_unknown_capacitance_is_named_and_left_out() -> None:
    machine = with_part(simple_machine(), driver=replace(DRIVER, capacitance=None))
    given = load(machine)
    assert given.capacitance == pytest.approx(2e-3)
    assert "axis.x.drive.main.driver.capacitance" in given.capacitance_missing
    none = load(supplied(machine, part={"capacitance": None}))
    assert none.capacitance is None
    assert none.bus_peak is None
    assert none.returned is not None


def test_a_motor_without_data_leaves_the_supply_unknown() -> None:
    given = load(with_part(simple_machine(), replace(STEPPER, resistance=None)))
    assert given.typical is None
    assert "resistance" in given.missing
    assert given.two_thirds is not None


def test_line_voltage_reaches_the_bus_only_without_regulation() -> None:
    assert load(simple_machine()).low_line == pytest.approx(44.0 * 0.98)
    plain = load(supplied(simple_machine(), part={"regulated": False}))
    assert (plain.low_line, plain.high_line) == pytest.approx((44.0 * 0.9, 44.0 * 1.1 * 1.07))
    direct = load(SERVOS)
    assert (direct.low_line, direct.high_line) == pytest.approx((320.0 * 0.9, 320.0 * 1.1))


def test_servos_on_the_line_take_power_as_they_work() -> None:
    given = load(SERVOS)
    assert given.holding < 0.1 * given.typical
    assert given.capacitance == pytest.approx(4e-3)  # their own capacitors only


def test_samples_stay_samples() -> None:
    many = load(with_part(simple_machine(), replace(STEPPER, resistance=np.array([0.7, 0.8, 0.9]))))
    one = load(simple_machine())
    for name in ("holding", "typical", "greatest", "returned", "bus_peak", "best_set"):
        assert np.asarray(getattr(many, name)).shape == (3,)
        assert np.asarray(getattr(many, name))[1] == pytest.approx(getattr(one, name))
