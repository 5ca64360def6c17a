"""How the structure moves under each load, for those who draw it."""

from gantrywright.disciplines.structure.loads import LoadCases
from gantrywright.results.structure import LETTERS, Drawing, Shape
from gantrywright.theory.frames.frame import PER_NODE
from gantrywright.theory.frames.skeleton import Skeleton


def drawing(skeleton: Skeleton, pose: dict[str, float], cases: LoadCases) -> Drawing:
    """Nodes, lines and the shift of every node under one newton between tool and work, the weight, and each axis at 1 m/s2.

    Args:
        skeleton: Of a machine with typical values.
        pose: That the cases were solved at.
        cases: Solved.
    """
    mesh = cases.here.mesh
    parts = [skeleton.bars[number].part for number in mesh.element_bar]
    lines = tuple((int(a), int(b), part) for (a, b), part in zip(mesh.frame.bars.ends, parts, strict=True))
    motions = cases.motions.whole().reshape(-1, PER_NODE, cases.motions.cases)
    names = [(f"1 N on the tool along {letter.upper()}", k) for k, letter in enumerate(LETTERS)]
    names.append(("weight", cases.weight))
    names += [(f"axis.{name} accelerating at 1 m/s2", cases.accel(name)) for name in cases.axes]
    shapes = tuple(Shape(name, motions[:, :3, column], motions[:, 3:, column]) for name, column in names)
    return Drawing(pose, mesh.frame.nodes, lines, shapes)
