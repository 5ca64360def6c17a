"""Inertia of what turns, and how two inertias swing against each other."""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import (
    Hertz,
    Kilogram,
    KilogramPerCubicMetre,
    KilogramSquareMetre,
    Metre,
    MetrePerTurn,
    NewtonMetre,
    NewtonMetrePerRadian,
    Number,
    Real,
)


@formula("J = pi rho L (d_o^4 - d_i^4) / 32", source="definition")
def cylinder_inertia(*, diameter: Metre, length: Metre, density: KilogramPerCubicMetre, bore: Metre = 0.0) -> KilogramSquareMetre:
    """Inertia of a round bar or tube about its axis.

    Args:
        diameter: Outer.
        length: Along the axis.
        density: Of the material.
        bore: Inner diameter.

    Returns:
        Moment of inertia.

    Source:
        Definition.

    Example:
        >>> round(float(cylinder_inertia(diameter=0.0145, length=1.0, density=7850.0)) * 1e5, 3)
        3.407
    """
    inertia: Real = np.pi * density * length * (np.asarray(diameter) ** 4 - np.asarray(bore) ** 4) / 32
    return inertia


@formula("J = m (p / 2 pi)^2", source="derived")
def inertia_of_mass(*, mass: Kilogram, travel_per_turn: MetrePerTurn) -> KilogramSquareMetre:
    """A moving mass as inertia at the shaft that moves it.

    Args:
        mass: That moves along the axis.
        travel_per_turn: Of that shaft.

    Returns:
        Moment of inertia.

    Source:
        Derived from kinetic energy.
    """
    return mass * np.square(np.asarray(travel_per_turn) / (2 * np.pi))


@formula("J_m = J / i^2", source="derived")
def through_reduction(*, inertia: KilogramSquareMetre, ratio: Number) -> KilogramSquareMetre:
    """Inertia behind a reduction as the motor feels it.

    Args:
        inertia: At the driven shaft.
        ratio: Motor turns per turn of the driven shaft.

    Returns:
        At the motor shaft.

    Source:
        Derived from kinetic energy.
    """
    return inertia / np.square(ratio)


@formula("f = sqrt(k (1/J_1 + 1/J_2)) / (2 pi)", source="derived")
def two_inertia_resonance(*, stiffness: NewtonMetrePerRadian, first: KilogramSquareMetre, second: KilogramSquareMetre) -> Hertz:
    """Frequency at which motor and load swing against each other through a coupling.

    Args:
        stiffness: Torsional, between them.
        first: Inertia on one side.
        second: Inertia on the other.

    Returns:
        Frequency.

    Source:
        Derived.
    """
    return np.sqrt(stiffness * (1 / np.asarray(first) + 1 / np.asarray(second))) / (2 * np.pi)


@formula("dx = T / k_c p / (2 pi)", source="derived")
def wind_up(*, torque: NewtonMetre, stiffness: NewtonMetrePerRadian, travel_per_turn: MetrePerTurn) -> Metre:
    """Travel lost in the twist of a coupling.

    Args:
        torque: That it passes on.
        stiffness: Of the coupling.
        travel_per_turn: Of the driven shaft.

    Returns:
        Travel along the axis.

    Source:
        Derived.
    """
    return torque / np.asarray(stiffness) * travel_per_turn / (2 * np.pi)
