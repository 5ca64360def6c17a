"""What each linear drive does and bears."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from gantrywright.base.units import (
    KilogramSquareMetre,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    MetrePerTurn,
    Newton,
    NewtonMetre,
    NewtonPerMetre,
    Number,
)


@dataclass(frozen=True, slots=True)
class TravelSpeedLimit:
    """A speed limit of the drive itself, as speed of the axis."""

    reason: str
    speed: MetrePerSecond
    source: str
    remedy: str
    hard: bool = True


@dataclass(frozen=True, slots=True)
class DriveAnswer:
    """One drive of one axis."""

    path: str
    axis: str
    travel_per_turn: MetrePerTurn
    """Of the driven shaft."""
    travel_per_radian: Metre
    """Of the motor shaft: travel_per_turn / (2 pi ratio)."""
    efficiency: Number
    """Driving, reduction included."""
    back_efficiency: Number
    drag_torque: NewtonMetre
    """At the motor shaft, without the motor's own losses."""
    inertia: KilogramSquareMetre
    """At the motor shaft: driven shaft, coupling, reduction; without the rotor and without the moving mass."""
    stiffness_least: NewtonPerMetre | None
    """Least over the travel, motor shaft held."""
    stiffness_most: NewtonPerMetre | None
    speed_limits: tuple[TravelSpeedLimit, ...]
    load_limits: tuple[tuple[str, Newton, str, str], ...]
    """(reason, force, source, remedy)."""
    lost_motion: Metre | None
    lead_error: Metre | None
    growth: Metre
    """Over the travel, from the coldest to the warmest shop temperature."""
    fall: MetrePerSecondSquared | None
    """Acceleration of an unpowered fall; 0 holds; None for a level axis or where the motor is unknown."""
    fall_speed: MetrePerSecond | None
    """Speed after falling the whole travel."""
    back_torque: NewtonMetre | None = None
    """With which the weight turns the unpowered motor shafts of the axis; None where fall is."""
    resisting_torque: NewtonMetre | None = None
    """That resists there: drag and detent."""
    mass_share: Number = 1.0
    """Share of the moving mass that this drive bears with the other axes where it is worst."""
    force_share: Number = 1.0
    """Share of the cutting force that it bears where that is worst."""
    thrust: Newton | None = None
    """Greatest push asked of it: wanted acceleration, weight, friction, peak cutting force."""
    mean_force: Newton | None = None
    """Cube mean over ordinary work: half the travel cutting, half positioning."""
    life: Metre | None = None
    """Travel that nine of ten grips survive under the mean force; None where unknown or where the kind has no such law."""
    links: Mapping[str, NewtonPerMetre] = field(default_factory=dict)
    """Its springs in series by name (shaft, nut, coupling ...) where it is softest, motor shaft held; unknown ones left out."""
    lacking: tuple[str, ...] = ()
    """What thrust and mean force leave out because it is unknown; not empty: they are lower bounds."""


@dataclass(frozen=True, slots=True)
class DriveResult:
    """All drives by path."""

    drives: dict[str, DriveAnswer]

    def of_axis(self, axis: str) -> tuple[DriveAnswer, ...]:
        """The drives of one axis."""
        return tuple(answer for answer in self.drives.values() if answer.axis == axis)
