"""Guides: where rails and blocks sit, and from them where the body stands that they carry."""

from dataclasses import dataclass

from gantrywright.catalog import kinds
from gantrywright.intake.geometry.frames import Face, half_extent, left_over, mean, tidy, with_component
from gantrywright.intake.geometry.guide import Guide, Motion, Pad
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.intake.uses import record, use
from gantrywright.model.axis import Rail
from gantrywright.model.bodies import Solid
from gantrywright.model.frame import AXES, Vector, along, cross, dot, length, middle, scale, subtract, unit


@dataclass(frozen=True, slots=True)
class Standing:
    """A guide whose rails stand on the carrier: rails in its measures, origin of the moving body likewise."""

    rails: tuple[Rail, ...]
    origin: Vector
    guide: Guide
    row_at: float
    """Middle of the block row along t, in the moving body's measures."""


def place_rail(world: World, axis: str, name: str, branch: Branch, t: Vector) -> Rail:
    """A rail on a face of a part, in the measures of that part's body."""
    path = f"axis.{axis}.rail.{name}"
    part = record(branch.sub("part"), kinds.Rail)
    if part is None or not branch.get("on") or branch.get("face") is None or branch.get("length") is None:
        raise Unplaced(path)
    carrier = world.solid_named(branch["on"], f"{branch.path}.on")
    face = world.face(carrier, branch["face"], f"{branch.path}.face")
    foot = rail_line(world, branch, carrier, face, t)
    long = branch["length"]
    return Rail(
        path=path, body=carrier.body, on=carrier.path, start=along(foot, t, -long / 2), stop=along(foot, t, long / 2), normal=face.normal,
        part=part, use=use(branch), joined_at=tuple(branch.get("joined_at") or ()), first_hole=branch.get("first_hole"),
    )  # fmt: skip


def rail_line(world: World, branch: Branch, carrier: Solid, face: Face, t: Vector) -> Vector:
    """Middle of the rail's foot."""
    if abs(dot(face.normal, t)) > 0.01:
        raise world.problem(f"{branch.path}.face", f"the rail runs along {_letter(t)}, square to it lies no rail on this face")
    sideways = left_over(t, face.normal)
    foot = along(face.middle, face.normal, branch.get("shim") or 0.0)
    foot = along(foot, sideways, branch.get("across") or 0.0)
    reach, long = half_extent(carrier, t), branch["length"]
    start = branch.get("start")
    centre = dot(carrier.centre, t)
    at = centre if start is None else centre - reach + start + long / 2
    if long > 2 * reach + 5e-4 or (start is not None and start + long > 2 * reach + 5e-4):
        over = max(long - 2 * reach, 0.0 if start is None else start + long - 2 * reach)
        world.stray.append((f"axis.{branch.path.split('.')[1]}.rail.{branch.path.split('.')[-1]}",
                            f"stands {world.said(over)} over the end of {carrier.path}"))  # fmt: skip
    return with_component(foot, t, at)


def standing(motion: Motion, rails: tuple[Rail, ...], blocks: dict[str, kinds.Block], row_at: float) -> Standing:
    """Place the moving body on rails that stand on its carrier.

    Args:
        motion: Of the axis.
        rails: In the carrier's measures.
        blocks: Block of each rail, by path of the rail.
        row_at: Middle of the block row in the moving body's measures, along t.
    """
    t = motion.t
    seats = [middle(rail.start, rail.stop) for rail in rails]
    faces = [along(seat, rail.normal, _height(blocks[rail.path])) for seat, rail in zip(seats, rails, strict=True)]
    origin = with_component(mean(faces), t, dot(mean(seats), t) + motion.drawn_shift - row_at)
    pads = tuple(
        Pad(with_component(subtract(face, origin), t, row_at), rail.normal) for face, rail in zip(faces, rails, strict=True)
    )
    return Standing(rails, origin, Guide(motion, facing(t, rails), pads), row_at)


def riding_origin(world: World, motion: Motion, blocks: Branch, part: kinds.Block) -> tuple[Vector, Vector]:
    """Where the middle of riding rails lies, in the carrier's measures, and the normal of the blocks' carrier.

    Args:
        world: For the part that carries the blocks.
        motion: Of the axis.
        blocks: Table of the blocks.
        part: Their row.
    """
    if not blocks.get("on") or blocks.get("face") is None:
        raise world.problem(blocks.path, "rails ride on the moving body, so the blocks need on and face")
    carrier = world.solid_named(blocks["on"], f"{blocks.path}.on")
    face = world.face(carrier, blocks["face"], f"{blocks.path}.face")
    if abs(dot(face.normal, motion.t)) > 0.01:
        raise world.problem(f"{blocks.path}.face", f"blocks that run along {_letter(motion.t)} cannot sit on this face")
    row = along(face.middle, face.normal, _height(part))
    at = dot(carrier.centre, motion.t) + (blocks.get("at") or 0.0)
    return with_component(row, motion.t, at + motion.drawn_shift), face.normal


def facing(t: Vector, rails: tuple[Rail, ...]) -> Vector:
    """n: out of the faces that carry the rails; where they look away from each other, square to them and t, upwards."""
    total = mean(rail.normal for rail in rails)
    if length(total) > 0.1:
        return tidy(unit(total))
    n = cross(t, rails[0].normal)
    return tidy(n if n[2] >= 0 else scale(n, -1.0))


def _height(block: kinds.Block) -> float:
    if block.height is None:
        raise Unplaced(block.id)
    return block.height  # type: ignore[return-value]


def _letter(t: Vector) -> str:
    return next((letter for letter, axis in AXES.items() if dot(axis, t) > 0.99), "its axis")
