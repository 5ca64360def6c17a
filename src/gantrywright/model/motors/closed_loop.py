"""Stepper with encoder: the controller holds the best angle, so that the whole curve can be used, less a reserve for control."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import NewtonMetre, Number, RadianPerSecond, Volt, Watt
from gantrywright.model.motors.protocol import Missing, Motor, MotorParts
from gantrywright.model.motors.two_phase import TwoPhase, gather
from gantrywright.theory.supplies import stepper_power

KIND = "closed-loop"
MARGIN = 0.9
"""Part of the curve that a closed loop may be asked for; common practice, no source."""


@dataclass(frozen=True, slots=True)
class ClosedLoopStepper(TwoPhase):
    """Limits are the following error that its driver allows, and heat."""

    @property
    def kind(self) -> str:
        """Word of the parts table."""
        return KIND

    @property
    def open_loop(self) -> bool:
        """Never."""
        return False

    def promised_up_to(self, voltage: Volt) -> RadianPerSecond:
        """No step is lost unseen, whatever the speed."""
        return np.inf

    def margin(self, speed: RadianPerSecond, voltage: Volt) -> Number:
        """The same at every speed."""
        return MARGIN

    def stiffness(self, torque: NewtonMetre) -> None:
        """The loop holds the shaft."""

    def load_angle(self, torque: NewtonMetre) -> None:
        """The loop takes it out."""

    def electrical_power(self, speed: RadianPerSecond, torque: NewtonMetre, voltage: Volt) -> Watt | None:
        """The current follows the load."""
        needed = self.shaft_to_air_gap(speed, torque)
        power = stepper_power(
            torque=needed, speed=speed, resistance=self.resistance, inductance=self.inductance, torque_constant=self.torque_constant,
            pole_pairs=self.pole_pairs, current=np.abs(needed) / self.torque_constant, voltage=self.usable(voltage),
        )  # fmt: skip
        return self.through_driver(power)


def make(parts: MotorParts) -> Motor | Missing:
    """A closed-loop stepper from its records."""
    fields = gather(parts)
    return fields if isinstance(fields, Missing) else ClosedLoopStepper(**fields)  # type: ignore[arg-type]
