"""Servo motor: continuous and short-time torque by its data sheet, capped by its winding where that is told."""

from dataclasses import dataclass
from typing import Self

import numpy as np

from gantrywright.base import samples
from gantrywright.base.units import (
    Henry,
    KilogramSquareMetre,
    NewtonMetre,
    NewtonMetrePerAmpere,
    Number,
    Ohm,
    RadianPerSecond,
    Volt,
    Watt,
)
from gantrywright.model.motors.protocol import Missing, Motor, MotorParts
from gantrywright.theory.servos import datasheet_torque, winding_torque
from gantrywright.theory.supplies import driver_input, servo_power

KIND = "servo"
MARGIN = 0.9
"""Part of its torque that a servo may be asked for, so that the loop keeps a reserve; common practice, no source."""
NEEDED = ("rated_torque", "rated_speed", "top_speed", "inertia")


@dataclass(frozen=True, slots=True)
class Servo:
    """Torque is level up to rated speed and falls to that of equal power at the highest."""

    path: str
    rated_torque: NewtonMetre
    peak_torque: NewtonMetre
    rated_speed: RadianPerSecond
    top_speed: RadianPerSecond
    inertia: KilogramSquareMetre
    pole_pairs: Number
    detent: NewtonMetre | None
    torque_per_rms: NewtonMetrePerAmpere | None
    resistance: Ohm | None
    inductance: Henry | None
    idle: Watt | None
    efficiency: Number | None

    @property
    def kind(self) -> str:
        """Word of the parts table."""
        return KIND

    @property
    def open_loop(self) -> bool:
        """Never."""
        return False

    @property
    def stall_torque(self) -> NewtonMetre:
        """Short-time torque."""
        return self.peak_torque

    def torque(self, speed: RadianPerSecond, voltage: Volt, *, continuous: bool = False) -> NewtonMetre:
        """By the sheet; where the winding is told, no more than the bus voltage can drive."""
        level = self.rated_torque if continuous else self.peak_torque
        torque = datasheet_torque(
            speed=speed, torque=level, rated_speed=self.rated_speed, top_speed=self.top_speed,
            top_torque=level * self.rated_speed / self.top_speed,
        )  # fmt: skip
        if self.torque_per_rms is None or self.resistance is None or self.inductance is None:
            return torque
        by_winding = winding_torque(
            speed=speed, torque_per_rms=self.torque_per_rms, resistance=self.resistance, inductance=self.inductance,
            pole_pairs=self.pole_pairs, voltage=voltage, current_rms=level / self.torque_per_rms,
        )  # fmt: skip
        return np.minimum(torque, by_winding)

    def margin(self, speed: RadianPerSecond, voltage: Volt) -> Number:
        """The same at every speed."""
        return MARGIN

    def end_speed(self, torque: NewtonMetre, voltage: Volt) -> RadianPerSecond:
        """Just above its highest speed, where it gives none."""
        return 1.02 * self.top_speed

    def corner_speed(self, voltage: Volt) -> None:
        """Its sheet tells a rated speed instead."""

    def promised_up_to(self, voltage: Volt) -> RadianPerSecond:
        """No step is lost unseen."""
        return np.inf

    def stiffness(self, torque: NewtonMetre) -> None:
        """The loop holds the shaft."""

    def load_angle(self, torque: NewtonMetre) -> None:
        """The loop takes it out."""

    def electrical_power(self, speed: RadianPerSecond, torque: NewtonMetre, voltage: Volt) -> Watt | None:
        """The current follows the load."""
        if self.torque_per_rms is None or self.resistance is None or self.idle is None or self.efficiency is None:
            return None
        power = servo_power(torque=torque, speed=speed, resistance=self.resistance, torque_per_rms=self.torque_per_rms)
        return driver_input(motor=power, efficiency=self.efficiency, idle=self.idle)

    def along_grid(self) -> Self:
        """Every number as a column."""
        return samples.columns(self)


def make(parts: MotorParts) -> Motor | Missing:
    """A servo from its records; the short-time torque is capped by the largest current of the driver."""
    motor, driver = parts.motor, parts.driver
    missing = [f"{parts.path}.motor.{name}" for name in NEEDED if getattr(motor, name) is None]
    if driver is None:
        missing.append(f"{parts.path}.driver")
    if (
        motor.rated_torque is None
        or motor.rated_speed is None
        or motor.top_speed is None
        or motor.inertia is None
        or driver is None
    ):
        return Missing(", ".join(missing))
    per_rms = None if motor.current is None else motor.rated_torque / (motor.current.peak / 2**0.5)
    peak = motor.rated_torque if motor.peak_torque is None else motor.peak_torque
    allowed = driver.current or driver.part.current
    if per_rms is not None and allowed is not None:
        peak = np.minimum(peak, per_rms * allowed.peak / 2**0.5)
    return Servo(
        path=parts.path, rated_torque=motor.rated_torque, peak_torque=peak, rated_speed=motor.rated_speed, top_speed=motor.top_speed,
        inertia=motor.inertia, pole_pairs=motor.pole_pairs or 4, detent=motor.detent, torque_per_rms=per_rms, resistance=motor.resistance,
        inductance=motor.inductance, idle=driver.part.idle, efficiency=driver.part.efficiency,
    )  # fmt: skip
