"""Where motors sit and how big they are."""

from dataclasses import dataclass

from gantrywright.catalog import kinds
from gantrywright.intake.placing.lines import Line, Placed
from gantrywright.intake.placing.usual import flange
from gantrywright.intake.tree import Branch
from gantrywright.model.frame import Vector, add, along, cross, dot, scale, subtract, unit

BEYOND = 0.05
"""From the end of the free length to the motor's face: bearing and coupling, m; common practice, no source."""
LONG = 0.08
"""Length of a motor whose row does not say it, m; common practice, no source."""


@dataclass(frozen=True, slots=True)
class MotorPlace:
    """A motor in the measures of the body that carries it."""

    body: str
    at: Vector
    axis: Vector
    """Of its shaft."""


def motor_place(branch: Branch, line: Line, guide: Placed, motor: kinds.Motor | None, *, rides: bool) -> MotorPlace:
    """Middle of the motor's body.

    Args:
        branch: Table of the drive.
        line: Its line.
        guide: Of its axis.
        motor: Its row.
        rides: The motor sits at the grip.
    """
    long = body_length(motor)
    reduction = branch.sub("reduction")
    aside: Vector = (reduction.get("offset") or (0.0, 0.0, 0.0)) if reduction is not None else (0.0, 0.0, 0.0)
    t = guide.motion.t
    if not rides and str(branch.get("kind")) == "belt":  # the shaft is square to the belt; to which side is not said
        end = line.start if line.motor_first else line.stop
        return MotorPlace(line.holds, add(end, aside), guide.rails[0].normal)
    if not rides:
        end, other = (line.start, line.stop) if line.motor_first else (line.stop, line.start)
        outward = unit(subtract(end, other))
        if dot(aside, aside) > 0:  # folded back beside the screw
            return MotorPlace(line.holds, along(add(end, aside), outward, BEYOND - long / 2), outward)
        return MotorPlace(line.holds, along(end, outward, BEYOND + long / 2), outward)
    if branch.get("turns") == "nut":
        return MotorPlace(line.grips, along(add(line.grip, aside), t, BEYOND + long / 2), t)
    out = guide.rails[0].normal if not guide.rails_ride else scale(guide.rails[0].normal, -1.0)
    return MotorPlace(line.grips, along(add(line.grip, aside), out, BEYOND + long / 2), out)


def body_length(motor: kinds.Motor | None) -> float:
    """Length of a motor's body, m."""
    return LONG if motor is None or motor.length is None else float(motor.length)


def body_size(motor: kinds.Motor | None) -> Vector:
    """Along the shaft, and the two sides of the flange, m."""
    side = flange(motor) / 1e3
    return (body_length(motor), side, side)


def frame_of(axis: Vector) -> tuple[Vector, Vector, Vector]:
    """Three axes of a box whose first runs along a shaft."""
    helper: Vector = (0.0, 0.0, 1.0) if abs(axis[2]) < 0.9 else (0.0, 1.0, 0.0)
    second = unit(subtract(helper, scale(axis, dot(helper, axis))))
    return axis, second, cross(axis, second)
