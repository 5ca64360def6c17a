"""What the machine is wanted for and where it stands."""

from dataclasses import dataclass

from gantrywright.base.units import (
    CubicMetrePerSecond,
    Kelvin,
    Metre,
    MetrePerMetre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Money,
    Newton,
    NewtonMetre,
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
class Tabs:
    """Bridges that are left standing between a part and what is round it."""

    count: int
    width: Metre | None
    thickness: Metre | None


@dataclass(frozen=True, slots=True)
class HoldDown:
    """How the work is held; what the file does not say is None."""

    kind: str
    """vacuum, clamps, screws, tape or slots."""
    area: SquareMetre | None = None
    pressure: Pascal | None = None
    count: int | None = None
    force: Newton | None = None
    friction: Number | None = None
    torque: NewtonMetre | None = None
    """Of each clamp's screw."""
    thread: kinds.Thread | None = None
    nut_factor: Number | None = None
    """Torque over force and diameter of each clamp's screw."""
    screw_diameter: Metre | None = None
    """Of each wood screw."""
    screw_depth: Metre | None = None
    pump_pressure: Pascal | None = None
    """With its inlet closed."""
    pump_flow: CubicMetrePerSecond | None = None
    """With its inlet open, at the shop's pressure."""
    board: Metre | None = None
    """What the vacuum is drawn through: its own thickness, else that of the spoilboard."""
    leak: SquareMetre | None = None
    strength: Pascal | None = None
    """Of the tape, in shear."""
    safety: Number = 2.0
    """What holds over what pulls, at the least that is wanted; common practice, no source."""
    tabs: Tabs | None = None


@dataclass(frozen=True, slots=True)
class Spoilboard:
    """The board under the work, and how it is faced; what the file does not say is None."""

    thickness: Metre | None = None
    material: kinds.Material | None = None
    cutter: kinds.Cutter | None = None
    step_over: Metre | None = None
    """Half the cutter's diameter where the file does not say it."""
    tram_across: MetrePerMetre | None = None
    """Slope of the spindle across the facing passes."""
    tram_along: MetrePerMetre | None = None
    unevenness: Metre | None = None
    """Highest over lowest place, as the machine finds it."""
    least: Metre | None = None
    """Thickness below which it is replaced."""
    span: Metre | None = None
    """Between the bearers that it lies on."""


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
    grain: str = "all"
    """Which way it feeds against the grain of wood: along, across or all."""
    run_out: Metre | None = None
    """Reading of an indicator at the cutter, twice the eccentricity; the spindle's where the job does not say it."""
    edge: str = "used"
    """new, used or worn."""
    edge_factor: Number = 1.0
    """Edge forces over those of the material."""
    cutter_material: kinds.Material | None = None
    """Of the cutter; None is unknown."""

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
