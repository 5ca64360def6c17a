"""Shear coefficients of a slanted edge, from what orthogonal cutting tells: shear stress, shear angle, friction."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Pascal, Radian


@dataclass(frozen=True, slots=True)
class ShearCoefficients:
    """Force per area of the uncut chip; what the rounding of the edge adds is not in them."""

    tangential: Pascal
    radial: Pascal
    axial: Pascal


@formula(
    "Kt = t/sin(p) (cos(bn - a) + tan(i) tan(e) sin(bn))/D, Kr = t/(sin(p) cos(i)) sin(bn - a)/D, "
    "Ka = t/sin(p) (cos(bn - a) tan(i) - tan(e) sin(bn))/D, tan(bn) = tan(b) cos(e), D^2 = cos^2(p + bn - a) + tan^2(e) sin^2(bn)",
    source="altintas-manufacturing-automation",
)
def oblique(
    *, shear_stress: Pascal, shear_angle: Radian, friction_angle: Radian, rake: Radian, inclination: Radian, chip_flow: Radian
) -> ShearCoefficients:
    """Coefficients of an oblique edge by the thin shear plane.

    Args:
        shear_stress: In the shear plane.
        shear_angle: Of the shear plane, in the plane across the edge.
        friction_angle: Of the chip on the rake face.
        rake: In the plane across the edge.
        inclination: Of the edge; the helix of an end mill.
        chip_flow: Angle at which the chip leaves over the rake face; about the inclination.

    Returns:
        Tangential, radial and axial shear coefficient.
    """
    lean, flow = np.tan(inclination), np.tan(chip_flow)
    normal_friction = np.arctan(np.tan(friction_angle) * np.cos(chip_flow))
    rub, push = np.sin(normal_friction), np.cos(normal_friction - rake)
    spread = np.sqrt(np.cos(shear_angle + normal_friction - rake) ** 2 + (flow * rub) ** 2)
    scale = shear_stress / (np.sin(shear_angle) * spread)
    return ShearCoefficients(
        tangential=scale * (push + lean * flow * rub),
        radial=scale * np.sin(normal_friction - rake) / np.cos(inclination),
        axial=scale * (push * lean - flow * rub),
    )
