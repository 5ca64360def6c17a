"""A job's cutter as a bar in its collet, and the give of the machine where that cutter cuts."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import Array, KilogramPerCubicMetre, Metre, Pascal, Real
from gantrywright.catalog.kinds import Cutter, Material
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.theory.cutting.cutter_give import FirstMode, first_mode, tip_matrix
from gantrywright.theory.cutting.other_tool import moved_give, without_cutter
from gantrywright.theory.tools import bending_diameter, pointed_diameter

CORE = 0.8
"""Diameter of the round bar that bends like the fluted part, over that part's own; 0.75 to 0.85, common practice, no source."""
FLUTE_AREA = 0.6
"""Metal left of the full circle between the flutes; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Body:
    """A cutter from the collet face to its tip."""

    shank_length: Metre
    shank_diameter: Metre
    flute_length: Metre
    flute_diameter: Metre
    """Of the round bar that bends like the fluted part."""
    cutting_diameter: Metre
    elastic_modulus: Pascal
    shear_modulus: Pascal
    density: KilogramPerCubicMetre | None

    @property
    def out(self) -> Metre:
        """How far it stands out."""
        return self.shank_length + self.flute_length

    @property
    def bar(self) -> Mapping[str, Real]:
        """Its bending, as the functions of `theory.cutting.cutter_give` want it."""
        return {**self.shape, "elastic_modulus": self.elastic_modulus, "shear_modulus": self.shear_modulus}

    @property
    def shape(self) -> Mapping[str, Metre]:
        """Its two steps."""
        return {
            "shank_length": self.shank_length, "shank_diameter": self.shank_diameter, "flute_length": self.flute_length,
            "flute_diameter": self.flute_diameter,
        }  # fmt: skip

    def first(self) -> FirstMode | None:
        """Its first mode in a stiff collet."""
        if self.density is None:
            return None
        return first_mode(**self.bar, flute_area_share=FLUTE_AREA, cutting_diameter=self.cutting_diameter, density=self.density)


def body_of(cutter: Cutter, stick_out: Metre, material: Material | None) -> Body | None:
    """The cutter as a stepped bar; None where its material or a size is not known."""
    if cutter.diameter is None or material is None or material.modulus is None or material.shear_modulus is None:
        return None
    flutes = stick_out if cutter.flute_length is None else np.minimum(cutter.flute_length, stick_out)
    shank = cutter.diameter if cutter.shank is None else cutter.shank
    wide: Real = cutter.diameter
    if cutter.point is not None and cutter.style != "drill":
        wide = pointed_diameter(diameter=cutter.diameter, shank=shank, point=cutter.point, length=flutes)
    bends = bending_diameter(diameter=wide, core=CORE if cutter.core is None else cutter.core)
    return Body(stick_out - flutes, shank, flutes, bends, wide, material.modulus, material.shear_modulus, material.density)


def drawn_body(machine: Machine) -> Body | None:
    """The cutter that the machine is drawn with."""
    tool = machine.tool
    return None if tool is None else body_of(tool.cutter, tool.stick_out, tool.material)


def job_body(job: Job) -> Body | None:
    """The cutter of a job."""
    return body_of(job.cutter, job.stick_out, job.cutter_material)


def rest_at(give: Array, drawn: Body, own: Body) -> Array:
    """Give of all but the cutter where the tip of a job's cutter is, shape (..., 6, 6).

    Args:
        give: At the tip of the drawn cutter, all together.
        drawn: The drawn cutter.
        own: That of the job.
    """
    rest = without_cutter(give=give, cutter=tip_matrix(**drawn.bar))
    return moved_give(give=rest, by=up(np.asarray(drawn.out - own.out, dtype=float)))


def up(height: Array) -> Array:
    """A way up, shape (..., 3)."""
    return np.stack((0 * height, 0 * height, height), axis=-1)


def known_pose(machine: Machine) -> bool:
    """Whether the spindle stands upright, which everything here takes for granted."""
    return machine.spindle is not None and abs(typical(machine.spindle.direction[2])) > 0.999
