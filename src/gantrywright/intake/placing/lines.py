"""Where a drive's line of action lies, who holds it, who grips it, and how far the grip is from its motor end."""

from dataclasses import dataclass

from gantrywright.intake.geometry.frames import mean, with_component
from gantrywright.intake.geometry.guide import Motion
from gantrywright.intake.placing.world import Unplaced, World
from gantrywright.intake.tree import Branch
from gantrywright.model.axis import Block, Rail
from gantrywright.model.frame import Vector, add, along, dot, length, middle, subtract


@dataclass(frozen=True, slots=True)
class Placed:
    """A guide as it was placed, for what sits beside it."""

    motion: Motion
    rails: tuple[Rail, ...]
    blocks: tuple[Block, ...]

    @property
    def rails_ride(self) -> bool:
        """The rails are on the moving body."""
        return self.rails[0].body == self.motion.moving

    def middle_on(self, body: str) -> Vector:
        """Middle of the guide on one of its two bodies, in that one's measures: rail seats or block faces."""
        if self.rails[0].body == body:
            return mean(middle(rail.start, rail.stop) for rail in self.rails)
        faces = []
        for block in self.blocks:
            height = float(block.part.height or 0.0) - float(block.part.raceway or 0.0)
            faces.append(along(block.centre, block.normal, height))
        return mean(faces)


@dataclass(frozen=True, slots=True)
class Line:
    """A line of action as drawn."""

    holds: str
    grips: str
    start: Vector
    """In the measures of the body that holds it."""
    stop: Vector
    grip: Vector
    """In the measures of the gripping body."""
    motor_first: bool
    """Motor and fixed bearing are at ``start``."""
    nearest: float
    farthest: float
    over: float
    """How far the grip runs off the line somewhere in the travel, m; 0 where it stays on."""

    @property
    def free_length(self) -> float:
        """Start to stop."""
        return length(subtract(self.stop, self.start))


def place_line(world: World, branch: Branch, guide: Placed) -> Line:
    """The line of one drive.

    Args:
        world: Bodies, references.
        branch: Table of the drive.
        guide: Of its axis.
    """
    motion, t = guide.motion, guide.motion.t
    holds = str(branch.get("on") or motion.carrier)
    if holds not in (motion.carrier, motion.moving):
        raise world.problem(
            f"{branch.path}.on",
            f"'{holds}' takes no part in this axis; the long piece is held by {motion.carrier} or {motion.moving}",
        )
    grips = motion.moving if holds == motion.carrier else motion.carrier
    start, stop = _ends(world, branch, guide, holds)
    if length(subtract(stop, start)) < 1e-6:
        raise world.problem(branch.path, "the two ends of the drive are the same point")
    at = branch.get("grip_at")
    if at is None:
        at = 0.0 if grips == motion.moving else dot(guide.middle_on(grips), t)
    between = world.between(grips, holds)
    grip = with_component(add(middle(start, stop), between), t, at)
    first = _motor_first(branch, subtract(stop, start))
    reach = _distances(guide, holds, start if first else stop, stop if first else start, subtract(grip, between))
    long = length(subtract(stop, start))
    over = max(0.0, -reach[0], reach[1] - long)
    return Line(holds, grips, start, stop, grip, first, max(reach[0], 0.0), min(reach[1], long), over)


def _ends(world: World, branch: Branch, guide: Placed, holds: str) -> tuple[Vector, Vector]:
    if branch.get("from") is not None and branch.get("to") is not None:
        return branch["from"], branch["to"]
    if branch.get("offset") is None or branch.get("length") is None:
        raise Unplaced(branch.path)
    t = guide.motion.t
    beside = branch.get("beside")
    place = guide.middle_on(holds) if not beside else _beside(world, str(beside), f"{branch.path}.beside", guide, holds)
    place = along(add(place, branch["offset"]), t, branch.get("shift") or 0.0)
    half = branch["length"] / 2
    return along(place, t, -half), along(place, t, half)


def _beside(world: World, reference: str, where: str, guide: Placed, holds: str) -> Vector:
    """Middle of a rail or a part, in the measures of the holding body."""
    for rail in guide.rails:
        if reference in (rail.path, rail.path.rpartition(".")[2]):
            return add(middle(rail.start, rail.stop), world.between(holds, rail.body))
    if reference.startswith("axis."):
        raise world.problem(where, f"no '{reference}'; the rails of this axis are {', '.join(rail.path for rail in guide.rails)}")
    solid = world.solid_named(reference, where)
    return add(solid.centre, world.between(holds, solid.body))


def _motor_first(branch: Branch, run: Vector) -> bool:
    """Whether the motor sits at the start; left out: yes."""
    towards = branch.get("motor_end")
    return towards is None or dot(towards, run) <= 0


def _distances(guide: Placed, holds: str, motor: Vector, other: Vector, grip: Vector) -> tuple[float, float]:
    """Least and greatest distance of the grip from the motor end over the travel; all points in the holding body's measures."""
    motion = guide.motion
    run = subtract(other, motor)
    way = dot(run, motion.t) / length(run)
    drawn = dot(subtract(grip, motor), run) / length(run)
    sense = motion.sign if holds == motion.carrier else -motion.sign
    ends = [drawn + way * sense * (pose - motion.drawn) for pose in (0.0, motion.travel)]
    return min(ends), max(ends)
