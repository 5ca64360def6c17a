"""One axis: its guide (rails and blocks) and what drives it."""

from dataclasses import dataclass
from math import dist

from gantrywright.base.units import (
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Newton,
    NewtonMetrePerRadian,
    NewtonPerMetre,
    Number,
    Radian,
    Second,
)
from gantrywright.catalog import kinds
from gantrywright.model.bodies import Use
from gantrywright.model.drives.protocol import Drive
from gantrywright.model.electric import DriverFit, MotorFit
from gantrywright.model.frame import Vector


@dataclass(frozen=True, slots=True)
class Rail:
    """A profile rail where it is screwed down."""

    path: str
    body: str
    """The body that holds it."""
    on: str
    """Path of the part that it lies on."""
    start: Vector
    """Foot line, end of least coordinate."""
    stop: Vector
    normal: Vector
    part: kinds.Rail
    use: Use
    joined_at: tuple[float, ...] = ()
    first_hole: float | None = None

    @property
    def length(self) -> float:
        """End to end, m."""
        return dist(self.start, self.stop)


@dataclass(frozen=True, slots=True)
class Block:
    """A block on its rail."""

    path: str
    body: str
    """The body that is bolted to it."""
    on: str
    """Path of the part bolted to its face."""
    rail: str
    """Path of its rail."""
    centre: Vector
    """In the plane of the raceways, at the drawn pose."""
    normal: Vector
    """Out of the rail, towards the block face."""
    part: kinds.Block
    use: Use
    preload: str
    """clearance, light, medium or heavy."""
    preload_force: Newton
    normal_stiffness: NewtonPerMetre
    lateral_stiffness: NewtonPerMetre
    roll_stiffness: NewtonMetrePerRadian
    pitch_stiffness: NewtonMetrePerRadian
    yaw_stiffness: NewtonMetrePerRadian


@dataclass(frozen=True, slots=True)
class Alignment:
    """What the builder can reach over the rail's length."""

    parallel: Metre
    height: Metre
    straight: Metre
    structure: NewtonPerMetre = 50e6
    """How stiff what carries the rails is against what holds the blocks, at one block: it gives and so relieves the blocks."""


@dataclass(frozen=True, slots=True)
class Counterweight:
    """Gas spring, weight or spring that carries an upright axis."""

    kind: str
    force: Newton
    on: str


@dataclass(frozen=True, slots=True)
class CableChainFit:
    """A cable chain between a body and the moving body of the axis."""

    part: kinds.CableChain
    on: str
    fixed_at: Vector
    moving_at: Vector
    radius: float | None
    fitted: bool = True


@dataclass(frozen=True, slots=True)
class Reduction:
    """Belt stage or gearbox between motor and driven shaft."""

    kind: str
    """direct, belt or gearbox."""
    ratio: Number = 1.0
    """Motor turns per turn of what it drives."""
    efficiency: Number = 1.0
    backlash: Radian | None = 0.0
    """At the output."""
    stiffness: NewtonMetrePerRadian | None = None
    inertia: Number = 0.0
    """At the motor shaft, kg m2."""
    part: kinds.Gearbox | None = None


DIRECT = Reduction("direct")


@dataclass(frozen=True, slots=True)
class DriveFit:
    """One drive of an axis, placed: what turns, who holds it, who is gripped, which motor."""

    path: str
    """``axis.x.drive.main``."""
    drive: Drive
    """The kind object: `gantrywright.model.drives`."""
    line: tuple[Vector, Vector]
    """Bearing to bearing, pulley to pulley, rack end to end; at the drawn pose."""
    grip: Vector
    """Nut, pinion or clamp; at the drawn pose."""
    holds: str
    """Body that holds the long piece."""
    grips: str
    """Body that holds the nut, pinion or clamp."""
    motor_at: Vector
    motor_body: str
    """Body that carries the motor."""
    motor_end_first: bool
    """The motor (and the fixed bearing) is at ``line[0]``."""
    driven_by: str = ""
    motor: MotorFit | None = None
    driver: DriverFit | None = None
    supply: str = ""
    """Name of the supply."""
    reduction: Reduction = DIRECT
    coupling: kinds.Coupling | None = None
    use: Use = Use()
    loss: Number | None = None
    """Loss factor along its axis, grip and bearings together; None is unknown."""

    @property
    def free_length(self) -> float:
        """Length of ``line``, m."""
        return dist(*self.line)


@dataclass(frozen=True, slots=True)
class Home:
    """Where and how the axis finds its zero."""

    at: str
    sensor: kinds.Sensor | None
    each_drive: bool


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis of motion.

    The guide frame is ``direction`` (t), ``normal`` (n, out of the face that carries the rails) and ``across`` (s = n x t).
    """

    name: str
    direction: Vector
    normal: Vector
    across: Vector
    sign: int
    """+1: the moving body is on the tool's side and shifts by +(q - drawn); -1: on the work's side, -(q - drawn)."""
    travel: float
    """Wanted travel, m; pose q runs from 0 to it."""
    drawn: float
    """Pose as drawn."""
    offset: float
    rapid: MetrePerSecond
    """Wanted."""
    feed: MetrePerSecond
    """Wanted."""
    accel: MetrePerSecondSquared | None
    """Wanted; None: whatever can be promised."""
    carrier: str
    """Body that the axis moves on."""
    moving: str
    """Body that it moves."""
    rails: tuple[Rail, ...]
    blocks: tuple[Block, ...]
    drives: tuple[DriveFit, ...]
    alignment: Alignment
    stops: float
    """Beyond the travel at each end, m."""
    rails_ride: bool = False
    """The rails are on the moving body."""
    slide: str = ""
    """Path of the slide that made it, if any."""
    home: Home | None = None
    counterweight: Counterweight | None = None
    cable_chain: CableChainFit | None = None
    blocks_per_rail: int = 2
    block_spacing: float = 0.0
    rise_time: Second | None = 0.0
    """Time in which the acceleration builds up, and in which it dies away; None is unknown."""

    @property
    def path(self) -> str:
        """``axis.x``."""
        return f"axis.{self.name}"

    @property
    def rise(self) -> float:
        """Share of the moving weight that acts along the axis: 1 for an upright axis, 0 for a level one."""
        return abs(self.direction[2])
