"""What each discipline hands on: typed results and the ledger of figures."""

from dataclasses import dataclass

from gantrywright.results.cutting import CuttingResult
from gantrywright.results.drives import DriveResult
from gantrywright.results.electrics import ElectricResult
from gantrywright.results.guides import FrictionResult, GuideResult
from gantrywright.results.jobs import JobsResult
from gantrywright.results.ledger import Ledger
from gantrywright.results.masses import MassResult
from gantrywright.results.motion import MotionResult
from gantrywright.results.simulation import SimulationResult
from gantrywright.results.spoilboard import SpoilboardResult
from gantrywright.results.structure import StructureResult
from gantrywright.results.travel import TravelResult


@dataclass(frozen=True, slots=True)
class Results:
    """Everything that the analyses of one machine gave."""

    masses: MassResult
    cutting: CuttingResult
    friction: FrictionResult
    drives: DriveResult
    motion: MotionResult
    guides: GuideResult
    electrics: ElectricResult
    travel: TravelResult
    ledger: Ledger
    structure: StructureResult = StructureResult(lacking=("the analysis of the structure",))
    jobs: JobsResult = JobsResult()
    spoilboard: SpoilboardResult | None = None
    """None where the machine has no spoilboard."""
    simulation: SimulationResult | None = None
    """None until the promise was tested in the time domain."""


__all__ = ["Results"]
