"""What holds a piece of work by itself: clamps, screws into the spoilboard, tape, a row of nuts in slots.

Preload, torque and slip of machine screws in general: `theory.bolts`. Here is what a hand on the workbench does.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Newton, NewtonMetre, Number, Pascal, Real, SquareMetre

NUT_FACTOR: float = 0.2
"""Torque over force and diameter of a dry screw: 0.12 (greased) to 0.25 (rough), from memory."""
USED: float = 0.25
"""Part of what pulls a wood screw out at once that it may be loaded with (common practice, no source)."""
END_GRAIN: float = 0.75
"""Withdrawal from end grain over that from side grain, at most (wood-handbook)."""
CLEARANCE: float = 5e-3
"""Least distance between the cutter's edge and metal in the work, m (common practice, no source)."""


@formula("F = T/(K d)", source="shigley")
def screw_clamp_force(*, torque: NewtonMetre, diameter: Metre, nut_factor: Number = NUT_FACTOR) -> Newton:
    """Force that a screw presses with, from the torque on it.

    Args:
        torque: Of tightening.
        diameter: Nominal.
        nut_factor: Torque over force and diameter.

    Example:
        >>> round(screw_clamp_force(torque=10.0, diameter=0.008))
        6250
    """
    return torque / (nut_factor * diameter)


@formula("F_work = F b/(a + b)", source="definition")
def strap_force(*, screw: Newton, to_work: Metre, to_heel: Metre) -> Newton:
    """Part of the screw's force that a strap with its heel on a block puts on the work; the heel bears the rest.

    Args:
        screw: Force of the screw between them.
        to_work: From the screw to where the strap presses the work.
        to_heel: From the screw to the heel.

    Example:
        >>> strap_force(screw=6000.0, to_work=0.02, to_heel=0.04)
        4000.0
    """
    return screw * to_heel / (to_work + to_heel)


@formula("F = n min(F_screw, F_slot)", source="definition")
def row_force(*, count: Number, screw: Newton, slot: Newton) -> Newton:
    """Force of a row of clamps whose nuts pull on slots: neither screw nor slot may be asked for more than it bears.

    Args:
        count: Clamps.
        screw: Force of one screw.
        slot: Tension that a nut may put on the slot.
    """
    force: Newton = count * np.minimum(screw, slot)
    return force


@formula("F = 108.25 MPa G^2 D L", source="wood-handbook")
def screw_withdrawal(*, specific_gravity: Number, diameter: Metre, length: Metre) -> Newton:
    """Force that pulls a wood screw out of side grain, once; use a quarter of it.

    Args:
        specific_gravity: Of the wood, dry mass over volume at test moisture.
        diameter: Of the shank.
        length: Of the thread that is in the wood.

    Source:
        [wood-handbook] chapter on fastenings, in the form for N and m.

    Example:
        >>> round(screw_withdrawal(specific_gravity=0.5, diameter=0.004, length=0.020))
        2165
    """
    return 108.25e6 * specific_gravity**2 * diameter * length


@formula("F = 108.25 MPa G^2 D L u", source="wood-handbook")
def wood_screw_clamp(*, specific_gravity: Number, diameter: Metre, length: Metre, used: Number = USED) -> Newton:
    """Force that a wood screw through the work may be counted on to press with.

    Args:
        specific_gravity: Of what it is screwed into.
        diameter: Of the shank.
        length: Of the thread that is in it.
        used: Part of the withdrawal force; times 0.75 in end grain.
    """
    return used * screw_withdrawal(specific_gravity=specific_gravity, diameter=diameter, length=length)


@formula("F = s A", source="definition")
def tape_force(*, strength: Pascal, area: SquareMetre) -> Newton:
    """Force that tape holds: its shear strength against a push, its tensile strength against a lift.

    Args:
        strength: That is counted on for the time of the cut.
        area: Stuck on both sides; dust and pores leave less.
    """
    return strength * area


@formula("u = F/(s_shear A share) + F_lift/(s_tension A)", source="derived")
def tape_use(
    *, push: Newton, lift: Newton, shear_strength: Pascal, tensile_strength: Pascal, area: SquareMetre, share: Number = 1.0
) -> Number:
    """How near a taped part is to coming off: 1 comes off.

    Args:
        push: In the plane of the table.
        lift: Pull upwards; one that presses does not help.
        shear_strength: Of the tape.
        tensile_strength: Of the tape.
        area: Stuck.
        share: Of the shear that is left where the push passes beside the middle.

    Source:
        [derived] straight line between shear alone and pull alone, on the cautious side of every rounder curve.
    """
    pulls: Real = np.maximum(lift, 0.0) / (tensile_strength * area)
    return push / (shear_strength * area * share) + pulls


@formula("c = D/2 + 5 mm + d/2", source="common practice, no source")
def path_clearance(*, cutter: Metre, fastener: Metre, margin: Metre = CLEARANCE) -> Metre:
    """Distance that the middle of the tool path keeps from the middle of a screw, a nail or a clamp.

    Args:
        cutter: Diameter of the cutter.
        fastener: Diameter of the screw's head or of the clamp.
        margin: Between their edges.
    """
    return (cutter + fastener) / 2 + margin
