"""The promise, tested in the time domain."""

from dataclasses import dataclass

from gantrywright.base.units import MetrePerSecond, MetrePerSecondSquared


@dataclass(frozen=True, slots=True)
class DampedRun:
    """The promised ramp at one assumed damping."""

    damping: float
    """Part of critical at the natural frequency of the rotor on its magnetic spring."""
    keeps_step: bool
    """On the promised ramp itself."""
    loss_factor: float
    """Factor on the promised acceleration up to which step is kept; below 1 where it is lost on the ramp itself."""
    lost_beyond: bool
    """Step really is lost beyond that factor; False: it is kept up to the largest factor that was tried."""


@dataclass(frozen=True, slots=True)
class AxisSimulation:
    """One axis with open-loop motors: the motor that bears most."""

    axis: str
    drive: str
    speed: MetrePerSecond
    """At the end of the ramp."""
    acceleration: MetrePerSecondSquared
    runs: tuple[DampedRun, ...]
    """Damping grows."""
    measured: bool = False
    """The torque was read off a curve of this motor: it was reached, so that some damping is there."""


@dataclass(frozen=True, slots=True)
class SimulationResult:
    """Axes with open-loop motors by name; those that close a loop lose no step and are left out."""

    axes: dict[str, AxisSimulation]
