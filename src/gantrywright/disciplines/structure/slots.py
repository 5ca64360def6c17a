"""What the slots of a profile leave of a plain tube's stiffness: the surprise of every builder is how little torsion that is."""

from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.structure import Slotted
from gantrywright.theory.sections.against_tube import bending_against_tube, torsion_against_tube


def slotted(machine: Machine, ledger: Ledger) -> tuple[Slotted, ...]:
    """Every member of a slotted profile against the plain tube of its size and area."""
    found: list[Slotted] = []
    for member in machine.members:
        section, path = member.section, member.path
        if section.shape != "tslot" or section.torsion is None:
            continue
        size = {"width": Named(f"{path}.section.width", section.width), "height": Named(f"{path}.section.height", section.height)}
        area = Named("", section.area, "m2", "of its outline")
        bending = ledger.figure(
            f"{path}.bending_against_tube", bending_against_tube, area=area, **size,
            second_moment=Named("", section.second_moment_height, "m4", "of its outline, in the plane of its height"),
        )  # fmt: skip
        torsion = ledger.figure(
            f"{path}.torsion_against_tube", torsion_against_tube, area=area, **size, torsion=Named("", section.torsion, "m4", "of its outline"),
        )  # fmt: skip
        found.append(Slotted(path, section.name, bending, torsion))
    return tuple(found)
