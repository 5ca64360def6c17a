"""What the machine is wanted for and where it stands."""

from dataclasses import dataclass

from gantrywright.base.units import (
    Kelvin,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Money,
    Newton,
    NewtonPerMetre,
    Number,
    Pascal,
    RadianPerSecond,
    SquareMetre,
)
from gantrywright.catalog import kinds
from gantrywright.model.electric import OtherLoad, Outlet
from gantrywright.model.frame import Vector


@dataclass(frozen=True, slots=True)
class Purpose:
    """What is wanted."""

    work_area: Vector
    rapid: MetrePerSecond
    feed: MetrePerSecond
    accel: MetrePerSecondSquared | None = None
    accuracy: Metre | None = None
    stiffness: NewtonPerMetre | None = None
    budget: Money | None = None


@dataclass(frozen=True, slots=True)
class HoldDown:
    """How the work is held."""

    kind: str
    area: SquareMetre | None = None
    pressure: Pascal | None = None
    count: int | None = None
    force: Newton | None = None
    friction: Number | None = None


@dataclass(frozen=True, slots=True)
class Workpiece:
    """The piece that a job cuts."""

    size: Vector
    at: Vector
    """Its least corner, from the machine's zero, m."""


@dataclass(frozen=True, slots=True)
class Job:
    """One kind of cut that the machine is for."""

    name: str
    material: kinds.Material
    cutter: kinds.Cutter
    stick_out: Metre
    slot: bool
    depth: Metre
    width: Metre
    """Cutter diameter for a slot."""
    feed: MetrePerSecond
    plunge: MetrePerSecond
    speed: RadianPerSecond
    passes: int
    way: str
    share: Number
    hold_down: HoldDown | None
    note: str = ""
    work: Workpiece | None = None
    """None where the file does not say."""

    @property
    def path(self) -> str:
        """``job.NAME``."""
        return f"job.{self.name}"


@dataclass(frozen=True, slots=True)
class Site:
    """Where the machine stands."""

    ambient: Kelvin
    ambient_low: float
    """Lowest shop temperature, K."""
    ambient_high: float
    altitude: Metre
    floor: str
    rules: str
    outlets: tuple[Outlet, ...]
    loads: tuple[OtherLoad, ...]
