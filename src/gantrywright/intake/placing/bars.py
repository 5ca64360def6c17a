"""Bars: two cut ends and a section."""

from dataclasses import replace

from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import TIE, Unclear, direction_of, square_to, tidy
from gantrywright.intake.placing.holes import patterns
from gantrywright.intake.placing.sections import hollow_area, section_of
from gantrywright.intake.placing.weights import mass_given
from gantrywright.intake.placing.world import Placed, Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.bodies import Member, Section, Solid
from gantrywright.model.frame import DIRECTIONS, Vector, add, cross, dot, length, middle, scale, subtract, unit

UPRIGHT = 0.9
"""A bar is upright when its direction's share along z is more than this."""


def place_bar(world: World, body: Placed, name: str, branch: Branch) -> tuple[Member, Solid]:
    """A bar and its box.

    Args:
        world: For materials and problems.
        body: Its body.
        name: Its name.
        branch: Its table.
    """
    path = f"{body.name}.{name}"
    row = record(branch.sub("section"), kinds.Section)
    if row is None or not row.shape or not branch.has("from") or not branch.has("to"):
        raise Unplaced(path)
    where = branch.path
    section = section_of(row, where, world)
    start, stop = branch["from"], branch["to"]
    if length(subtract(stop, start)) < 1e-6:
        raise world.problem(f"{where}.to", "from and to are the same point; a bar has a length")
    x = tidy(unit(subtract(stop, start)))
    try:
        height_axis = square_to(_up(branch, x), x)
        aside = _beside(branch, section, height_axis, tidy(cross(x, height_axis)), start[0], body.middle)
    except Unclear as error:
        raise world.problem(f"{where}.up" if branch.has("up") else where, str(error)) from None
    start, stop = add(start, aside), add(stop, aside)
    width_axis = tidy(cross(x, height_axis))
    material = world.material(branch.get("material") or row.material or None, f"{where}.material")
    filling = str(branch.get("fill") or "")
    how = use(branch, "section")
    long = length(subtract(stop, start))
    mass = _mass(world, branch, row, section, material, filling, long)
    section = replace(section, mass_per_length=None if mass is None else mass / long)
    member = Member(
        path=path, body=body.name, start=start, stop=stop, height_axis=height_axis, width_axis=width_axis, section=section, material=material,
        fill=filling, ends=tuple(branch.get("ends") or ()), holes=patterns(branch, world.problem), use=how, joint=_joint_kind(branch),
        filling=world.material(filling, f"{where}.fill") if filling else None,
    )  # fmt: skip
    solid = Solid(
        path=path, body=body.name, kind="member", mass=mass,
        centre=middle(start, stop), axes=(x, height_axis, width_axis), size=(long, section.height, section.width), use=how,
        round=section.shape == "round",
    )  # fmt: skip
    return member, solid


def _up(branch: Branch, x: Vector) -> Vector:
    if branch.has("up"):
        return direction_of(branch["up"])
    return DIRECTIONS["back" if abs(x[2]) > UPRIGHT else "top"]


def _beside(branch: Branch, section: Section, height: Vector, width: Vector, at_x: float, middle_plane: float | None) -> Vector:
    """From the line of from and to to the bar's own axis."""
    shift = (0.0, 0.0, 0.0)
    for word in str(branch.get("by", "axis")).split():
        if word == "axis":
            continue
        wanted = direction_of(word, x=at_x, middle=middle_plane)
        up, side = dot(height, wanted), dot(width, wanted)
        if abs(abs(up) - abs(side)) < TIE:
            raise Unclear(f"no one side of this bar is its {word}")
        axis, half, share = (height, section.height / 2, up) if abs(up) > abs(side) else (width, section.width / 2, side)
        shift = add(shift, scale(axis, -half if share > 0 else half))
    return shift


def _mass(
    world: World, branch: Branch, row: kinds.Section, section: Section, material: kinds.Material, filling: str, long: float
) -> Real | None:
    given = mass_given(branch)
    if given is not None:
        return given
    if row.mass_per_length is not None and material.id == (row.material or material.id):
        per_length: Real = row.mass_per_length
    elif material.density is not None:
        per_length = section.area * material.density
    else:
        return None
    if filling:
        density = world.density(filling, f"{branch.path}.fill")
        if density is None:
            return None
        per_length = per_length + hollow_area(section) * density
    return per_length * long


def _joint_kind(branch: Branch) -> str:
    joint = branch.sub("joint")
    return str(joint.get("kind") or "") if joint is not None else ""
