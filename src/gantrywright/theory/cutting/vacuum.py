"""What a vacuum holds: air that leaks through a board, round edges and into cuts, against what the pump can draw.

Pressures are below that of the air around; flows are volumes of air as it is around, before it is drawn in.
"""

from collections.abc import Sequence

import numpy as np
from scipy.special import ellipk, ellipkm1

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    CubicMetrePerSecond,
    KilogramPerCubicMetre,
    Metre,
    Number,
    Pascal,
    PascalSecond,
    Real,
    SquareMetre,
)

AIR_PRESSURE: float = 101325.0
"""Standard atmosphere, Pa (definition)."""
AIR_DENSITY: float = 1.204
"""Dry air at 20 degrees and standard pressure, kg/m3 (definition: ideal gas)."""
AIR_VISCOSITY: float = 1.82e-5
"""Air at 20 degrees, Pa s (from memory)."""
DISCHARGE: float = 0.7
"""Of a leaking edge or cut: 0.6 (sharp) to 0.8 (common practice, no source)."""
ISENTROPIC: float = 1.4
"""Ratio of the specific heats of air."""
CHOKED: float = (2 / (ISENTROPIC + 1)) ** (ISENTROPIC / (ISENTROPIC - 1))
"""Pressure behind an opening, over that before it, below which no more air passes."""
STRAIGHT: tuple[tuple[float, float], ...] = ((0.0, 1.0), (1.0, 0.0))
"""Curve of a pump that falls straight from the pressure of a blocked inlet to the flow of an open one, as shares of both."""
FRINGE: float = float(2 * np.log(2) / np.pi)
"""Thickness of board by which each edge of an open field draws as if it were wider: (2/pi) ln 2 (derived)."""
HALVINGS = 40
"""Steps of the bisection: the pressure is found to 1e-12 of its greatest."""


@formula("Q = k A/(eta L) (p1^2 - p2^2)/(2 p1)", source="derived")
def board_flow(
    *,
    permeability: SquareMetre,
    area: SquareMetre,
    thickness: Metre,
    pressure: Pascal,
    viscosity: PascalSecond = AIR_VISCOSITY,
    ambient: Pascal = AIR_PRESSURE,
) -> CubicMetrePerSecond:
    """Air that leaks through a porous board: Darcy's law for a gas that widens as it passes.

    Args:
        permeability: Of the board across its faces, skins off.
        area: That is open, edges included (`open_area`).
        thickness: Of the board.
        pressure: Under it, below the air above.
        viscosity: Of the air.
        ambient: Pressure of the air above.

    Source:
        [derived] Darcy's law integrated over the thickness at constant temperature.

    Example:
        >>> flow = board_flow(permeability=3e-13, area=0.72, thickness=0.018, pressure=30e3)
        >>> round(flow * 3600, 2)
        60.67
    """
    under = ambient - pressure
    return permeability * area / (viscosity * thickness) * (ambient**2 - under**2) / (2 * ambient)


@formula("A = l b + 0.4413 L (perimeter)", source="derived")
def open_area(*, area: SquareMetre, perimeter: Metre, thickness: Metre) -> SquareMetre:
    """Area through which an open field of a board seems to leak: air also comes in sideways from its edges under what lies beside it.

    Args:
        area: Of the field that nothing covers.
        perimeter: Edge between the open field and what covers the board, not the sealed outer edge.
        thickness: Of the board.

    Source:
        [derived] conformal map of a layer that is half covered: each edge draws like (2/pi) ln 2 of the thickness.
    """
    return area + FRINGE * thickness * perimeter


@formula("A/l = L K(1 - m)/K(m), m = exp(-pi w/L)", source="derived")
def slot_width(*, width: Metre, thickness: Metre) -> Metre:
    """Width of open board that a slot cut through the work leaks like: several times its own where the board is thick.

    Args:
        width: Of the slot.
        thickness: Of the board under it, what the cutter took out of it left out.

    Source:
        [derived] conformal map of a layer that is covered but for a slit; K is the complete elliptic integral of the first kind.

    Example:
        >>> round(float(slot_width(width=6e-3, thickness=18e-3)) * 1e3, 1)
        20.7
    """
    modulus = np.exp(-np.pi * np.asarray(width, dtype=float) / thickness)
    wide: Metre = thickness * ellipkm1(modulus) / ellipk(modulus)
    return wide


@formula(
    "eps = sqrt(g/(g - 1) r^(2/g) (1 - r^((g - 1)/g))/(1 - r)), r = p2/p1 >= (2/(g + 1))^(g/(g - 1)), g = 1.4", source="derived"
)
def expansion_factor(*, pressure: Pascal, ambient: Pascal = AIR_PRESSURE) -> Number:
    """By how much less air passes an opening because it widens in it, up to the speed of sound.

    Args:
        pressure: Behind the opening, below the air.
        ambient: Pressure of the air.

    Source:
        [derived] flow without loss of a perfect gas, over that of a liquid of the density of the air around.

    Example:
        >>> round(float(expansion_factor(pressure=20e3)), 3)
        0.888
    """
    lost = np.maximum(np.asarray(pressure, dtype=float) / ambient, 1e-9)
    ratio = np.maximum(1 - lost, CHOKED)
    narrow = ratio ** (1 / ISENTROPIC)
    factor: Number = np.sqrt(ISENTROPIC / (ISENTROPIC - 1) * narrow * (narrow - ratio) / lost)
    return factor


@formula("Q = Cd eps A sqrt(2 dp/rho)", source="definition")
def opening_flow(
    *,
    area: SquareMetre,
    pressure: Pascal,
    discharge: Number = DISCHARGE,
    density: KilogramPerCubicMetre = AIR_DENSITY,
    ambient: Pascal = AIR_PRESSURE,
) -> CubicMetrePerSecond:
    """Air that leaks through a gap: under an edge, into an open port, through a cut that meets a groove.

    Args:
        area: Of the gap.
        pressure: Behind it, below the air.
        discharge: Coefficient: 0.6 sharp, 0.8 rounded.
        density: Of the air around.
        ambient: Pressure of the air.
    """
    flow: CubicMetrePerSecond = (
        discharge * expansion_factor(pressure=pressure, ambient=ambient) * area * np.sqrt(2 * pressure / density)
    )
    return flow


@formula("dp where Q_pump(dp) = Q_board(dp) + Q_gaps(dp)", source="derived")
def held_pressure(
    *,
    blocked_pressure: Pascal,
    open_flow: CubicMetrePerSecond,
    permeability: SquareMetre = 0.0,
    board_area: SquareMetre = 0.0,
    thickness: Metre = 1.0,
    gap_area: SquareMetre = 0.0,
    discharge: Number = DISCHARGE,
    curve: Sequence[tuple[float, float]] = STRAIGHT,
    viscosity: PascalSecond = AIR_VISCOSITY,
    density: KilogramPerCubicMetre = AIR_DENSITY,
    ambient: Pascal = AIR_PRESSURE,
) -> Pascal:
    """Pressure at which the pump draws just what leaks in.

    Args:
        blocked_pressure: That the pump reaches with its inlet closed.
        open_flow: That it draws with nothing in its way.
        permeability: Of the board across its faces.
        board_area: Open board, edges and slots included (`open_area`, `slot_width`).
        thickness: Of the board.
        gap_area: Of all gaps together.
        discharge: Coefficient of the gaps.
        curve: Points of the pump's curve from (0, 1) to (1, 0): share of the open flow, share of the blocked pressure; falling.
        viscosity: Of the air.
        density: Of the air around.
        ambient: Pressure of the air around.

    Source:
        [derived] by halving: what leaks grows with the pressure, what the pump draws falls.
    """
    flows, pressures = np.asarray(curve, dtype=float).T[:, ::-1]
    low: Real = 0.0
    high: Real = np.minimum(blocked_pressure, ambient)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        leaks = board_flow(
            permeability=permeability, area=board_area, thickness=thickness, pressure=middle, viscosity=viscosity, ambient=ambient
        ) + opening_flow(area=gap_area, pressure=middle, discharge=discharge, density=density, ambient=ambient)
        draws = open_flow * np.interp(middle / blocked_pressure, pressures, flows)
        more = draws > leaks
        low, high = np.where(more, middle, low), np.where(more, high, middle)
    found = np.asarray((low + high) / 2)
    return found if found.ndim else float(found)
