"""Hertz: how far a ball sinks into grooves, and what springs follow from that.

The load on a contact grows with the 3/2 power of the approach, Q = K d^(3/2); under a load its stiffness is 1.5 K^(2/3) Q^(1/3). Only
the contacts give here: what holds the grooves gives too, so an installed bearing or block has 0.4 to 0.7 of what comes out.
"""

from typing import Annotated, TypeAlias

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Newton, NewtonPerMetre, Number, Pascal, Radian, Real, Unit

PerMetre: TypeAlias = Annotated[Real, Unit("1/m")]
HertzConstant: TypeAlias = Annotated[Real, Unit("N/m^1.5")]

HALVINGS = 60
"""Steps of the bisection for the shape of a contact: far below what a float tells apart."""
SLIMMEST = 1e4
"""Largest ratio of the axes of a contact ellipse that is looked for."""
MEANS = 8
"""Steps of the arithmetic-geometric mean: the number of right digits doubles with each."""


@formula("1/E* = 2 (1 - nu^2)/E", source="johnson-1985")
def contact_modulus(*, elastic_modulus: Pascal, poisson: Number) -> Pascal:
    """Modulus of the contact of two bodies of like material.

    Args:
        elastic_modulus: Of both.
        poisson: Poisson's ratio of both.

    Returns:
        Contact modulus.

    Source:
        [johnson-1985].

    Example:
        >>> round(contact_modulus(elastic_modulus=208e9, poisson=0.3) / 1e9, 3)
        114.286
    """
    return elastic_modulus / (2 * (1 - poisson**2))


@formula(
    "K(k) = pi/(2 M),  E(k) = K (1 - sum 2^(n-1) c_n^2);  M, c_n from the arithmetic-geometric mean of 1 and 1/kappa",
    source="definition",
)
def elliptic_integrals(*, slimness: Number) -> tuple[Number, Number]:
    """Complete elliptic integrals of the first and second kind of k^2 = 1 - 1/kappa^2.

    Args:
        slimness: kappa, the long over the short axis of a contact ellipse, 1 or more.

    Returns:
        First kind, second kind.

    Source:
        Definition, by the arithmetic-geometric mean.

    Example:
        >>> first, second = elliptic_integrals(slimness=2.0)
        >>> round(float(first), 6), round(float(second), 6)
        (2.156516, 1.211056)
    """
    mean, other = np.ones_like(np.asarray(slimness, dtype=float)), 1.0 / np.asarray(slimness, dtype=float)
    total = (1 - other**2) / 2
    for step in range(MEANS):
        gap = (mean - other) / 2
        mean, other = (mean + other) / 2, np.sqrt(mean * other)
        total = total + 2.0**step * gap**2
    first = np.pi / (2 * mean)
    return first, first * (1 - total)


@formula("F = [(kappa^2 + 1) E - 2 K]/[(kappa^2 - 1) E]", source="harris-2006")
def contact_slimness(*, curvature_difference: Number) -> Number:
    """Long over short axis of a contact ellipse.

    Args:
        curvature_difference: F, difference over sum of the relative curvatures: 0 for a ball on a flat, towards 1 for a line.

    Returns:
        Ratio kappa of the axes.

    Source:
        [harris-2006]; solved by bisection.

    Example:
        >>> round(float(contact_slimness(curvature_difference=0.9)), 3)
        6.713
    """
    wanted = np.asarray(curvature_difference, dtype=float)
    low, high = np.zeros_like(wanted), np.full_like(wanted, np.log(SLIMMEST))
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        slimness = np.exp(middle)
        first, second = elliptic_integrals(slimness=slimness)
        above = (slimness**2 + 1) * second - 2 * first > wanted * (slimness**2 - 1) * second
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    found: Number = np.exp((low + high) / 2)
    return found


@formula(
    "K = (2/3) E* S [2/(d* S)]^(3/2),  d* = (2 K(k)/pi) [pi/(2 kappa^2 E(k))]^(1/3);  on a flat K = (4/3) E* sqrt(R)",
    source="harris-2006",
)
def contact_constant(*, contact_modulus: Pascal, curvature_sum: PerMetre, curvature_difference: Number) -> HertzConstant:
    """Constant of Q = K d^(3/2) of one contact.

    Args:
        contact_modulus: E* of the two bodies.
        curvature_sum: S, sum of the four principal curvatures; hollow ones are negative.
        curvature_difference: F, difference over sum.

    Returns:
        Load per approach to the power 3/2.

    Source:
        [harris-2006]; [johnson-1985].

    Example:
        >>> flat = contact_constant(contact_modulus=114.2857e9, curvature_sum=400.0, curvature_difference=0.0)
        >>> round(float(flat) / 1e10, 4)  # ball of 10 mm on a flat
        1.0775
    """
    slimness = contact_slimness(curvature_difference=curvature_difference)
    first, second = elliptic_integrals(slimness=slimness)
    approach = 2 * first / np.pi * np.cbrt(np.pi / (2 * slimness**2 * second))
    return 2 / 3 * contact_modulus * curvature_sum * (2 / (approach * curvature_sum)) ** 1.5


@formula(
    "S = (4 - 1/f + c)/d;  F = (1/f + c)/(4 - 1/f + c);  c = 2 g/(1 - g) inside, -2 g/(1 + g) outside, 0 on a straight groove",
    source="harris-2006",
)
def groove_constant(*, ball: Metre, conformity: Number, contact_modulus: Pascal, curving: Number = 0.0) -> HertzConstant:
    """Constant of the contact of a ball and a groove.

    Args:
        ball: Diameter d.
        conformity: f, radius of the groove over the diameter of the ball, above 0.5.
        contact_modulus: E*.
        curving: c, curvature of the groove along its run times the diameter of the ball; 0 on a straight rail.

    Returns:
        Load per approach to the power 3/2.

    Source:
        [harris-2006].
    """
    total = 4 - 1 / conformity + curving
    return contact_constant(
        contact_modulus=contact_modulus, curvature_sum=total / ball, curvature_difference=(1 / conformity + curving) / total
    )


@formula("K = [K_1^(-2/3) + K_2^(-2/3)]^(-3/2)", source="harris-2006")
def both_contacts(*, first: HertzConstant, second: HertzConstant) -> HertzConstant:
    """Constant of a ball between two grooves.

    Args:
        first: Of the one contact.
        second: Of the other.

    Returns:
        Load per approach of the two grooves to the power 3/2.

    Source:
        [harris-2006].
    """
    return (np.asarray(first) ** (-2 / 3) + np.asarray(second) ** (-2 / 3)) ** -1.5


@formula("k = 1.5 K^(2/3) Q^(1/3)", source="johnson-1985")
def contact_stiffness(*, constant: HertzConstant, load: Newton) -> NewtonPerMetre:
    """Stiffness of a loaded contact for small changes.

    Args:
        constant: K of Q = K d^(3/2).
        load: That presses it.

    Returns:
        Stiffness along the line of the load.

    Source:
        [johnson-1985]: slope of Q = K d^(3/2).
    """
    return 1.5 * np.cbrt(np.asarray(constant) ** 2 * load)


@formula("k = 2 n k_n,  Q = P/(sqrt(2) n)", source="derived")
def block_raceway_stiffness(
    *, ball: Metre, balls_per_row: Number, conformity: Number, preload: Newton, contact_modulus: Pascal, angle: Radian = np.pi / 4
) -> NewtonPerMetre:
    """Stiffness of a preloaded four-row block square to its rail's foot, raceways alone.

    Args:
        ball: Diameter.
        balls_per_row: That bear load.
        conformity: Of all grooves.
        preload: Force with which the two upper rows press against the two lower ones.
        contact_modulus: E*.
        angle: Of the contacts to the lateral direction.

    Returns:
        Stiffness; across the rail the same at 45 degrees. An installed block has 0.4 to 0.7 of it.

    Source:
        Derived: four rows of springs k_n at the contact angle, each ball between two straight grooves.
    """
    load = preload / (2 * balls_per_row * np.sin(angle))
    one = groove_constant(ball=ball, conformity=conformity, contact_modulus=contact_modulus)
    spring = contact_stiffness(constant=both_contacts(first=one, second=one), load=load)
    return 4 * balls_per_row * np.sin(angle) ** 2 * spring
