"""Where the machine's zero lies, and how far the tip reaches."""

from collections.abc import Iterable

from gantrywright.intake.geometry.guide import Motion
from gantrywright.model.bodies import Box
from gantrywright.model.frame import Vector, subtract


def reach_of(tip: Vector, motions: Iterable[Motion]) -> Box:
    """The tip against the work over all poses, in the measures that the tip is given in.

    Args:
        tip: As drawn.
        motions: Every axis; each widens the box from the drawn pose to both ends of its travel, since a pose grows as the tool moves
            + against the work.
    """
    least, most = list(tip), list(tip)
    for motion in motions:
        for number in range(3):
            share = motion.t[number]
            ends = (share * (0.0 - motion.drawn), share * (motion.travel - motion.drawn))
            least[number] += min(ends)
            most[number] += max(ends)
    return Box((least[0], least[1], least[2]), (most[0], most[1], most[2]))


def zero_of(reach: Box, work_area: Vector, top: float) -> Vector:
    """Machine zero in the measures of the reach: its middle over the middle of the work area, z on the upper face of the top."""
    middle = [(low + high) / 2 for low, high in zip(reach.least, reach.most, strict=True)]
    return (middle[0] - work_area[0] / 2, middle[1] - work_area[1] / 2, top)


def shifted(box: Box, by: Vector) -> Box:
    """The box in measures whose origin lies at ``by``."""
    return Box(_settled(subtract(box.least, by)), _settled(subtract(box.most, by)))


def _settled(point: Vector) -> Vector:
    """Without the rounding of sums: a picometre is no reach."""
    return (round(point[0], 12) + 0.0, round(point[1], 12) + 0.0, round(point[2], 12) + 0.0)
