"""The fixed order of the analyses. What a discipline needs of another stands in its signature."""

from gantrywright.disciplines.cutting.analyse import analyse as cutting
from gantrywright.disciplines.drives.analyse import analyse as drives
from gantrywright.disciplines.electrics.analyse import analyse as electrics
from gantrywright.disciplines.guides.analyse import analyse as guides
from gantrywright.disciplines.guides.analyse import friction as rub
from gantrywright.disciplines.masses.analyse import analyse as masses
from gantrywright.disciplines.motion.analyse import analyse as motion
from gantrywright.disciplines.structure.analyse import analyse as structure
from gantrywright.disciplines.travel.analyse import analyse as travel
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.ledger import Ledger


def analyse(machine: Machine, earlier: Results | None = None) -> Results:
    """All analyses of one machine, typical or sampled.

    Args:
        machine: With typical values, or with samples.
        earlier: Of the same machine with typical values, where it is now looked at with samples.
    """
    ledger = Ledger()
    weighed = masses(machine, ledger)
    cut = cutting(machine, ledger)
    friction = rub(machine, weighed, cut, ledger)
    driven = drives(machine, weighed, cut, friction, ledger)
    moved = motion(machine, weighed, cut, friction, driven, ledger)
    guided = guides(machine, weighed, cut, moved, ledger)
    fed = electrics(machine, weighed, friction, driven, moved, ledger)
    far = travel(machine, weighed, driven, moved, ledger)
    stiff = structure(machine, cut, moved, ledger, earlier.structure if earlier is not None else None)
    return Results(weighed, cut, friction, driven, moved, guided, fed, far, ledger, stiff)
