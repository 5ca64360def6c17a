"""The fixed order of the analyses. What a discipline needs of another stands in its signature."""

from dataclasses import replace

from gantrywright.disciplines.cutting.analyse import analyse as cutting
from gantrywright.disciplines.cutting.jobs import jobs
from gantrywright.disciplines.cutting.spoilboard import spoilboard
from gantrywright.disciplines.drives.analyse import analyse as drives
from gantrywright.disciplines.electrics.analyse import analyse as electrics
from gantrywright.disciplines.guides.analyse import analyse as guides
from gantrywright.disciplines.guides.analyse import friction as rub
from gantrywright.disciplines.masses.analyse import analyse as masses
from gantrywright.disciplines.motion.analyse import analyse as motion
from gantrywright.disciplines.structure.analyse import analyse as structure
from gantrywright.disciplines.structure.analyse import jobs_at, tip_at
from gantrywright.disciplines.travel.analyse import analyse as travel
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.ledger import Ledger
from gantrywright.results.structure import Tip


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
    judged = jobs(machine, moved, fed, stiff, ledger, earlier.jobs if earlier is not None else None)
    faced = spoilboard(machine, cut, judged, ledger)
    return Results(weighed, cut, friction, driven, moved, guided, fed, far, ledger, stiff, judged, faced)


def jobs_in_depth(machine: Machine, results: Results) -> Results:
    """The jobs with the depths that chatter allows and the settings that are advised, from typical values."""
    ledger = results.ledger
    found = jobs(machine, results.motion, results.electrics, results.structure, ledger, None, deep=True)
    return replace(results, jobs=found)


def glanced(machine: Machine, earlier: Results, before: Machine) -> Results:
    """What can be told while a value is still being typed: axes, masses, electrics, and the give where the machine was softest.

    Blocks, modes, heat and the map over the table stay those of the earlier machine.

    Args:
        machine: With typical values.
        earlier: Of the machine before the change, with typical values.
        before: That machine.
    """
    ledger = Ledger(earlier.ledger)
    weighed = masses(machine, ledger)
    cut = cutting(machine, ledger)
    friction = rub(machine, weighed, cut, ledger)
    driven = drives(machine, weighed, cut, friction, ledger)
    moved = motion(machine, weighed, cut, friction, driven, ledger)
    fed = electrics(machine, weighed, friction, driven, moved, ledger)
    far = travel(machine, weighed, driven, moved, ledger)
    tip = earlier.structure.worst if stands_the_same(machine, before) else _tip(machine, earlier)
    stiff = replace(earlier.structure, worst=tip, jobs=jobs_at(machine, tip, cut, ledger))
    judged = jobs(machine, moved, fed, stiff, ledger, earlier.jobs)
    faced = spoilboard(machine, cut, judged, ledger)
    return Results(weighed, cut, friction, driven, moved, earlier.guides, fed, far, ledger, stiff, judged, faced)


STANDING = (
    "layout", "links", "bodies", "work_body", "tool_body", "solids", "members", "plates", "joints", "feet", "spindle", "tool", "drawn_at", "table", "layers"
)  # fmt: skip
"""What the structure is made of, of a machine."""
GIVING = ("travel", "drawn", "offset", "rails", "blocks", "drives", "rails_ride", "counterweight")
"""The same of an axis."""


def stands_the_same(one: Machine, other: Machine) -> bool:
    """Whether the structures of two machines are one: what is wanted of them, their jobs and their site do not count."""
    return (
        all(getattr(one, name) == getattr(other, name) for name in STANDING)
        and len(one.axes) == len(other.axes)
        and all(getattr(a, name) == getattr(b, name) for a, b in zip(one.axes, other.axes, strict=True) for name in GIVING)
    )


def _tip(machine: Machine, earlier: Results) -> Tip | None:
    """Give where the earlier machine was softest, or as near as the axes come to it."""
    known = earlier.structure.worst
    pose = {axis.name: axis.travel / 2 for axis in machine.axes}
    if known is not None:
        pose |= {axis.name: min(known.pose[axis.name], axis.travel) for axis in machine.axes if axis.name in known.pose}
    return tip_at(machine, pose)
