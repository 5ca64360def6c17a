"""Joints as marks that can be picked: a rim round the faces that meet, and the screws that are known.

They have no solid of their own, weigh nothing here, and are drawn a little larger than the faces, so that they show where parts meet.
"""

import re

from gantrywright.model.bodies import Joint, Solid, Use
from gantrywright.model.frame import AXES, Vector, add, dot, scale, subtract
from gantrywright.scene.making import Axes, Maker
from gantrywright.scene.shapes import BOX, CYLINDER
from gantrywright.scene.words import spoken

LEVEL = (AXES["x"], AXES["y"], AXES["z"])
BEADS = {"welded": 0.005, "glued": 0.002, "bedded": 0.003}
RIM = 0.003
"""How far a mark stands out beyond the faces that meet, m, for the view alone: a weld as its bead does."""
THICK = 0.006
"""Of the rim, across the faces, m."""
BRACKET = 0.04
"""Side of the block that stands for a bracket, m."""
HEAD, STICKS = 1.6, 0.7
"""A head is that much wider than its screw, and that high, in diameters."""
USUAL = 0.006
"""Diameter of a screw whose thread is not told, m."""
SCREWED = ("bolted", "screwed", "end-tapped")
FACES = 2
"""Sides of a patch that has an area."""
_METRIC, _INCH, _NUMBER = re.compile(r"M(\d+(?:\.\d+)?)"), re.compile(r"(\d+)/(\d+)-"), re.compile(r"#(\d+)-")


def draw_joint(maker: Maker, joint: Joint) -> None:
    """Its marks; a joint that the file says is none is not drawn."""
    one, other = (next((solid for solid in maker.machine.solids if solid.path == path), None) for path in (joint.a, joint.b))
    body = next((solid.body for solid in (one, other) if solid is not None), joint.a.partition(".")[0])
    mark = Solid(
        joint.path, body, "joint", None, joint.points[0] if joint.points else (0.0, 0.0, 0.0), LEVEL, joint.patch, Use(owned=True)
    )
    facts = [("Holds", f"{spoken_part(joint.a)} and {spoken_part(joint.b)}"), ("Kind", joint.kind)]
    if joint.thread and joint.bolts:
        facts.append(("Bolts", f"{joint.bolts} x {joint.thread}"))
    screws = joint.bolt_points or (joint.points if joint.kind in SCREWED and len(joint.points) > 1 else ())
    on = joint.a if one is not None else joint.b

    def drawn(shape: str, axes: Axes, size: Vector, at: Vector) -> None:
        label = f"Joint, {spoken_part(joint.a)} and {spoken_part(joint.b)}"
        maker.draw(
            mark,
            BOX if shape == "box" else CYLINDER,
            axes,
            size,
            at,
            label,
            f"{spoken(joint.kind)} joint",
            facts=facts,
            beyond=True,
            on=on,
        )

    if len(joint.points) == 1 and sum(extent > 0.0 for extent in joint.patch) == FACES:
        grown = 2 * BEADS.get(joint.kind, RIM)
        size = [extent + grown if extent > 0.0 else THICK for extent in joint.patch]
        drawn("box", LEVEL, (size[0], size[1], size[2]), joint.points[0])
    elif not screws:
        side = BRACKET if joint.kind == "bracket" else 4 * THICK
        for point in joint.points:
            drawn("box", LEVEL, (side, side, side), point)
    wide = HEAD * thread_diameter(joint.thread)
    outward, thick = _through(joint, one, other)
    long = thick + STICKS * thread_diameter(joint.thread)
    for point in screws:
        drawn("cylinder", _along(outward), (long, wide, wide), add(point, scale(outward, long / 2)))


def spoken_part(path: str) -> str:
    """A part by its name: ``bed.left-side`` is "bed left side"."""
    return spoken(path.replace(".", " "))


def thread_diameter(thread: str) -> float:
    """Nominal diameter of a thread by its name, for the view alone, m.

    Example:
        >>> thread_diameter("M8x1"), thread_diameter("1/4-20")
        (0.008, 0.00635)
    """
    metric, inch, number = _METRIC.match(thread), _INCH.match(thread), _NUMBER.match(thread)
    if metric:
        return float(metric[1]) / 1000
    if inch:
        return 0.0254 * int(inch[1]) / int(inch[2])
    return 0.0254 * (0.06 + 0.013 * int(number[1])) if number else USUAL


def _through(joint: Joint, one: Solid | None, other: Solid | None) -> tuple[Vector, float]:
    """Out of the faces through the thinner of the two parts, and how thick that is there."""
    found = []
    for solid in (one, other):
        if solid is not None and joint.points:
            thick = sum(abs(dot(axis, joint.normal)) * extent for axis, extent in zip(solid.axes, solid.size, strict=True))
            side = dot(subtract(solid.centre, joint.points[0]), joint.normal)
            found.append((thick, scale(joint.normal, -1.0 if side < 0.0 else 1.0)))
    thick, outward = min(found, key=lambda each: each[0], default=(0.0, joint.normal))
    return outward, thick


def _along(first: Vector) -> Axes:
    """A right-handed set whose first axis is a given one."""
    least = min(range(3), key=lambda index: abs(first[index]))
    helper = LEVEL[least]
    second = _unit(subtract(helper, scale(first, dot(helper, first))))
    third = (
        first[1] * second[2] - first[2] * second[1],
        first[2] * second[0] - first[0] * second[2],
        first[0] * second[1] - first[1] * second[0],
    )
    return first, second, third


def _unit(vector: Vector) -> Vector:
    return scale(vector, dot(vector, vector) ** -0.5)
