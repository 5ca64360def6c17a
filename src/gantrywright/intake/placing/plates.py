"""Plates, lumps and feet."""

from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import LEVEL, Unclear, direction_of, face_axes, tidy
from gantrywright.intake.outlines import OutlineTrouble, read_outline
from gantrywright.intake.outlines.rings import box_of
from gantrywright.intake.placing.holes import patterns
from gantrywright.intake.placing.sections import SIZE_AGREES
from gantrywright.intake.placing.weights import mass_given
from gantrywright.intake.placing.world import Placed, Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.bodies import Foot, Plate, Solid
from gantrywright.model.frame import Vector, along, dot, subtract
from gantrywright.theory.sections.outline import Outline
from gantrywright.theory.sections.polygon import second_moments


def place_plate(world: World, body: Placed, name: str, branch: Branch) -> tuple[Plate, Solid]:
    """A plate and its box."""
    path, where = f"{body.name}.{name}", branch.path
    if not all(branch.get(key) is not None for key in ("size", "normal", "at")):
        raise Unplaced(path)
    size, at = branch["size"], branch["at"]
    try:
        normal = tidy(direction_of(branch["normal"], x=at[0], middle=body.middle))
        first, second = face_axes(normal)
        centre = _centre(branch, at, (first, second, normal), size, body.middle)
        strip = direction_of(branch["strip"]) if branch.get("strip") is not None else (first if size[0] >= size[1] else second)
    except Unclear as error:
        raise world.problem(where, str(error)) from None
    material = world.material(branch.get("material"), f"{where}.material")
    cut = [hole for _, hole in branch.children("openings") if hole.has("at") and hole.has("size")]
    openings = tuple((*hole["at"], *hole["size"]) for hole in cut)
    how = use(branch)
    drawn = _drawn(world, branch, size)
    plate = Plate(
        path=path, body=body.name, middle=centre, normal=normal, first=first, second=second, size=size, strip=strip,
        rigid=bool(branch.get("rigid", False)), material=material, openings=openings, holes=patterns(branch, world.problem), use=how,
        outline=str(branch.get("outline") or ""), rounds=tuple(bool(hole.get("round")) for hole in cut), drawn=drawn,
    )  # fmt: skip
    area = size[0] * size[1] if drawn is None else float(second_moments(drawn)[0])
    mass = mass_given(branch)
    if mass is None and material.density is not None:
        mass = (area - _cut_out(branch)) * size[2] * material.density
    return plate, Solid(path, body.name, "plate", mass, centre, (first, second, normal), size, how)


def _centre(branch: Branch, at: Vector, axes: tuple[Vector, Vector, Vector], size: Vector, middle: float | None) -> Vector:
    by = str(branch.get("by", "axis"))
    centre = at
    for word in by.split():
        if word == "axis":
            continue
        wanted = direction_of(word, x=at[0], middle=middle)
        number = max(range(3), key=lambda k: abs(dot(axes[k], wanted)))
        outward = axes[number] if dot(axes[number], wanted) > 0 else tuple(-part for part in axes[number])
        centre = along(centre, outward, -size[number] / 2)  # type: ignore[arg-type]
    return centre


def _drawn(world: World, branch: Branch, size: Vector) -> Outline | None:
    """What the outline's file draws, with the drawing's own openings but without what ``openings`` cut out; None for a rectangle."""
    name = str(branch.get("outline") or "")
    if not name:
        return None
    where = f"{branch.path}.outline"
    try:
        outline = read_outline(name, world.reading.document.path.parent)
    except OutlineTrouble as trouble:
        raise world.problem_once(where, str(trouble)) from None
    for drawn, given in zip(box_of(outline.ring), size[:2], strict=True):
        if abs(drawn - given) > SIZE_AGREES * given:
            box = " x ".join(world.said(side) for side in box_of(outline.ring))
            said = " x ".join(world.said(side) for side in size[:2])
            raise world.problem(where, f"the outline is {box}, but size says {said}")
    return outline


def _cut_out(branch: Branch) -> float:
    """Area of the openings, m2."""
    area = 0.0
    for _, opening in branch.children("openings"):
        if opening.has("size"):
            first, second = opening["size"]
            area += first * second * (0.7853981633974483 if opening.get("round") else 1.0)
    return area


def place_item(body: Placed, name: str, branch: Branch) -> Solid:
    """A lump with its box, or a point."""
    path = f"{body.name}.{name}"
    if branch.get("at") is None:
        raise Unplaced(path)
    size = branch.get("size") or (0.0, 0.0, 0.0)
    return Solid(path, body.name, "item", branch.get("mass"), branch["at"], LEVEL, size, use(branch))


def place_foot(world: World, body: Placed, name: str, branch: Branch) -> tuple[Foot, Solid]:
    """A foot under the body."""
    path = f"{body.name}.{name}"
    if branch.get("at") is None:
        raise Unplaced(path)
    at: Vector = branch["at"]
    row = record(branch.sub("part"), kinds.Foot)
    given = branch.sub("stiffness")
    vertical = given.get("vertical") if given is not None and given.has("vertical") else (row.vertical if row else None)
    horizontal = given.get("horizontal") if given is not None and given.has("horizontal") else None
    if horizontal is None and row is not None and row.horizontal is not None and (given is None or not given.has("vertical")):
        horizontal = row.horizontal
    if horizontal is None and vertical is not None:
        horizontal = vertical / 3
    on = world.solid_named(branch["on"], f"{branch.path}.on").path if branch.get("on") else _touched(body, at)
    how = use(branch)
    mass: Real | None = mass_given(branch)
    return Foot(path, at, on, vertical, horizontal, how), Solid(path, body.name, "foot", mass, at, LEVEL, (0.0, 0.0, 0.0), how)


def _touched(body: Placed, at: Vector) -> str:
    """Path of the part of the body that is nearest to a place; empty for a body of no parts."""
    best, path = float("inf"), ""
    for solid in body.solids.values():
        if solid.kind in ("foot", "item"):
            continue
        gap = distance_to(solid, at)
        if gap < best - 1e-9:
            best, path = gap, solid.path
    return path


def distance_to(solid: Solid, point: Vector) -> float:
    """Distance of a point from a box; 0 inside."""
    offset = subtract(point, solid.centre)
    squares = 0.0
    for axis, size in zip(solid.axes, solid.size, strict=True):
        outside = abs(dot(offset, axis)) - size / 2
        if outside > 0:
            squares += outside * outside
    return float(squares**0.5)
