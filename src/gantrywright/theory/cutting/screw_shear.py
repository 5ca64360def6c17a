"""What a screw through the work holds sideways: wood and board bear on its shank, which tilts or bends as they give way.

This is far more than the friction under its head. Both sides are taken to yield evenly and the shank to bend in plastic hinges.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import KilogramPerCubicMetre, Metre, Newton, NewtonMetre, Number, Pascal, Real

USED: float = 0.4
"""Part of the yield load that a screw may be loaded with: a cut shakes it and boards vary (common practice, no source)."""


@formula("f = 0.082 rho d^-0.3 (rho in kg/m3, d in mm, f in N/mm2)", source="en-1995-1-1")
def bearing_strength(*, density: KilogramPerCubicMetre, diameter: Metre) -> Pascal:
    """Pressure on the shank at which wood or board yields, without a pilot hole.

    Args:
        density: Of the wood or board.
        diameter: Of the shank, up to 8 mm; of a thread 1.1 times its core.

    Source:
        [en-1995-1-1] embedment of nails and thin screws without predrilling.

    Example:
        >>> round(float(bearing_strength(density=740.0, diameter=0.004)) / 1e6, 1)
        40.0
    """
    return 0.082e6 * density * (np.asarray(diameter) * 1e3) ** -0.3


@formula("M = 0.3 f_u d^2.6 (d in mm, f_u in N/mm2, M in N mm)", source="en-1995-1-1")
def screw_yield_moment(*, strength: Pascal, diameter: Metre) -> NewtonMetre:
    """Moment at which the shank of a screw bends for good.

    Args:
        strength: Tensile, of its steel.
        diameter: Of the shank; of a thread 1.1 times its core.

    Example:
        >>> round(float(screw_yield_moment(strength=600e6, diameter=0.004)), 2)
        6.62
    """
    return 0.3e-9 * strength * (np.asarray(diameter) * 1e3) ** 2.6


@formula(
    "F = least of six ways to yield: either side crushed, both by a tilted shank, one hinge in either side, a hinge in both",
    source="en-1995-1-1",
)
def screw_shear(
    *,
    work_bearing: Pascal,
    board_bearing: Pascal,
    work_thickness: Metre,
    board_depth: Metre,
    diameter: Metre,
    yield_moment: NewtonMetre,
) -> Newton:
    """Sideways force at which a screw through the work into the board yields; the factors for buildings and the pull along it left out.

    Args:
        work_bearing: Pressure at which the work yields under the shank.
        board_bearing: The same of the board.
        work_thickness: That the shank passes in the work.
        board_depth: That it reaches into the board.
        diameter: Of the shank.
        yield_moment: Of the shank.

    Returns:
        Force of one screw.

    Source:
        [en-1995-1-1] timber to timber in single shear, modes a to f; linear programming of the shank finds the same (tests/against).

    Example:
        >>> same = {"work_bearing": 40e6, "board_bearing": 40e6, "diameter": 0.004, "yield_moment": 6.6}
        >>> round(float(screw_shear(work_thickness=0.012, board_depth=0.012, **same)))
        795
    """
    line = work_bearing * diameter
    ratio = board_bearing / work_bearing
    deep = board_depth / work_thickness
    tilted = np.sqrt(ratio + 2 * ratio**2 * (1 + deep + deep**2) + ratio**3 * deep**2) - ratio * (1 + deep)
    in_board = np.sqrt(2 * ratio * (1 + ratio) + 4 * ratio * (2 + ratio) * yield_moment / (line * work_thickness**2)) - ratio
    in_work = np.sqrt(2 * ratio**2 * (1 + ratio) + 4 * ratio * (1 + 2 * ratio) * yield_moment / (line * board_depth**2)) - ratio
    both = np.sqrt(2 * ratio / (1 + ratio)) * np.sqrt(2 * yield_moment * line)
    ways = (
        line * board_depth * ratio,
        line * work_thickness / (1 + ratio) * tilted,
        line * work_thickness / (2 + ratio) * in_board,
        line * board_depth / (1 + 2 * ratio) * in_work,
        both,
    )
    force: Real = line * work_thickness
    for way in ways:
        force = np.minimum(force, way)
    return force


@formula("F = n u F_1", source="definition")
def screws_hold(*, count: Number, each: Newton, used: Number = USED) -> Newton:
    """Sideways force that screws may be counted on to hold together, pushed through their middle.

    Args:
        count: Screws.
        each: Yield load of one (`screw_shear`).
        used: Part of it that is used.
    """
    return count * used * each
