"""Bars of the structure: members, plates as strips, a torsion box as one bar."""

import math
from dataclasses import replace

from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.catalog.kinds import Material
from gantrywright.model.bodies import Layer, Member, Plate, Solid
from gantrywright.model.frame import Vector, along, cross, dot, length, scale, subtract, unit
from gantrywright.theory.frames.skeleton import Bar
from gantrywright.theory.sections.outline import Outline
from gantrywright.theory.sections.plain import RECTANGLE_SHEAR, rectangle_torsion
from gantrywright.theory.sections.polygon import second_moments
from gantrywright.theory.sections.principal import principal_turn, turned_second_moment, turned_shear_area

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
    """A member as a bar along its centroids, its filling included where that has a stiffness of its own."""
    modulus, shear = elastic(member.material, member.path)
    section = member.section
    if section.torsion is None:
        raise Lacking(f"{member.path}.section.torsion")
    axial, torsion = modulus * section.area, shear * section.torsion
    moments = (modulus * section.second_moment_height, modulus * section.second_moment_width, modulus * section.product)
    filling = member.filling
    if filling is not None and filling.modulus is not None:
        area, *inner = hollow(section.openings, section.centre)
        axial = axial + filling.modulus * area
        moments = tuple(own + filling.modulus * more for own, more in zip(moments, inner, strict=True))  # type: ignore[assignment]
        if filling.shear_modulus is not None and area > 0:
            # Saint-Venant's estimate of a solid section's torsion constant
            torsion = torsion + filling.shear_modulus * area**4 / (40 * (inner[0] + inner[1]))
    per_length = _per_length(solid.mass, length(subtract(member.stop, member.start)))
    straight = Bar(
        part=member.path, body=member.body, start=_beside(member, member.start), stop=_beside(member, member.stop),
        height_axis=member.height_axis, axial=axial, torsion=torsion, bend_height=moments[0], bend_width=moments[1],
        shear_height=math.inf if section.shear_height is None else shear * section.shear_height,
        shear_width=math.inf if section.shear_width is None else shear * section.shear_width,
        mass_per_length=per_length, rotary_height=per_length * section.second_moment_height / section.area,
        rotary_width=per_length * section.second_moment_width / section.area,
        loss=0.0 if member.material.loss is None else member.material.loss,
    )  # fmt: skip
    return _askew(straight, member, moments[2])


def _beside(member: Member, end: Vector) -> Vector:
    """The centroid at an end that is told by the middle of the section's box."""
    across, up = member.section.centre
    return along(along(end, member.width_axis, across), member.height_axis, up) if across or up else end


def _askew(bar: Bar, member: Member, mixed: Real) -> Bar:
    """A bar in the principal axes of its section (of the typical one, where the section spreads), with its shear centre.

    Args:
        bar: With the axes of the member.
        member: That it stands for.
        mixed: Modulus times product of inertia, of width and height.
    """
    section, side = member.section, cross(unit(subtract(member.stop, member.start)), member.height_axis)
    hand = math.copysign(1.0, dot(side, member.width_axis))
    turn = float(
        principal_turn(
            second_moment_height=typical(bar.bend_height),
            second_moment_width=typical(bar.bend_width),
            product=typical(mixed) * hand,
        )
    )
    up, out = section.shear_centre[1] - section.centre[1], hand * (section.shear_centre[0] - section.centre[0])
    if not turn:
        return replace(bar, shear_centre=(up, out)) if up or out else bar

    def moments(height: Real, width: Real, product: Real) -> tuple[Real, Real]:
        return (
            turned_second_moment(own=height, other=width, product=product * hand, turn=turn),
            turned_second_moment(own=width, other=height, product=-product * hand, turn=turn),
        )

    def shears(own: Real, other: Real) -> Real:
        return turned_shear_area(own=own, other=other, turn=turn)

    bend_height, bend_width = moments(bar.bend_height, bar.bend_width, mixed)
    rotary_height, rotary_width = moments(bar.rotary_height, bar.rotary_width, bar.mass_per_length * section.product / section.area)
    cosine, sine = math.cos(turn), math.sin(turn)
    return replace(
        bar, height_axis=along(scale(bar.height_axis, cosine), side, sine), bend_height=bend_height, bend_width=bend_width,
        rotary_height=rotary_height, rotary_width=rotary_width, shear_height=shears(bar.shear_height, bar.shear_width),
        shear_width=shears(bar.shear_width, bar.shear_height), shear_centre=(up * cosine + out * sine, out * cosine - up * sine),
    )  # fmt: skip


def hollow(
    openings: tuple[tuple[tuple[float, float], ...], ...], centre: tuple[float, float] = (0.0, 0.0)
) -> tuple[float, float, float, float]:
    """Area and moments (height, width, product) of the voids of a section about a point, m2 and m4."""
    told = [0.0, 0.0, 0.0, 0.0]
    for ring in openings:
        area, middle, moments = second_moments(Outline(ring))
        across, up = middle[0] - centre[0], middle[1] - centre[1]
        each = (area, moments[0] + area * up**2, moments[1] + area * across**2, moments[2] + area * across * up)
        told = [float(so_far + more) for so_far, more in zip(told, each, strict=True)]
    return told[0], told[1], told[2], told[3]


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
