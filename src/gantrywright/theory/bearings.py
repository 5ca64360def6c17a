"""Stiffness of a preloaded pair of angular-contact ball bearings, from its balls and grooves."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Newton, NewtonPerMetre, Number, Pascal, Radian
from gantrywright.theory.hertz import HertzConstant, both_contacts, contact_stiffness, groove_constant


@dataclass(frozen=True, slots=True)
class PairStiffness:
    """Springs of a pair of bearings, raceways alone."""

    radial: NewtonPerMetre
    axial: NewtonPerMetre


@formula("g = d cos(alpha)/d_m;  c_i = 2 g/(1 - g), c_o = -2 g/(1 + g)", source="harris-2006")
def ball_constant(
    *, ball: Metre, pitch_diameter: Metre, contact_angle: Radian, inner_conformity: Number, outer_conformity: Number,
    contact_modulus: Pascal,
) -> HertzConstant:  # fmt: skip
    """Constant of a ball between the rings of a bearing.

    Args:
        ball: Diameter d.
        pitch_diameter: Of the circle of ball centres.
        contact_angle: To the plane of the bearing.
        inner_conformity: Groove radius of the inner ring over the ball's diameter.
        outer_conformity: Of the outer ring.
        contact_modulus: E*.

    Returns:
        Load per approach of the rings to the power 3/2.

    Source:
        [harris-2006].
    """
    ratio = ball * np.cos(contact_angle) / pitch_diameter
    inner = groove_constant(
        ball=ball, conformity=inner_conformity, contact_modulus=contact_modulus, curving=2 * ratio / (1 - ratio)
    )
    outer = groove_constant(
        ball=ball, conformity=outer_conformity, contact_modulus=contact_modulus, curving=-2 * ratio / (1 + ratio)
    )
    return both_contacts(first=inner, second=outer)


@formula("Q = P/(Z sin(alpha));  k_r = Z k_n cos^2(alpha),  k_a = 2 Z k_n sin^2(alpha)", source="derived")
def preloaded_pair(*, constant: HertzConstant, balls: Number, contact_angle: Radian, preload: Newton) -> PairStiffness:
    """Stiffness of two bearings set against each other.

    Args:
        constant: Of one ball between its rings.
        balls: In one bearing.
        contact_angle: To the plane of the bearing; taken not to change under load.
        preload: Axial force with which the two press against each other.

    Returns:
        Radial and axial stiffness of the pair for small loads; while preload is not lost it falls little.

    Source:
        Derived: a ring of Z springs k_n at the contact angle, two such rings.

    Example:
        >>> steel = 208e9 / (2 * (1 - 0.3**2))
        >>> one = ball_constant(ball=0.00635, pitch_diameter=0.036, contact_angle=np.radians(15), inner_conformity=0.52,
        ...                     outer_conformity=0.52, contact_modulus=steel)
        >>> pair = preloaded_pair(constant=one, balls=15, contact_angle=np.radians(15), preload=100.0)
        >>> bool(6 < pair.radial / pair.axial < 8)  # 1/(2 tan^2 15 deg)
        True
    """
    load = preload / (balls * np.sin(contact_angle))
    spring = contact_stiffness(constant=constant, load=load)
    return PairStiffness(balls * spring * np.cos(contact_angle) ** 2, 2 * balls * spring * np.sin(contact_angle) ** 2)
