"""Mass, centre and moments of inertia of boxes and cylinders, alone and together.

A vector of the house is three components, each `Real`: a sampled mass makes the centre of a group sampled too.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.samples import plain
from gantrywright.base.units import Kilogram, KilogramPerCubicMetre, KilogramSquareMetre, Metre, Real

Triple: TypeAlias = tuple[Real, Real, Real]
Directions: TypeAlias = tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]


@dataclass(frozen=True, slots=True)
class Inertia:
    """Mass, centre and moments of inertia about that centre, along fixed directions; products are left out."""

    mass: Kilogram
    centre: tuple[Metre, Metre, Metre]
    moments: tuple[KilogramSquareMetre, KilogramSquareMetre, KilogramSquareMetre]


@formula("m = rho a b c", source="definition")
def box_mass(*, density: KilogramPerCubicMetre, length: Metre, width: Metre, thickness: Metre) -> Kilogram:
    """Mass of a box.

    Example:
        >>> round(box_mass(density=2700.0, length=0.400, width=0.250, thickness=0.015), 3)
        4.05
    """
    return density * length * width * thickness


@formula("I_a = m (b^2 + c^2)/12 and round; turned: I_x = sum_a (a . x)^2 I_a", source="definition")
def box_inertia(*, mass: Kilogram, size: tuple[float, float, float], axes: Directions) -> Triple:
    """Moments of inertia of a uniform box about its centre, along the directions of the machine.

    Args:
        mass: Of the box.
        size: Extent along its own axes, m.
        axes: Unit vectors of the box in the machine frame.

    Returns:
        About x, y, z of the machine, kg m2.
    """
    a, b, c = (side * side for side in size)
    return _turned(mass, (b + c, c + a, a + b), axes, 12)


@formula("I_1 = m r^2/2, I_2 = I_3 = m (3 r^2 + l^2)/12; turned as a box", source="definition")
def cylinder_inertia(*, mass: Kilogram, size: tuple[float, float, float], axes: Directions) -> Triple:
    """Moments of inertia of a uniform cylinder about its centre, along the directions of the machine.

    Args:
        mass: Of the cylinder.
        size: Length along the first axis, diameter along the others, m.
        axes: Unit vectors of the cylinder in the machine frame, first along it.

    Returns:
        About x, y, z of the machine, kg m2.
    """
    length, radius = size[0] ** 2, (size[1] / 2) ** 2
    across = 3 * radius + length
    return _turned(mass, (6 * radius, across, across), axes, 12)


@formula("m = sum m_i, r = sum m_i r_i/m, I_x = sum [I_xi + m_i ((y_i - y)^2 + (z_i - z)^2)]", source="definition")
def together(parts: Sequence[Inertia]) -> Inertia:
    """Several bodies as one: parallel-axis theorem.

    Args:
        parts: Each with its own mass, centre and moments; none gives a mass of 0 at the origin.

    Returns:
        The whole; where all masses are zero the centre is the mean of the centres.
    """
    if not parts:
        return Inertia(0.0, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
    mass = _sum(part.mass for part in parts)
    divisor = np.where(np.asarray(mass) > 0, mass, 1.0)
    centre = tuple(
        plain(
            np.where(
                np.asarray(mass) > 0,
                _sum(part.mass * part.centre[i] for part in parts) / divisor,
                _sum(part.centre[i] for part in parts) / len(parts),
            )
        )
        for i in range(3)
    )
    moments = []
    for i in range(3):
        j, k = (i + 1) % 3, (i + 2) % 3
        moments.append(
            _sum(p.moments[i] + p.mass * ((p.centre[j] - centre[j]) ** 2 + (p.centre[k] - centre[k]) ** 2) for p in parts)
        )
    return Inertia(mass, (centre[0], centre[1], centre[2]), (moments[0], moments[1], moments[2]))


@formula("R_A = m (L - x)/L, R_B = m x/L", source="definition")
def end_shares(*, mass: Kilogram, length: Metre, centre: Metre) -> tuple[Kilogram, Kilogram]:
    """What each of two persons bears who hold a load at its ends.

    Args:
        mass: Of the load.
        length: Between the two grips.
        centre: Of mass, from the first grip.

    Returns:
        Share of the first and of the second.
    """
    return mass * (length - centre) / length, mass * centre / length


def _turned(mass: Real, own: tuple[float, float, float], axes: Directions, divisor: float) -> Triple:
    shares = [sum(axes[a][i] ** 2 * own[a] for a in range(3)) / divisor for i in range(3)]
    return (mass * shares[0], mass * shares[1], mass * shares[2])


def _sum(values: object) -> Real:
    total: Real = 0.0
    for value in values:  # type: ignore[attr-defined]
        total = total + value
    return total
