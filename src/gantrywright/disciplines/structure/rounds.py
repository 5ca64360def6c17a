"""Round bars and tubes: shafts, bodies of spindles, cutters."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Kilogram, Metre, Pascal, Real
from gantrywright.catalog.kinds import Material
from gantrywright.model.frame import Vector, length, subtract
from gantrywright.theory.frames.skeleton import Bar
from gantrywright.theory.sections.plain import ring_second_moment, round_shear_area

TUBE_SHEAR = 0.5
"""Shear area of a thin round tube over its area: exact for a thin wall; a thick wall has up to 0.85, so this is on the soft side."""


@dataclass(frozen=True, slots=True)
class Elastic:
    """Constants of a material of which none is unknown."""

    modulus: Pascal
    shear: Pascal
    density: Real
    loss: Real


def elastic_of(material: Material | None) -> Elastic:
    """Constants of a material; an unknown density weighs nothing, an unknown loss damps nothing.

    Raises:
        ValueError: There is no material or no modulus; the caller looks for what is lacking first.
    """
    if material is None or material.modulus is None or material.shear_modulus is None:
        raise ValueError("a bar of unknown elasticity")
    return Elastic(
        material.modulus,
        material.shear_modulus,
        0.0 if material.density is None else material.density,
        0.0 if material.loss is None else material.loss,
    )


def round_bar(
    part: str, body: str, line: tuple[Vector, Vector], height_axis: Vector, *, outer: Metre, inner: Metre = 0.0, of: Elastic, kind: str,
    tube: bool = False, weighs: bool = True,
) -> Bar:  # fmt: skip
    """A round bar between two points.

    Args:
        part: Path that its share is booked to.
        body: That it moves with.
        line: Its ends.
        height_axis: Any direction square to it.
        outer: Diameter.
        inner: Diameter of its bore.
        of: Its material.
        kind: Of bar.
        tube: Shears as a thin tube instead of a solid round.
        weighs: Has mass of its own.
    """
    area = np.pi / 4 * (outer**2 - inner**2)
    second = ring_second_moment(outer=outer, inner=inner)
    shear_area = TUBE_SHEAR * area if tube else round_shear_area(area=area, poisson=of.modulus / (2 * of.shear) - 1)
    density = of.density if weighs else 0.0
    return Bar(
        part=part, body=body, start=line[0], stop=line[1], height_axis=height_axis, axial=of.modulus * area, torsion=2 * of.shear * second,
        bend_height=of.modulus * second, bend_width=of.modulus * second, shear_height=of.shear * shear_area,
        shear_width=of.shear * shear_area, mass_per_length=density * area, rotary_height=density * second, rotary_width=density * second,
        loss=of.loss, kind=kind,
    )  # fmt: skip


def bar_mass(bar: Bar) -> Kilogram:
    """Mass of a bar."""
    return bar.mass_per_length * length(subtract(bar.stop, bar.start))
