"""The two-phase hybrid motor that open-loop and closed-loop steppers share, and how it is made from part records."""

from dataclasses import dataclass
from typing import Self

import numpy as np

from gantrywright.base import samples
from gantrywright.base.units import (
    Ampere,
    Henry,
    KilogramSquareMetre,
    NewtonMetre,
    NewtonMetrePerAmpere,
    NewtonMetreSecond,
    Number,
    Ohm,
    RadianPerSecond,
    Real,
    Volt,
    Watt,
)
from gantrywright.model.motors.curve import Curve, curve_of
from gantrywright.model.motors.protocol import Missing, MotorParts
from gantrywright.theory.curve_fit import fit_pull_out_curve
from gantrywright.theory.steppers import SQUARE_WAVE, corner_speed, pull_out_torque, torque_constant
from gantrywright.theory.supplies import driver_input

DEFAULT_LOSS = 0.013
"""Constant loss over holding torque where the record is silent; common practice, no source."""


@dataclass(frozen=True, slots=True)
class TwoPhase:
    """Winding, magnet, rotor and driver of a hybrid motor."""

    path: str
    resistance: Ohm
    inductance: Henry
    torque_constant: NewtonMetrePerAmpere
    pole_pairs: Number
    current: Ampere
    """Peak of the sine that the driver is set to."""
    rated_current: Ampere | None
    """Peak of the sine that heats as much as the rating."""
    drop: Volt
    loss_torque: NewtonMetre
    loss_per_speed: NewtonMetreSecond
    inertia: KilogramSquareMetre
    detent: NewtonMetre | None
    top_speed: RadianPerSecond | None
    idle: Watt | None
    efficiency: Number | None
    curve: Curve | None = None
    """Points that were read off its curve; the winding then is the one fitted to them, losses included."""

    @property
    def stall_torque(self) -> NewtonMetre:
        """Greatest torque at rest with the current that is set."""
        return self.torque_constant * self.current

    def usable(self, voltage: Volt) -> Volt:
        """Bus voltage less the drop of the bridge."""
        return np.maximum(voltage - self.drop, 0.0)

    def torque(self, speed: RadianPerSecond, voltage: Volt, *, continuous: bool = False) -> NewtonMetre:
        """Pull-out torque; the current is the same at rest, so that it may last as long as wanted."""
        return pull_out_torque(
            speed=speed, resistance=self.resistance, inductance=self.inductance, torque_constant=self.torque_constant,
            pole_pairs=self.pole_pairs, current=self.current, voltage=self.usable(voltage), loss_torque=self.loss_torque,
            loss_per_speed=self.loss_per_speed,
        )  # fmt: skip

    def corner_speed(self, voltage: Volt) -> RadianPerSecond:
        """Speed where the full current can no longer be driven."""
        return corner_speed(
            resistance=self.resistance, inductance=self.inductance, torque_constant=self.torque_constant, pole_pairs=self.pole_pairs,
            current=self.current, amplitude=self.usable(voltage),
        )  # fmt: skip

    def end_speed(self, torque: NewtonMetre, voltage: Volt) -> RadianPerSecond:
        """Shaft power cannot pass voltage amplitude times current."""
        return SQUARE_WAVE * self.usable(voltage) * self.current / np.maximum(torque, 1e-9)

    def through_driver(self, motor_power: Watt) -> Watt | None:
        """Power at the bus from power at the motor."""
        if self.idle is None or self.efficiency is None:
            return None
        return driver_input(motor=motor_power, efficiency=self.efficiency, idle=self.idle)

    def shaft_to_air_gap(self, speed: RadianPerSecond, torque: NewtonMetre) -> NewtonMetre:
        """Electromagnetic torque: the loss of iron and bearings is added while it turns."""
        return torque + np.where(speed > 0, self.loss_torque + self.loss_per_speed * speed, 0.0)

    def along_grid(self) -> Self:
        """Every number as a column."""
        return samples.columns(self)


def gather(parts: MotorParts) -> dict[str, object] | Missing:
    """The fields of a `TwoPhase`, or what is missing for it."""
    motor, driver = parts.motor, parts.driver
    missing = [f"{parts.path}.motor.{name}" for name in ("resistance", "inertia", "pole_pairs") if getattr(motor, name) is None]
    if driver is None:
        return Missing(", ".join([*missing, f"{parts.path}.driver"]))
    current = driver.current
    if current is None:
        missing.append(f"{parts.path}.driver.current")
    if driver.part.drop is None:
        missing.append(f"{parts.path}.driver.drop")
    curve = curve_of(parts)
    if isinstance(curve, Missing):
        missing.append(curve.what)
    winding = _fitted(parts, curve) if isinstance(curve, Curve) and not missing else _sheet(parts, missing)
    if missing or current is None:
        return Missing(", ".join(missing))
    return {
        "path": parts.path, "resistance": motor.resistance, "pole_pairs": motor.pole_pairs, "current": current.peak,
        "rated_current": None if motor.current is None else motor.current.peak, "drop": driver.part.drop, "inertia": motor.inertia,
        "detent": motor.detent, "top_speed": motor.top_speed, "idle": driver.part.idle, "efficiency": driver.part.efficiency,
        "curve": curve, **winding,
    }  # fmt: skip


def _sheet(parts: MotorParts, missing: list[str]) -> dict[str, Real]:
    """Winding by the nameplate; adds to the list of what is missing."""
    motor = parts.motor
    lacking = [name for name in ("inductance", "holding", "current", "loss_per_speed") if getattr(motor, name) is None]
    missing.extend(f"{parts.path}.motor.{name}" for name in lacking)
    if motor.inductance is None or motor.holding is None or motor.current is None or motor.loss_per_speed is None:
        return {}
    return {
        "inductance": motor.inductance,
        "torque_constant": torque_constant(holding=motor.holding, current_peak=motor.current.peak),
        "loss_torque": DEFAULT_LOSS * motor.holding if motor.loss_torque is None else motor.loss_torque,
        "loss_per_speed": motor.loss_per_speed,
    }


def _fitted(parts: MotorParts, curve: Curve) -> dict[str, Real]:
    """Winding by the curve: its torques are those of the shaft, so that nothing more is lost."""
    motor = parts.motor
    resistance = 0.0 if motor.resistance is None else samples.typical(motor.resistance)
    held = None
    if not curve.has_plateau and motor.holding is not None and motor.current is not None:
        held = samples.typical(torque_constant(holding=motor.holding, current_peak=motor.current.peak))
    fitted = fit_pull_out_curve(
        speeds=np.array(curve.speeds), torques=np.array(curve.torques), resistance=resistance,
        voltage=curve.voltage, current=curve.current, pole_pairs=float(motor.pole_pairs or 0), torque_constant=held,
    )  # fmt: skip
    return {
        "inductance": fitted.inductance, "torque_constant": fitted.torque_constant, "loss_torque": 0.0, "loss_per_speed": 0.0,
    }  # fmt: skip
