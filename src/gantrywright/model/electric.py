"""What feeds the motion: outlets, supplies, drivers, motors, controller, spindle."""

from dataclasses import dataclass

from gantrywright.base.units import Ampere, Hertz, Metre, Number, Volt, Watt
from gantrywright.base.values import PhaseCurrent
from gantrywright.catalog import kinds
from gantrywright.model.bodies import JointStiffness, Use
from gantrywright.model.frame import Vector


@dataclass(frozen=True, slots=True)
class Outlet:
    """A wall outlet and the breaker behind it."""

    name: str
    voltage: Volt
    current: Ampere
    phases: int = 1
    note: str = ""


@dataclass(frozen=True, slots=True)
class OtherLoad:
    """Something else that is fed from an outlet."""

    name: str
    power: Watt
    outlet: str
    runs: str
    start_factor: Number


@dataclass(frozen=True, slots=True)
class MotorFit:
    """A motor in its place."""

    path: str
    part: kinds.Motor
    use: Use


@dataclass(frozen=True, slots=True)
class DriverFit:
    """A driver with the current that it is set to."""

    path: str
    part: kinds.Driver
    current: PhaseCurrent | None
    use: Use


@dataclass(frozen=True, slots=True)
class Supply:
    """A DC supply, or the line itself where drives rectify it (``direct``)."""

    name: str
    part: kinds.PowerSupply | None
    direct: bool
    set: Volt | None
    """Voltage it is set to; of a direct supply the rectified line, sqrt(2) times the outlet's voltage."""
    outlet: str
    use: Use

    @property
    def path(self) -> str:
        """``supply.x``."""
        return f"supply.{self.name}"


@dataclass(frozen=True, slots=True)
class ControllerFit:
    """The motion controller."""

    part: kinds.Controller
    pulse_rate: Hertz | None
    supply_voltage: Volt | None
    use: Use


@dataclass(frozen=True, slots=True)
class SpindleFit:
    """The spindle in its mount, at the drawn pose."""

    part: kinds.Spindle
    inverter: kinds.Inverter | None
    outlet: str
    cooling: str
    """water, fan or none; empty is unknown."""
    nose: Vector
    """Middle of the collet face."""
    direction: Vector
    """From the spindle towards the work."""
    on: str
    """Path of the part that the mount is bolted to."""
    use: Use
    mount: JointStiffness = JointStiffness()
    """Between the body and that part at the middle of the clamped length: n along its face's normal, a along the spindle, b the third."""
    mount_loss: Number | None = None
    body: kinds.Material | None = None
    """Material of the body."""
    shaft: kinds.Material | None = None
    """Material of the shaft."""


@dataclass(frozen=True, slots=True)
class ToolFit:
    """The cutter that reach and drawn pose refer to."""

    cutter: kinds.Cutter
    stick_out: Metre
    tip: Vector
    """At the drawn pose."""
    material: kinds.Material | None = None
    """Of the cutter; None is unknown."""
