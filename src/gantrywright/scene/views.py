"""From where a machine is looked at: parallel views."""

from dataclasses import dataclass
from math import sqrt

from gantrywright.model.frame import Vector, cross, unit


@dataclass(frozen=True, slots=True)
class View:
    """A direction of sight."""

    name: str
    words: str
    toward: Vector
    """From the machine to the eye, of length 1."""
    right: Vector
    """What runs to the right on the paper, of length 1."""

    @property
    def up(self) -> Vector:
        """What runs upwards on the paper."""
        return cross(self.toward, self.right)


def _from_corner(x: float, y: float) -> tuple[Vector, Vector]:
    return unit((x, y, 1.0)), unit((-y / sqrt(2), x / sqrt(2), 0.0))


VIEWS: dict[str, View] = {
    view.name: view
    for view in (
        View("front", "from the front", (0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
        View("side", "from the right", (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
        View("top", "from above", (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
        View("back", "from behind", (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0)),
        View("left", "from the left", (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0)),
        View("isometric", "from the front right corner above", *_from_corner(1.0, -1.0)),
        View("isometric-left", "from the front left corner above", *_from_corner(-1.0, -1.0)),
        View("isometric-back", "from the back right corner above", *_from_corner(1.0, 1.0)),
    )
}
"""Standard views by name."""
