"""What each axis can promise."""

from dataclasses import dataclass

from gantrywright.base.units import (
    Array,
    Hertz,
    Kilogram,
    KilogramSquareMetre,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Newton,
    NewtonMetre,
    NewtonPerMetre,
    Number,
    Radian,
    Volt,
)


@dataclass(frozen=True, slots=True)
class Cap:
    """One thing that caps the speed of an axis."""

    reason: str
    speed: MetrePerSecond
    drive: str
    """Path of the drive it belongs to."""
    source: str = ""
    remedy: str = ""
    figure: str = ""
    """Path of its figure."""


@dataclass(frozen=True, slots=True)
class Envelope:
    """Thrust of all drives of the axis against speed, margin applied; for pictures."""

    speed: Array
    """m/s, shape (n_points,), or (n_samples, n_points)."""
    thrust: Array
    """N left for acceleration and cutting, same shape."""


@dataclass(frozen=True, slots=True)
class AxisMotion:
    """One axis: what may be promised, and what binds."""

    axis: str
    rapid: MetrePerSecond | None
    """Promised rapid (positioning) speed with margin; None is unknown."""
    accel: MetrePerSecondSquared | None
    """Promised acceleration up to that speed."""
    feed_force: Newton | None
    """Thrust left for cutting at the wanted feed speed, margin applied."""
    caps: tuple[Cap, ...]
    """Least first by typical value; the first binds, the second would be next."""
    binds: str
    next: str
    margin_used: Number
    """Part of the motor's pull-out torque that the promise uses."""
    stiffness: NewtonPerMetre | None
    """Least over the travel, all drives of the axis together; the magnetic spring of an open-loop motor in series, under the torque of the
    feed; a motor that a loop holds taken as rigid."""
    inertia_ratio: Number | None
    """Load over rotor."""
    load_angle: Radian | None
    """At the wanted feed with mean cutting force."""
    envelope: Envelope | None
    stall_force: Newton | None
    """Greatest thrust of one drive when it stalls: what stops, screws and blocks must bear."""
    accel_binds: str = ""
    """What caps the acceleration: the motor's torque, the supply, the guide ..."""
    softest: str = ""
    """The spring of the drives that gives most, and whether those of the motors are in the stiffness."""
    missing: str = ""
    """What must be known before there is a promise."""
    beyond_corner: Number = 0.0
    """Speed that is wanted over the speed up to which the motor model alone may promise (1.3 times the corner speed, or as far as the
    motor's curve was measured); above 1 there is a band and no promise. 0 where the motor closes a loop."""
    beyond_band: tuple[MetrePerSecond, MetrePerSecond] | None = None
    """Speeds between which an open-loop axis would end if it were driven beyond: with a quarter of the pull-out torque, with all of it."""
    drives: tuple["DriveMotion", ...] = ()
    """What each motor of the axis has to do."""
    rapid_reserve: MetrePerSecondSquared = 0.0
    """Acceleration that must still be left at the promised rapid."""


@dataclass(frozen=True, slots=True)
class DriveMotion:
    """One motor of an axis, with the screws, racks or belts that hang on it."""

    path: str
    """Of the drive that carries the motor."""
    share: Number
    """Of the moving mass and its friction, at the worst place of what rides on the axis."""
    mass: Kilogram
    """That this motor moves."""
    force: Newton
    """Friction and weight that it bears while it moves."""
    cutting: Newton | None
    """Mean cutting force that it bears at the worst place of the tool; None is unknown."""
    inertia: KilogramSquareMetre
    """Of all that turns at the motor shaft, rotor included, moving mass not included."""
    travel_per_radian: Metre
    efficiency: Number
    drag_torque: NewtonMetre
    voltage: Volt
    """Bus voltage."""
    accel_torque: NewtonMetre
    """At the shaft, at the top of the promised ramp."""
    feed_torque: NewtonMetre | None
    """At the shaft, at the wanted feed against the mean cutting force."""
    feed_torque_share: Number | None
    """Feed torque over the torque that may be promised at that speed."""
    rms_torque_share: Number | None
    """Servo: torque of hard to-and-fro moves over half the travel, as heat, over the continuous torque; None for steppers."""
    natural_frequency: Hertz | None
    """On the magnetic spring; None where a loop holds the shaft."""
    resonant_feeds: tuple[MetrePerSecond, ...]
    """Feeds that shake it: by offset, by unequal phases, by detent."""
    lag: Metre | None
    """Behind the commanded place at the wanted feed."""
    pulses: tuple[Number, Hertz] | None
    """Pulses a metre, pulse rate at the wanted rapid; None for a motor without step pulses."""


@dataclass(frozen=True, slots=True)
class MotionResult:
    """All axes by name."""

    axes: dict[str, AxisMotion]
