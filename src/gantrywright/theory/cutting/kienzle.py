"""Specific cutting force by a power of the chip thickness, and the line that stands in for it at one chip.

Tables of the two constants are fitted for chips of 0.1 to 1.4 mm. Carried on to the 0.01 to 0.05 mm of a small router they tell too little,
because the rounding of the edge is not in them: the linear-edge model with coefficients found at such chips is to be preferred.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, NewtonPerMetre, Number, Pascal, Radian

UNIT_CHIP = 1e-3
"""Chip at which the unit force is told, m."""


@dataclass(frozen=True, slots=True)
class LinearEdge:
    """Tangential force per width of cut as a line over the chip: slope and what is left at no chip."""

    shear: Pascal
    edge: NewtonPerMetre


@formula("kc = kc1.1 (h/1 mm)^(-mc)", source="kienzle-1952")
def specific_force(*, chip: Metre, unit_force: Pascal, exponent: Number) -> Pascal:
    """Cutting force per area of the chip.

    Args:
        chip: Thickness of the chip, more than nothing.
        unit_force: Specific force at a chip of 1 mm.
        exponent: How fast the specific force falls with the chip.

    Returns:
        Specific force.

    Example:
        >>> round(specific_force(chip=0.05e-3, unit_force=1780e6, exponent=0.17) / 1e6)
        2962
    """
    return unit_force * (chip / UNIT_CHIP) ** -exponent


@formula("Kt = kc1.1 (1 - mc) h^(-mc), Kte = kc1.1 mc h^(1 - mc)", source="derived")
def tangent(*, chip: Metre, unit_force: Pascal, exponent: Number) -> LinearEdge:
    """Line that touches the power law at one chip: the same force and the same slope there.

    The power law bends downwards, so that the line tells a little too much at every other chip.

    Args:
        chip: Where the line touches.
        unit_force: Specific force at a chip of 1 mm.
        exponent: How fast the specific force falls with the chip.

    Returns:
        Shear and edge coefficient.
    """
    force = specific_force(chip=chip, unit_force=unit_force, exponent=exponent)
    return LinearEdge(force * (1 - exponent), force * exponent * chip)


@formula("kc = kc_ref (1 - 0.015 (rake - rake_ref)/deg) wear", source="from memory")
def corrected(*, unit_force: Pascal, rake: Radian, table_rake: Radian, wear: Number) -> Pascal:
    """Unit force of another rake than that of the table, and of an edge that is not sharp any more.

    Args:
        unit_force: From the table.
        rake: Of the cutter.
        table_rake: For which the table holds; often 6 degrees for steel.
        wear: 1 for a sharp edge, 1.3 to 1.5 for a worn one.

    Returns:
        Unit force to go on with.
    """
    return unit_force * (1 - 0.015 * np.degrees(rake - table_rake)) * wear
