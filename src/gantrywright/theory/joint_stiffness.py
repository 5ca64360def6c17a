"""How far joints give: bolts by the cone that each presses together, brackets, wood screws, glue lines, one body standing on another.

The springs of a joint are six numbers: along n, a, b (N/m), then about them (N m/rad); n is the normal of the mating face, a and b lie in
it. Places of fasteners are (along a, along b) from the middle of the joint.
"""

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, NewtonMetrePerRadian, NewtonPerMetre, Number, Pascal, PascalPerMetre

Springs: TypeAlias = tuple[
    NewtonPerMetre, NewtonPerMetre, NewtonPerMetre, NewtonMetrePerRadian, NewtonMetrePerRadian, NewtonMetrePerRadian
]
"""Along n, a, b, then about n, a, b."""
Places: TypeAlias = Sequence[tuple[float, float]]

CONE: float = float(np.tan(np.pi / 6))
"""Slope of the cone under a head: 30 degrees (vdi-2230)."""
SIDEWAYS: float = 0.5
"""Stiffness of a pressed joint along its face over that across it: 0.3 to 0.7, common practice, no source."""
POISSON: float = 0.3
FACE_SHARE: dict[str, float] = {
    "as-found": 0.2, "as-extruded": 0.2, "sawn": 0.2, "milled": 0.5, "shimmed": 0.65, "bedded": 0.65,
}  # fmt: skip
"""Part of the clamped stiffness that is left, by the state of the faces: rough 0.1 to 0.3, milled 0.5, shimmed or bedded 0.5 to 0.8;
common practice, no source. Waviness and the bending of the parts round the bolts take the rest."""
LIP: float = 170e6
"""Lip of one slot under its nut, profiles of 40 mm modules, N/m: 100 to 300 N/um; common practice, no source."""
BRACKET: float = 22e3
"""A bracket with two nuts in its own plane, 40 mm modules, N m/rad: 10 to 50 kN m/rad; common practice, no source."""
OUT_OF_PLANE: float = 1 / 3
"""A bracket out of its plane over that in it; common practice, no source."""
WOOD_SCREW: float = 2.2e6
"""One wood screw or connector screw in board, N/m: 1 to 5 N/um; common practice, no source."""
GLUE_LINE: float = 3e12
"""A glue line of 1 GPa, a third of a millimetre thick, Pa/m; common practice, no source."""


@formula("k_p = pi E d_h tan(30)/(2 ln((d_w + d_h)(D - d_h)/((d_w - d_h)(D + d_h)))), D = d_w + L tan(30)", source="vdi-2230")
def cone_stiffness(*, head_bearing: Metre, hole: Metre, length: Metre, elastic_modulus: Pascal) -> NewtonPerMetre:
    """Stiffness of what one screw presses together: two cones of 30 degrees that meet in the middle.

    Args:
        head_bearing: Outer diameter of the ring that the head presses on.
        hole: Diameter of the hole.
        length: Clamped.
        elastic_modulus: Of the parts.

    Returns:
        Stiffness along the screw.

    Source:
        [vdi-2230] cone under the head; integrated along it.

    Example:
        >>> round(float(cone_stiffness(head_bearing=0.012, hole=0.008, length=0.020, elastic_modulus=70e9)) / 1e6, 1)
        563.1
    """
    wide = head_bearing + CONE * length
    ratio = (head_bearing + hole) * (wide - hole) / ((head_bearing - hole) * (wide + hole))
    stiffness: NewtonPerMetre = np.pi * elastic_modulus * hole * CONE / (2 * np.log(ratio))
    return stiffness


@formula("k_n = n f k_p, k_theta = f k_p sum(r^2 + (D^2 + d_h^2)/16), k_a = k_b = s k_n", source="common practice, no source")
def bolt_group(
    *, clamped: NewtonPerMetre, places: Places, pressed: Metre, hole: Metre, share: Number, sideways: Number = SIDEWAYS
) -> Springs:
    """Springs of a group of screws that keep their joint closed.

    Args:
        clamped: Stiffness of what one screw presses together.
        places: Of the screws.
        pressed: Outer diameter of the ring that one screw presses on the mating face.
        hole: Its inner diameter.
        share: Part of the clamped stiffness that the faces leave.
        sideways: Stiffness along the face over that across it.

    Returns:
        Springs of the whole group about its middle.

    Source:
        Elastic group of equal screws; the shares are common practice.
    """
    one = clamped * share
    count = len(places)
    own = count * (np.square(pressed) + np.square(hole)) / 16
    about_a = sum(b * b for _, b in places) + own
    about_b = sum(a * a for a, _ in places) + own
    normal, along = count * one, sideways * count * one
    return (normal, along, along, sideways * one * (about_a + about_b), one * about_a, one * about_b)


@formula("D = d_w + L tan(30)", source="vdi-2230")
def pressed_diameter(*, head_bearing: Metre, length: Metre) -> Metre:
    """Outer diameter of the ring that a screw presses where its two cones meet.

    Args:
        head_bearing: Outer diameter of the ring under the head.
        length: Clamped.
    """
    return head_bearing + CONE * length


@formula("k = N k_lip m/m_40, k_theta = N k_bracket (m/m_40)^3, a third of it out of plane", source="common practice, no source")
def bracket_springs(*, count: Number, module: Metre, in_plane_about_b: Number) -> Springs:
    """Springs of brackets that are held by one slot nut on each side; friction alone keeps them from sliding.

    Args:
        count: Brackets.
        module: Of the profiles; brackets of all sizes are taken as alike in shape.
        in_plane_about_b: 1 where the two profiles turn in their common plane about b, 0 where about a.

    Returns:
        Springs of all brackets together.

    Source:
        Common practice.
    """
    size = module / 0.040
    lip, turn = count * LIP * size, count * BRACKET * size**3
    weak = OUT_OF_PLANE * turn
    about_a, about_b = turn + (weak - turn) * in_plane_about_b, weak + (turn - weak) * in_plane_about_b
    aside = SIDEWAYS * lip
    along_a, along_b = aside + (lip - aside) * in_plane_about_b, lip + (aside - lip) * in_plane_about_b
    return (lip, along_a, along_b, weak, about_a, about_b)


@formula("k = n k_1, k_theta = k L^2/12", source="common practice, no source")
def screwed_springs(*, count: Number, along_a: Metre, along_b: Metre, screw: NewtonPerMetre = WOOD_SCREW) -> Springs:
    """Springs of wood screws spread evenly over a contact.

    Args:
        count: Screws.
        along_a: Extent of the contact.
        along_b: Extent of the contact.
        screw: Stiffness of one, any way.
    """
    total = count * screw
    about_a, about_b = total * np.square(along_b) / 12, total * np.square(along_a) / 12
    return (total, total, total, about_a + about_b, about_a, about_b)


@formula("k_n = k'' L_a L_b, k_theta = k_n L^2/12", source="derived")
def bonded_springs(*, along_a: Metre, along_b: Metre, bed: PascalPerMetre = GLUE_LINE, sideways: Number = 0.4) -> Springs:
    """Springs of a glued face: a thin elastic layer between two stiff ones.

    Args:
        along_a: Extent of the contact.
        along_b: Extent of the contact.
        bed: Pressure for a unit of squeeze.
        sideways: Shear over elastic modulus of the layer.

    Returns:
        Springs of the whole face.

    Source:
        Derived: elastic bed.
    """
    normal = bed * along_a * along_b
    about_a, about_b = normal * np.square(along_b) / 12, normal * np.square(along_a) / 12
    aside = sideways * normal
    return (normal, aside, aside, sideways * (about_a + about_b), about_a, about_b)


@formula(
    "k_n = 2 E R/(1 - nu^2), k_t = 4 E R/((1 + nu)(2 - nu)), k_r = 4 E R^3/(3 (1 - nu^2)), k_rn = 8 E R^3/(3 (1 + nu))",
    source="johnson-contact",
)
def seat_springs(*, elastic_modulus: Pascal, along_a: Metre, along_b: Metre) -> Springs:
    """Springs of a body that stands on a thick one over its whole foot: what the metal round the foot gives.

    Args:
        elastic_modulus: Of the softer body.
        along_a: Extent of the foot, taken as a round one of the same area, about each axis of the same stiffness in turning.
        along_b: Extent of the foot.

    Returns:
        Springs of a rigid round foot on a half space.

    Source:
        [johnson-contact] rigid punch on a half space.
    """
    radius = np.sqrt(along_a * along_b / np.pi)
    about_a = np.power(along_a * along_b**3 / (3 * np.pi), 0.25)  # a round foot of the same second moment
    about_b = np.power(along_b * along_a**3 / (3 * np.pi), 0.25)
    plane = elastic_modulus / (1 - POISSON**2)
    tangential = 4 * elastic_modulus * radius / ((1 + POISSON) * (2 - POISSON))
    turning = 8 * elastic_modulus * ((about_a**4 + about_b**4) / 2) ** 0.75 / (3 * (1 + POISSON))
    return (2 * plane * radius, tangential, tangential, turning, 4 * plane * about_a**3 / 3, 4 * plane * about_b**3 / 3)


@formula("1/k = sum 1/k_i", source="definition")
def springs_in_series(*, parts: Sequence[Springs]) -> Springs:
    """Springs of several pieces that give one after the other at the same place.

    Args:
        parts: Springs of each, in one frame.
    """
    first, *others = parts
    found = list(first)
    for other in others:
        found = [one * two / (one + two) for one, two in zip(found, other, strict=True)]
    return tuple(found)  # type: ignore[return-value]
