"""Time-domain simulation of a stepper on a hysteresis chopper: does it keep step on a ramp, and what does it pull at a speed?

Needs a compiler at run time (numba), so only what really simulates imports this module. Numbers here are plain floats: one motor, one ramp.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import asin, pi
from typing import Any

import numpy as np
from numba import njit

from gantrywright.base.formula import formula
from gantrywright.base.units import Flag, NewtonMetre, Number, Radian, RadianPerSecond, RadianPerSecondSquared, Watt

HYSTERESIS = 0.02
"""Of the set current, to either side."""
SHORTEST, LONGEST = 1e-6, 4e-6
"""Bounds of the time step, s."""
SETTLE_SWINGS = 4.0
"""Swings of the rotor on its magnetic spring that are watched after the ramp."""


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compile a loop over plain numbers and keep the result on disk."""
    made: Callable[..., Any] = njit(cache=True)(function)
    return made


@dataclass(frozen=True, slots=True)
class SimulatedMotor:
    """A stepper, its driver, and all that turns with it."""

    resistance: float
    inductance: float
    torque_constant: float
    pole_pairs: float
    current: float
    """Peak of the sine that is set, A."""
    voltage: float
    """Of the bus, bridge drops taken off, V."""
    inertia: float
    """At the shaft, moving mass included, kg m2."""
    friction: float = 0.0
    """Torque against the motion, N m."""
    weight: float = 0.0
    """Torque that pulls one way always, N m."""
    loss_torque: float = 0.0
    loss_per_speed: float = 0.0
    detent: float = 0.0
    microsteps: float = 16.0

    @property
    def time_step(self) -> float:
        """Short enough that the current moves by no more than half the hysteresis band, s."""
        slew = self.voltage / self.inductance
        return min(max(HYSTERESIS * self.current / slew, SHORTEST), LONGEST)

    @property
    def swing(self) -> float:
        """Natural frequency without load, rad/s."""
        return float(np.sqrt(self.pole_pairs * self.torque_constant * self.current / self.inertia))

    def numbers(self) -> tuple[float, ...]:
        """What the compiled loops take."""
        return (
            self.resistance, self.inductance, self.torque_constant, self.pole_pairs, self.current, self.voltage, self.inertia,
            self.friction, self.weight, self.loss_torque, self.loss_per_speed, self.detent, self.microsteps,
        )  # fmt: skip


@formula(
    "J dw/dt = T_em - T_load - D (w - w_cmd), L di/dt = v - R i - e, slip where p |th_cmd - th| > 2 pi", source="acarnley-2002"
)
def keeps_step(*, motor: SimulatedMotor, speed: RadianPerSecond, acceleration: RadianPerSecondSquared, damping: Number) -> Flag:
    """Whether an open-loop motor follows a ramp from rest to a speed and stays there.

    Args:
        motor: Motor, driver and load.
        speed: At the end of the ramp, rad/s.
        acceleration: Of the ramp, rad/s2.
        damping: Part of critical at the natural frequency, acting on the deviation from the commanded speed: an assumption about eddy
            currents and the driver, not a datum. Above 0.1 it would also help on the ramp, which no motor does.

    Source: acarnley-2002 (equations of the motor).
    """
    coefficient = 2 * float(damping) * motor.inertia * motor.swing
    watch = SETTLE_SWINGS * 2 * pi / motor.swing
    at_rest = -asin(min(motor.weight / (motor.torque_constant * motor.current), 1.0)) / motor.pole_pairs
    return bool(_ramp(*motor.numbers(), coefficient, float(speed), float(acceleration), watch, at_rest, motor.time_step))


@formula("greatest factor on the acceleration that keeps step, by halving in steps of equal ratio", source="derived")
def loss_factor(
    *, motor: SimulatedMotor, speed: RadianPerSecond, acceleration: RadianPerSecondSquared, damping: Number, most: Number = 4.0,
    halvings: int = 7,
) -> Number:  # fmt: skip
    """Factor on an acceleration beyond which the motor loses step; below 1 it loses step on the ramp itself.

    Args:
        motor: Motor, driver and load.
        speed: At the end of the ramp, rad/s.
        acceleration: Of the ramp, rad/s2.
        damping: Part of critical.
        most: Factor up to which is looked; this comes back where step is kept even there.
        halvings: Of the interval between kept and lost.

    Source: derived.
    """
    kept = keeps_step(motor=motor, speed=speed, acceleration=acceleration, damping=damping)
    low, high = (1.0, float(most)) if kept else (1 / float(most), 1.0)
    if kept and keeps_step(motor=motor, speed=speed, acceleration=most * acceleration, damping=damping):
        return float(most)
    for _ in range(halvings):
        middle = (low * high) ** 0.5
        if keeps_step(motor=motor, speed=speed, acceleration=middle * acceleration, damping=damping):
            low = middle
        else:
            high = middle
    return low


@dataclass(frozen=True, slots=True)
class ForcedRun:
    """Means over whole electrical turns at a forced constant speed."""

    torque: NewtonMetre
    power: Watt
    """Taken from the bus."""


@formula("mean of K(-ia sin p th + ib cos p th) and of va ia + vb ib at forced speed", source="derived")
def forced_run(*, motor: SimulatedMotor, speed: RadianPerSecond, lead: Radian, turns: int = 30) -> ForcedRun:
    """Torque and power of the chopper-fed motor while something holds its speed constant.

    Args:
        motor: Motor and driver; its inertia and load play no part.
        speed: Forced speed, rad/s, above 0.
        lead: Electrical angle of the commanded current before the rotor's own axis, rad.
        turns: Electrical turns that the means are taken over, after half as many to settle.

    Source: derived.
    """
    torque, power = _forced(*motor.numbers(), float(speed), float(lead), turns, motor.time_step / 2)
    return ForcedRun(torque, power)


@compiled
def _chop(current: float, wanted: float, band: float, bus: float, before: float) -> float:
    """Bridge voltage of one phase."""
    if current < wanted - band:
        return bus
    if current > wanted + band:
        return -bus
    return before


@compiled
def _ramp(
    resistance: float, inductance: float, constant: float, poles: float, peak: float, bus: float, inertia: float, friction: float,
    weight: float, loss: float, loss_per_speed: float, detent: float, microsteps: float, damping: float, speed: float, ramp: float,
    watch: float, angle: float, step: float,
) -> bool:  # fmt: skip
    band = HYSTERESIS * peak
    micro = 2.0 * np.pi / (4.0 * microsteps)  # electrical angle of a microstep
    rising = speed / ramp
    count = int((rising + watch) / step)
    current_a, current_b, volt_a, volt_b = peak, 0.0, bus, bus
    wanted_a, wanted_b, place, turning = peak, 0.0, 0, 0.0
    for index in range(count):
        time = index * step
        if time < rising:
            commanded, commanded_speed = 0.5 * ramp * time * time, ramp * time
        else:
            commanded, commanded_speed = 0.5 * speed * rising + speed * (time - rising), speed
        new_place = int(poles * commanded / micro + 0.5)
        if new_place != place:
            place = new_place
            wanted_a, wanted_b = peak * np.cos(place * micro), peak * np.sin(place * micro)
        electrical = poles * angle
        sine, cosine = np.sin(electrical), np.cos(electrical)
        volt_a = _chop(current_a, wanted_a, band, bus, volt_a)
        volt_b = _chop(current_b, wanted_b, band, bus, volt_b)
        current_a += step / inductance * (volt_a - resistance * current_a + constant * turning * sine)
        current_b += step / inductance * (volt_b - resistance * current_b - constant * turning * cosine)
        torque = constant * (current_b * cosine - current_a * sine)
        if detent > 0.0:  # sin 4x = 4 s c (c^2 - s^2)
            torque -= detent * 4.0 * sine * cosine * (cosine * cosine - sine * sine)
        drag = min(max(turning / 0.05, -1.0), 1.0) * (friction + loss) + loss_per_speed * turning
        turning += step / inertia * (torque - weight - drag - damping * (turning - commanded_speed))
        angle += step * turning
        if abs(poles * (commanded - angle)) > 2.0 * np.pi:
            return False
    return True


@compiled
def _forced(
    resistance: float, inductance: float, constant: float, poles: float, peak: float, bus: float, inertia: float, friction: float,
    weight: float, loss: float, loss_per_speed: float, detent: float, microsteps: float, speed: float, lead: float, turns: int,
    step: float,
) -> tuple[float, float]:  # fmt: skip
    band = HYSTERESIS * peak
    period = 2.0 * np.pi / (poles * speed)
    settle, count = int(0.5 * turns * period / step), int(1.5 * turns * period / step)
    current_a, current_b, volt_a, volt_b = peak * np.cos(lead), peak * np.sin(lead), bus, bus
    torque, power = 0.0, 0.0
    for index in range(count):
        electrical = poles * speed * index * step
        sine, cosine = np.sin(electrical), np.cos(electrical)
        volt_a = _chop(current_a, peak * np.cos(electrical + lead), band, bus, volt_a)
        volt_b = _chop(current_b, peak * np.sin(electrical + lead), band, bus, volt_b)
        before_a, before_b = current_a, current_b
        current_a += step / inductance * (volt_a - resistance * current_a + constant * speed * sine)
        current_b += step / inductance * (volt_b - resistance * current_b - constant * speed * cosine)
        if index >= settle:
            middle_a, middle_b = 0.5 * (before_a + current_a), 0.5 * (before_b + current_b)
            torque += constant * (middle_b * cosine - middle_a * sine)
            power += volt_a * middle_a + volt_b * middle_b
    return torque / (count - settle), power / (count - settle)
