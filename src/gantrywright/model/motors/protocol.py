"""What every kind of motor answers, whatever turns inside it."""

from dataclasses import dataclass
from typing import Protocol, Self

from gantrywright.base.units import (
    KilogramSquareMetre,
    NewtonMetre,
    NewtonMetrePerRadian,
    Number,
    Radian,
    RadianPerSecond,
    Volt,
    Watt,
)
from gantrywright.catalog import kinds
from gantrywright.model.electric import DriverFit


@dataclass(frozen=True, slots=True)
class Missing:
    """Data that must be known before a motor can answer."""

    what: str
    """Paths and names, in words."""


@dataclass(frozen=True, slots=True)
class MotorParts:
    """All that a machine file says of one motor and its driver."""

    path: str
    """Of the drive: ``axis.x.drive.main``."""
    motor: kinds.Motor
    driver: DriverFit | None


class Motor(Protocol):
    """A motor with its driver as it is set. Speeds are those of the motor shaft, never negative; torque is at the shaft, losses taken off."""

    @property
    def kind(self) -> str:
        """Word of the parts table."""
        ...

    @property
    def open_loop(self) -> bool:
        """Nobody notices a lost step."""
        ...

    @property
    def inertia(self) -> KilogramSquareMetre:
        """Of the rotor."""
        ...

    @property
    def pole_pairs(self) -> Number:
        """Electrical turns per turn."""
        ...

    @property
    def stall_torque(self) -> NewtonMetre:
        """Greatest torque at rest with the current that is set."""
        ...

    @property
    def top_speed(self) -> RadianPerSecond | None:
        """Speed that its sheet forbids to pass; None is not stated."""
        ...

    @property
    def detent(self) -> NewtonMetre | None:
        """Torque without current; None is unknown."""
        ...

    def torque(self, speed: RadianPerSecond, voltage: Volt, *, continuous: bool = False) -> NewtonMetre:
        """Greatest torque at a speed: for a ramp, or for as long as wanted."""
        ...

    def margin(self, speed: RadianPerSecond, voltage: Volt) -> Number:
        """Part of that torque that may be promised."""
        ...

    def end_speed(self, torque: NewtonMetre, voltage: Volt) -> RadianPerSecond:
        """A speed beyond which it certainly gives less than a torque."""
        ...

    def corner_speed(self, voltage: Volt) -> RadianPerSecond | None:
        """Speed where its torque starts to fall for want of voltage; None where the notion does not apply."""
        ...

    def promised_up_to(self, voltage: Volt) -> RadianPerSecond:
        """Speed up to which its torque may be promised at all; infinite where it closes a loop."""
        ...

    def stiffness(self, torque: NewtonMetre) -> NewtonMetrePerRadian | None:
        """Of its magnetic spring at a load; None where a loop holds the shaft."""
        ...

    def load_angle(self, torque: NewtonMetre) -> Radian | None:
        """Lag behind the commanded angle at a load; None where a loop holds the shaft."""
        ...

    def electrical_power(self, speed: RadianPerSecond, torque: NewtonMetre, voltage: Volt) -> Watt | None:
        """Power that its driver takes from the bus while it gives a torque at a speed, electronics included; None is unknown."""
        ...

    def along_grid(self) -> Self:
        """The same motor, its samples ready to meet a grid of speeds on a last axis."""
        ...
