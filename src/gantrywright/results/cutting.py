"""What the cut asks of the machine."""

from dataclasses import dataclass

from gantrywright.base.units import Metre, Newton, NewtonMetre, Number, Watt
from gantrywright.results.readings import Reading


@dataclass(frozen=True, slots=True)
class JobForce:
    """Forces of one job, on the tool."""

    job: str
    """Name of the job."""
    mean_in_plane: Newton
    """Resultant of the mean forces in the plane of the table."""
    peak_in_plane: Newton
    mean_axial: Newton
    """Along the spindle axis; positive pulls the tool down into the work (up-cut helix), negative pushes it up."""
    peak_axial: Newton
    torque: NewtonMetre
    power: Watt
    chip: Metre
    """Feed per tooth."""
    share: Number
    """Share of the cutting time."""


@dataclass(frozen=True, slots=True)
class CuttingResult:
    """Forces of all jobs; the worst is what axes and guides must bear."""

    jobs: tuple[JobForce, ...]
    mean_in_plane: Newton
    """Greatest mean of all jobs: what a drive must push while it feeds; 0 without jobs."""
    peak_in_plane: Newton
    peak_axial: Newton
    """Greatest absolute axial peak."""
    known: bool
    """False where there is no job, or a material without cutting coefficients: forces are then unknown, not zero."""
    readings: tuple[Reading, ...] = ()
    """Cutting coefficients that were measured by the power of the spindle."""
