"""How two drives of one axis share mass and cutting force as the other axes move."""

from dataclasses import dataclass

from gantrywright.base.units import Metre, Number, Real
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.frame import Vector, dot, length, middle, scale, subtract
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.masses import MassResult
from gantrywright.theory.drive_demand import worst_share

APART = "between both drives"


@dataclass(frozen=True, slots=True)
class Share:
    """What one drive bears where that is worst."""

    mass: Number
    force: Number


def shares(machine: Machine, masses: MassResult, axis: Axis, ledger: Ledger) -> dict[str, Share]:
    """Worst shares of every drive of an axis, by path.

    Two drives: rule of the lever over all poses of the other axes. Another number than two: equal parts.
    """
    if len(axis.drives) != 2:
        return {fit.path: Share(1 / len(axis.drives), 1 / len(axis.drives)) for fit in axis.drives}
    first, second = axis.drives
    apart = _across(subtract(second.grip, first.grip), axis.direction)
    distance = length(apart)
    if distance < 1e-6:
        return {fit.path: Share(0.5, 0.5) for fit in axis.drives}
    towards = scale(apart, 1 / distance)
    centre = middle(first.grip, second.grip)
    return {
        fit.path: _share(machine, masses, axis, fit, centre, scale(towards, sign), distance, ledger)
        for fit, sign in ((first, -1.0), (second, 1.0))
    }


def _share(
    machine: Machine, masses: MassResult, axis: Axis, fit: DriveFit, centre: Vector, towards: Vector, distance: float, ledger: Ledger
) -> Share:  # fmt: skip
    mass = ledger.figure(
        f"{fit.path}.mass_share",
        worst_share,
        distance=Named("", distance, note=APART),
        farthest=Named(
            "", _farthest_mass(machine, masses, axis, centre, towards), note="moving centre of mass off the middle of both drives"
        ),
    )
    force = ledger.figure(
        f"{fit.path}.force_share",
        worst_share,
        distance=Named("", distance, note=APART),
        farthest=Named("", _farthest_force(machine, axis, centre, towards), note="tool off the middle of both drives"),
    )
    return Share(mass, force)


def _farthest_mass(machine: Machine, masses: MassResult, axis: Axis, centre: Vector, towards: Vector) -> Metre:
    """Farthest place of the moving centre of mass over all poses of the axes that ride on this one."""
    moving = masses.axes[axis.name]
    place: Real = sum((moving.centre[i] - centre[i]) * towards[i] for i in range(3))
    riding = machine.above(axis.moving)
    for other in machine.axes:
        if other.name != axis.name and other.moving in riding:
            place = place + _farthest_shift(other, towards) * masses.axes[other.name].mass / moving.mass
    return place


def _farthest_force(machine: Machine, axis: Axis, centre: Vector, towards: Vector) -> Metre:
    """Farthest place of the tool over all poses of the other axes."""
    if machine.tool is not None:
        tip = machine.tool.tip
    elif machine.spindle is not None:
        tip = machine.spindle.nose
    else:
        tip = middle(machine.reach.least, machine.reach.most)
    others = (other for other in machine.axes if other.name != axis.name and other.sign > 0)
    return dot(subtract(tip, centre), towards) + sum(_farthest_shift(other, towards) for other in others)


def _farthest_shift(other: Axis, towards: Vector) -> float:
    along = other.sign * dot(other.direction, towards)
    return max(along * (0.0 - other.drawn), along * (other.travel - other.drawn))


def _across(vector: Vector, direction: Vector) -> Vector:
    return subtract(vector, scale(direction, dot(vector, direction)))
