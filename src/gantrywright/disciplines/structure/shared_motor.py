"""One motor that turns two drives of an axis: its magnetic spring resists their mean and does not feel a twist of what they carry.

As a linkage of two bars that do not give: one lies from grip to grip and moves with them; the other may shift along the axis against
the first by the turn of the shaft, which the magnetic spring holds, and not tilt against it; it is what both drives pull at.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Real
from gantrywright.disciplines.structure.carriers import Carriers
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drive_chain import drive_chain, turned_by
from gantrywright.model.frame import Vector, cross, dot, length, middle, scale, subtract, unit
from gantrywright.theory.frames.skeleton import Anchor, Bar, Tie

RIGID = 3e10
"""Of the linkage, N/m, N m/rad, N and N m2: some hundred times what a drive holds with; more would cost digits."""
APART = 0.05
"""Two drives nearer to one line than this have no twist between them, m."""


@dataclass(frozen=True, slots=True)
class SharedMotor:
    """The linkage between two drives."""

    drives: tuple[str, ...]
    """Paths of the two."""
    shaft: int
    """Number of the bar that they pull at."""
    bars: tuple[Bar, ...]
    ties: tuple[Tie, ...]

    def pulled(self, fit: DriveFit) -> Anchor | None:
        """What a drive pulls at; None for a drive of another motor."""
        return Anchor(self.shaft, fit.grip) if fit.path in self.drives else None


def shared_motor(axis: Axis, carriers: Carriers, number: int, loss: Real) -> SharedMotor | None:
    """The linkage of the two drives of an axis that one open-loop motor turns; None where there is no such pair.

    Args:
        axis: With its drives.
        carriers: Bars of the machine.
        number: Of the next bar of the skeleton.
        loss: Loss factor of the magnetic spring.
    """
    pairs = [[fit for fit in axis.drives if turned_by(axis, fit).path == master.path] for master in axis.drives]
    pair = next((fits for fits in pairs if len(fits) == 2 and fits[0].grips == fits[1].grips), None)
    spring = None if pair is None else _magnetic(axis, pair[0])
    if pair is None or spring is None:
        return None
    first, second = (fit.grip for fit in pair)
    between = subtract(second, first)
    across = subtract(between, scale(axis.direction, dot(between, axis.direction)))
    anchors = [carriers.nearest(fit.grips, fit.grip) for fit in pair]
    if length(across) < APART or anchors[0] is None or anchors[1] is None:
        return None
    part, body = f"{turned_by(axis, pair[0]).path}.motor", pair[0].grips
    lying, shaft, half = number, number + 1, middle(first, second)
    plane = (axis.direction, unit(across), cross(axis.direction, unit(across)))
    # the two grips alone turn it in the plane of both; every other way the first one holds it, and nothing presses that way
    held = (
        (anchors[0], Anchor(lying, first), (RIGID, RIGID, RIGID, RIGID, RIGID, 0.0), part),
        (anchors[1], Anchor(lying, second), (RIGID, 0.0, 0.0, 0.0, 0.0, 0.0), part),
        (Anchor(lying, half), Anchor(shaft, half), (spring, RIGID, RIGID, RIGID, RIGID, RIGID), f"{part}_stiffness"),
    )
    ties = tuple(
        Tie(part=path, kind="drive", a=a, b=b, axes=plane, stiffness=stiffness, loss=loss) for a, b, stiffness, path in held
    )
    return SharedMotor((pair[0].path, pair[1].path), shaft, (_stiff(part, body, first, second, axis.direction),) * 2, ties)


def _magnetic(axis: Axis, fit: DriveFit) -> Real | None:
    """The whole magnetic spring along the axis; None where it is unknown or where a loop holds the shaft."""
    chain = drive_chain(axis, fit)
    half = chain.springs[0].stiffness(0.0)
    return None if chain.missing or half is None or np.any(np.isinf(half)) else 2 * half


def _stiff(part: str, body: str, start: Vector, stop: Vector, height: Vector) -> Bar:
    return Bar(part=part, body=body, start=start, stop=stop, height_axis=height, axial=RIGID, torsion=RIGID, bend_height=RIGID,
               bend_width=RIGID, kind="drive")  # fmt: skip
