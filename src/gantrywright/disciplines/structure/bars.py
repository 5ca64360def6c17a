"""Bars of the structure: members, plates as strips, a torsion box as one bar."""

import math

from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.catalog.kinds import Material
from gantrywright.model.bodies import Layer, Member, Plate, Solid
from gantrywright.model.frame import Vector, along, cross, dot, length, scale, subtract
from gantrywright.theory.frames.skeleton import Bar
from gantrywright.theory.sections.outline import Outline
from gantrywright.theory.sections.plain import RECTANGLE_SHEAR, rectangle_torsion
from gantrywright.theory.sections.polygon import second_moments

STIFF = 1e3
"""A plate that the file calls rigid has this many times the modulus of its material."""


class Lacking(Exception):
    """A value without which a part has no stiffness; its path is the message."""


def elastic(material: Material, path: str) -> tuple[Real, Real]:
    """Elastic and shear modulus of a material; raises `Lacking` where one is unknown."""
    if material.modulus is None:
        raise Lacking(f"{path}.material.modulus")
    if material.shear_modulus is None:
        raise Lacking(f"{path}.material.shear_modulus")
    return material.modulus, material.shear_modulus


def member_bar(member: Member, solid: Solid) -> Bar:
    """A member as a bar, its filling included where that has a stiffness of its own."""
    modulus, shear = elastic(member.material, member.path)
    section = member.section
    if section.torsion is None:
        raise Lacking(f"{member.path}.section.torsion")
    axial, torsion = modulus * section.area, shear * section.torsion
    height, width = modulus * section.second_moment_height, modulus * section.second_moment_width
    filling = member.filling
    if filling is not None and filling.modulus is not None:
        area, inner_height, inner_width = hollow(section.openings)
        axial = axial + filling.modulus * area
        height, width = height + filling.modulus * inner_height, width + filling.modulus * inner_width
        if filling.shear_modulus is not None and area > 0:
            # Saint-Venant's estimate of a solid section's torsion constant
            torsion = torsion + filling.shear_modulus * area**4 / (40 * (inner_height + inner_width))
    per_length = _per_length(solid.mass, length(subtract(member.stop, member.start)))
    loss = member.material.loss
    return Bar(
        part=member.path, body=member.body, start=member.start, stop=member.stop, height_axis=member.height_axis, axial=axial,
        torsion=torsion, bend_height=height, bend_width=width,
        shear_height=math.inf if section.shear_height is None else shear * section.shear_height,
        shear_width=math.inf if section.shear_width is None else shear * section.shear_width,
        mass_per_length=per_length, rotary_height=per_length * section.second_moment_height / section.area,
        rotary_width=per_length * section.second_moment_width / section.area, loss=0.0 if loss is None else loss,
    )  # fmt: skip


def hollow(openings: tuple[tuple[tuple[float, float], ...], ...]) -> tuple[float, float, float]:
    """Area and second moments (height, width) of the voids of a section about its middle, m2 and m4."""
    found = [second_moments(Outline(ring)) for ring in openings]
    area = sum(float(a) for a, _, _ in found)
    height = sum(float(moments[0] + a * centre[1] ** 2) for a, centre, moments in found)
    width = sum(float(moments[1] + a * centre[0] ** 2) for a, centre, moments in found)
    return area, height, width


def plate_factor(plate: Plate) -> float:
    """What openings leave of a plate, many times that where the file calls it rigid."""
    cut_out = sum(first * second for _, _, first, second in plate.openings)
    left = 1 - min(cut_out / (plate.size[0] * plate.size[1]), 0.9)
    return left * (STIFF if plate.rigid else 1.0)


def plate_bar(plate: Plate, solid: Solid) -> Bar:
    """A plate as a strip that carries along ``strip``: its thickness bends about its plane, its width within it."""
    modulus, shear = elastic(plate.material, plate.path)
    strip = plate.strip if plate.strip is not None else plate.first
    lengthwise = abs(dot(strip, plate.first)) >= abs(dot(strip, plate.second))
    long, wide, thick = (
        (plate.size[0], plate.size[1], plate.size[2]) if lengthwise else (plate.size[1], plate.size[0], plate.size[2])
    )
    factor = plate_factor(plate)
    area = wide * thick
    per_length = _per_length(solid.mass, long)
    twist = float(rectangle_torsion(width=wide, height=thick))
    loss = plate.material.loss
    return Bar(
        part=plate.path, body=plate.body, kind="plate", start=along(plate.middle, strip, -long / 2), stop=along(plate.middle, strip, long / 2),
        height_axis=plate.normal, axial=modulus * area * factor, torsion=shear * twist * factor,
        bend_height=modulus * wide * thick**3 / 12 * factor, bend_width=modulus * thick * wide**3 / 12 * factor,
        shear_height=shear * RECTANGLE_SHEAR * area * factor, shear_width=shear * RECTANGLE_SHEAR * area * factor,
        mass_per_length=per_length, rotary_height=per_length * thick**2 / 12, rotary_width=per_length * wide**2 / 12,
        loss=0.0 if loss is None else loss,
    )  # fmt: skip


def box_bar(skins: list[Layer], webs: Layer, mass: Real | None) -> Bar:
    """A torsion box as one bar along its long side: two skins and the webs that run that way."""
    path = f"{webs.body}.top"
    across_y = webs.size[0] < webs.size[1]
    long, wide = (webs.size[1], webs.size[0]) if across_y else (webs.size[0], webs.size[1])
    direction: Vector = (0.0, 1.0, 0.0) if across_y else (1.0, 0.0, 0.0)
    thickness, pitch, _ = webs.web or (0.0, 1.0, 1.0)
    count, inside = math.floor(wide / pitch + 1e-9) + 1, webs.size[2]
    web_modulus, web_shear = elastic(webs.material, path)
    parts = [(elastic(skin.material, path), skin) for skin in skins]
    axial = sum((e * wide * skin.size[2] for (e, _), skin in parts), web_modulus * count * thickness * inside)
    first = sum(
        (e * wide * skin.size[2] * skin.middle[2] for (e, _), skin in parts),
        web_modulus * count * thickness * inside * webs.middle[2],
    )
    level = first / axial
    bend = web_modulus * count * thickness * (inside**3 / 12 + inside * (webs.middle[2] - level) ** 2)
    for (e, _), skin in parts:
        bend = bend + e * wide * (skin.size[2] ** 3 / 12 + skin.size[2] * (skin.middle[2] - level) ** 2)
    depth = abs(parts[-1][1].middle[2] - parts[0][1].middle[2])
    skin_shear = [g * skin.size[2] for (_, g), skin in parts]
    around = sum(wide / stiff for stiff in skin_shear) + 2 * depth / (web_shear * thickness)
    middle: Vector = (webs.middle[0], webs.middle[1], typical(level))
    per_length = _per_length(mass, long)
    loss = webs.material.loss
    return Bar(
        part=path, body=webs.body, kind="top", start=along(middle, direction, -long / 2), stop=along(middle, direction, long / 2),
        height_axis=(0.0, 0.0, 1.0), axial=axial, torsion=4 * (wide * depth) ** 2 / around, bend_height=bend,
        bend_width=axial * wide**2 / 12, shear_height=web_shear * count * thickness * inside, shear_width=sum(skin_shear) * wide * RECTANGLE_SHEAR,
        mass_per_length=per_length, rotary_height=per_length * depth**2 / 4, rotary_width=per_length * wide**2 / 12, loss=0.0 if loss is None else loss,
    )  # fmt: skip


def _per_length(mass: Real | None, long: float) -> Real:
    return 0.0 if mass is None else mass / long


def square_axes(direction: Vector) -> tuple[Vector, Vector, Vector]:
    """Right-handed axes whose first is a direction."""
    helper: Vector = (0.0, 0.0, 1.0) if abs(direction[2]) < 0.9 else (1.0, 0.0, 0.0)
    second = cross(helper, direction)
    second = scale(second, 1 / length(second))
    return direction, second, cross(direction, second)
