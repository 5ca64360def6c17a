"""What each axis can promise."""

from dataclasses import dataclass

from gantrywright.base.units import (
    Array,
    MetrePerSecond,
    MetrePerSecondSquared,
    Newton,
    NewtonPerMetre,
    Number,
    Radian,
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


@dataclass(frozen=True, slots=True)
class Envelope:
    """Thrust of all drives of the axis against speed, margin applied; for pictures."""

    speed: Array
    """m/s, shape (n_points,)."""
    thrust: Array
    """N left for acceleration and cutting, shape (n_points,)."""


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
    """Least over the travel, motor's magnetic spring in series, all drives of the axis together."""
    inertia_ratio: Number | None
    """Load over rotor."""
    load_angle: Radian | None
    """At the wanted feed with mean cutting force."""
    envelope: Envelope | None
    stall_force: Newton | None
    """Greatest thrust of one drive when it stalls: what stops, screws and blocks must bear."""
    accel_binds: str = ""
    """What caps the acceleration: the motor's torque, the supply, the guide ..."""
    missing: str = ""
    """What must be known before there is a promise."""
    beyond_corner: Number = 0.0
    """Promised speed over 1.3 times the corner speed; above 1 no promise is made from the motor model alone."""


@dataclass(frozen=True, slots=True)
class MotionResult:
    """All axes by name."""

    axes: dict[str, AxisMotion]
