"""A steel member of any drawn section, and its bar built in at one end: the common subject of the tests of askew bending."""

from functools import partial

import numpy as np

from gantrywright.catalog import kinds
from gantrywright.disciplines.structure.bars import member_bar
from gantrywright.model.bodies import Member, Section, Solid, Use
from gantrywright.model.frame import Vector, cross, subtract, unit
from gantrywright.theory.frames.assembly import stretches
from gantrywright.theory.frames.frame import Frame
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.skeleton import GROUND, Anchor, Bar, Rest, Skeleton, Tie
from gantrywright.theory.frames.solver import prepare
from gantrywright.theory.sections import Geometry, all_values, section_outline

E, NU = 205e9, 0.3
G = E / (2 * (1 + NU))
STEEL = kinds.Material(id="steel", density=7850.0, modulus=E, shear_modulus=G)
LEVEL: tuple[Vector, Vector, Vector] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def section_of(geometry: Geometry) -> Section:
    """The section as it is placed, without the packaged table."""
    found = all_values(geometry)
    return Section(
        name=geometry.shape, shape=geometry.shape, height=geometry.height or 0.0, width=geometry.width or 0.0, area=found.area,
        second_moment_height=found.second_moment_height, second_moment_width=found.second_moment_width, torsion=found.torsion,
        shear_height=found.shear_height, shear_width=found.shear_width, product=found.product,
        centre=(found.centre_width, found.centre_height), shear_centre=(found.shear_centre_width, found.shear_centre_height),
        draw=partial(section_outline, geometry),
    )  # fmt: skip


def member(geometry: Geometry, *, stop: Vector = (1.0, 0.0, 0.0), height: Vector = (0.0, 0.0, 1.0), hand: float = 1.0) -> Member:
    """A member from the origin; ``hand`` -1 has its width the other way."""
    across = cross(unit(stop), height)
    width = (hand * across[0], hand * across[1], hand * across[2])
    return Member("bed.arm", "bed", (0.0, 0.0, 0.0), stop, height, width, section_of(geometry), STEEL, "", (), (), Use())


def bar_of(one: Member) -> Bar:
    """Its bar."""
    mass = 7850.0 * one.section.area * float(np.linalg.norm(subtract(one.stop, one.start)))
    return member_bar(one, Solid(one.path, one.body, "member", mass, (0.5, 0.0, 0.0), LEVEL, (1.0, 0.1, 0.1)))


def give_at(bar: Bar, point: Vector) -> np.ndarray:
    """Give of a point that the bar holds while its start is built in: shape (6, 6), machine axes."""
    clamp = Tie(part="wall", kind="joint", a=Anchor(GROUND, bar.start), b=Anchor(0, bar.start), axes=LEVEL, stiffness=(1e14,) * 6)
    mesh = Mesher(Skeleton((bar,), (clamp,), (), Anchor(0, point), Rest(()), ())).at({})
    frame: Frame = mesh.frame
    motions = prepare(stretches(frame), frame.coefficients != 0).solve(frame.coefficients, mesh.load)
    told: np.ndarray = mesh.load.T @ motions
    return told
