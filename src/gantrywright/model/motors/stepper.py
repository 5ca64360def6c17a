"""Stepper without encoder: nobody notices a lost step, so that only part of its torque may be promised."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import NewtonMetre, NewtonMetrePerRadian, Number, Radian, RadianPerSecond, Volt, Watt
from gantrywright.model.motors.protocol import Missing, Motor, MotorParts
from gantrywright.model.motors.two_phase import TwoPhase, gather
from gantrywright.theory.axis_envelope import RELIABLE, open_loop_margin
from gantrywright.theory.load_angle import load_angle, magnetic_stiffness
from gantrywright.theory.supplies import stepper_power

KIND = "stepper"


@dataclass(frozen=True, slots=True)
class Stepper(TwoPhase):
    """Open loop: the rotor hangs on its magnetic spring behind the commanded angle."""

    @property
    def kind(self) -> str:
        """Word of the parts table."""
        return KIND

    @property
    def open_loop(self) -> bool:
        """Always."""
        return True

    def promised_up_to(self, voltage: Volt) -> RadianPerSecond:
        """1.3 times the corner speed; or as far as its own curve was measured, scaled down with the bus voltage."""
        modelled = RELIABLE * self.corner_speed(voltage)
        if self.curve is None:
            return modelled
        return np.maximum(modelled, self.curve.top * np.minimum(voltage / self.curve.voltage, 1.0))

    def margin(self, speed: RadianPerSecond, voltage: Volt) -> Number:
        """0.7 as far as the torque may be promised, 0.5 beyond."""
        return open_loop_margin(speed=speed, corner=self.promised_up_to(voltage) / RELIABLE)

    def stiffness(self, torque: NewtonMetre) -> NewtonMetrePerRadian:
        """Of the magnetic spring."""
        return magnetic_stiffness(torque=torque, peak_torque=self.stall_torque, pole_pairs=self.pole_pairs)

    def load_angle(self, torque: NewtonMetre) -> Radian:
        """Behind the commanded angle."""
        return load_angle(torque=torque, peak_torque=self.stall_torque, pole_pairs=self.pole_pairs)

    def electrical_power(self, speed: RadianPerSecond, torque: NewtonMetre, voltage: Volt) -> Watt | None:
        """The full current flows at rest as well."""
        power = stepper_power(
            torque=self.shaft_to_air_gap(speed, torque), speed=speed, resistance=self.resistance, inductance=self.inductance,
            torque_constant=self.torque_constant, pole_pairs=self.pole_pairs, current=self.current, voltage=self.usable(voltage),
        )  # fmt: skip
        return self.through_driver(power)


def make(parts: MotorParts) -> Motor | Missing:
    """A stepper from its records."""
    fields = gather(parts)
    return fields if isinstance(fields, Missing) else Stepper(**fields)  # type: ignore[arg-type]
