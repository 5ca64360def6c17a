"""The equivalent circuit against its mesh equations, and laws of slip."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gantrywright.theory.cutting import spindle_circuit as sc

MOTOR = {
    "stator_resistance": 1.2, "stator_reactance": 2.0, "rotor_reactance": 2.0, "magnetising_reactance": 60.0, "rated_frequency": 400.0,
}  # fmt: skip
ROTOR = 1.0


def by_meshes(frequency: float, voltage: float, slip: float) -> float:
    """Torque from the currents of the two meshes and the power that crosses the air gap."""
    ratio = frequency / 400.0
    magnetising = 60j * ratio
    meshes = np.array([[1.2 + 2j * ratio + magnetising, -magnetising], [-magnetising, ROTOR / slip + 2j * ratio + magnetising]])
    rotor = np.linalg.solve(meshes, np.array([voltage, 0.0]))[1]
    return float(3 * abs(rotor) ** 2 * ROTOR / slip / (2 * np.pi * frequency))


@pytest.mark.parametrize("frequency", [400.0, 200.0, 100.0, 50.0])
def test_torque_and_pull_out(frequency: float) -> None:
    voltage = sc.inverter_voltage(rated_voltage=127.0, rated_frequency=400.0, frequency=frequency)
    slips = np.linspace(1e-3, 1.0, 3000)
    formula = np.asarray(sc.induction_torque(**MOTOR, rotor_resistance=ROTOR, voltage=voltage, frequency=frequency, slip=slips))
    meshes = np.array([by_meshes(frequency, float(voltage), slip) for slip in slips])
    np.testing.assert_allclose(formula, meshes, rtol=1e-9)
    pull_out = sc.pull_out_torque(**MOTOR, voltage=voltage, frequency=frequency)
    assert pull_out == pytest.approx(meshes.max(), rel=1e-4)


@given(st.floats(0.02, 0.99), st.floats(40.0, 600.0))
def test_the_slip_carries_the_torque_on_the_steady_side(share: float, frequency: float) -> None:
    voltage = sc.inverter_voltage(rated_voltage=127.0, rated_frequency=400.0, frequency=frequency)
    torque = share * sc.pull_out_torque(**MOTOR, voltage=voltage, frequency=frequency)
    same = {**MOTOR, "rotor_resistance": ROTOR, "voltage": voltage, "frequency": frequency}
    slip = sc.slip_under(torque=torque, **same)
    assert sc.induction_torque(slip=slip, **same) == pytest.approx(torque, rel=1e-6)
    assert sc.induction_torque(slip=slip * 1.001, **same) > torque


def test_above_its_pull_out_it_stands() -> None:
    torque = np.array([0.5, 1.0, 1.01]) * sc.pull_out_torque(**MOTOR, voltage=127.0, frequency=400.0)
    slip = np.asarray(sc.slip_under(torque=torque * (1 + 1e-12), **MOTOR, rotor_resistance=ROTOR, voltage=127.0, frequency=400.0))
    assert slip[0] < 0.1
    assert slip[2] == 1.0


def test_resistance_of_the_winding_eats_the_pull_out_at_low_speed_and_a_boost_gives_it_back() -> None:
    torques = [
        sc.pull_out_torque(
            **MOTOR, frequency=100.0,
            voltage=sc.inverter_voltage(rated_voltage=127.0, rated_frequency=400.0, frequency=100.0, boost=boost),
        )
        for boost in (0.0, 10.0)
    ]  # fmt: skip
    assert torques[0] < 0.5 * sc.pull_out_torque(**MOTOR, voltage=127.0, frequency=400.0)
    assert torques[1] > 1.2 * torques[0]


@pytest.mark.parametrize("ratio", [0.5, 1.0, 1.5])
def test_the_short_rule_of_slip_follows_the_circuit_at_light_load(ratio: float) -> None:
    """With a stiff source the slip is R2 T w_s/(3 U^2): what the rule scales from its rated point."""
    stiff = {**MOTOR, "stator_resistance": 1e-6, "stator_reactance": 1e-6, "rotor_reactance": 1e-6, "rotor_resistance": 0.3}
    base = 2 * np.pi * 400.0
    slips = []
    for frequency in (400.0, 400.0 * ratio):
        voltage = sc.inverter_voltage(rated_voltage=127.0, rated_frequency=400.0, frequency=frequency)
        slips.append(float(sc.slip_under(torque=0.2, voltage=voltage, frequency=frequency, **stiff)))
    speed = sc.loaded_speed(field_speed=base * ratio, base_speed=base, rated_slip=slips[0], torque=0.2, rated_torque=0.2)
    assert speed == pytest.approx(base * ratio * (1 - slips[1]), rel=1e-4)
