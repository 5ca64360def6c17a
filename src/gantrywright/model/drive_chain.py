"""The whole row of springs of a placed drive, at any pose of its axis: motor, stage, and the drive's own links."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Metre, NewtonMetre, NewtonPerMetre, Number, Real
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.drives.defaults import stage_stiffness_band
from gantrywright.model.drives.series import Given, Link, Spring, in_a_row, torsional
from gantrywright.model.frame import dot, length, subtract
from gantrywright.model.motors import Missing, motor_of
from gantrywright.theory.load_angle import linear_stiffness

CLEAR = 1e-3
"""A grip stays this far from bearings and pulleys, m, so that a length of nothing never divides."""
TURN = 2 * np.pi


@dataclass(frozen=True, slots=True)
class DriveChain:
    """All springs of one drive, made once, asked at any pose."""

    path: str
    """Of the drive."""
    springs: tuple[Spring, ...]
    """Motor first, then stage, then the drive's own; those that are unknown too."""
    missing: tuple[str, ...]
    """What must be known of each unknown spring, in words; `links` and `along` leave those springs out, as if they did not give."""
    at_zero: float
    """Distance of the grip from the motor end at pose 0, m."""
    way: float
    """Change of that distance per metre of pose: -1, 0 or 1 for a line along its axis."""
    free_length: float

    def distance(self, pose: Metre) -> Metre:
        """Of the grip from the motor end.

        Args:
            pose: Of the axis, from 0 to its travel; a float or an array, whose shape the answer has.
        """
        return np.clip(self.at_zero + self.way * pose, CLEAR, self.free_length - CLEAR)

    def series(self, pose: Metre) -> tuple[Link, ...]:
        """Every link at a pose, unknown ones with None.

        Args:
            pose: A float or an array of poses (last axis); shapes as in `Drive.series`.
        """
        distance = self.distance(pose)
        return tuple(spring.at(distance) for spring in self.springs)

    def links(self, pose: Metre) -> dict[str, NewtonPerMetre]:
        """Stiffness of every known link by the path of its figure; infinite for a motor whose loop holds the shaft."""
        return {link.path: link.stiffness for link in self.series(pose) if link.stiffness is not None}

    def along(self, pose: Metre) -> NewtonPerMetre:
        """Stiffness of all known links in series."""
        known = [link for link in self.series(pose) if link.stiffness is not None]
        stiffness = in_a_row(known, pose)
        return np.inf if stiffness is None else stiffness


def drive_chain(axis: Axis, fit: DriveFit, torque: NewtonMetre = 0.0) -> DriveChain:
    """The springs of a drive from its motor to its grip.

    A drive that another one turns has that one's motor. A motor that turns several drives gives each of them its equal part of the
    magnetic spring: right for a push along the axis, too soft for a twist, which such a motor does not feel; where it turns two, the
    structure takes the whole spring between both.

    Args:
        axis: That it belongs to.
        fit: The drive, placed.
        torque: At the motor shaft, which the magnetic spring is taken under.
    """
    motor, lacking = _motor_spring(axis, fit, torque)
    springs = (motor, *_stage_spring(fit), *fit.drive.springs())
    missing: tuple[str, ...] = (lacking,) if lacking else ()
    missing += tuple(_lacking(spring) for spring in springs[1:] if not spring.known)
    at_zero, way = _reach(axis, fit)
    return DriveChain(fit.path, springs, missing, at_zero, way, fit.free_length)


def drive_links(axis: Axis, fit: DriveFit, pose: Metre) -> dict[str, NewtonPerMetre]:
    """Stiffness of every known link of a drive at a pose, by the path of its figure; see `DriveChain.links`."""
    return drive_chain(axis, fit).links(pose)


def grip_distance(axis: Axis, fit: DriveFit, pose: Metre) -> Metre:
    """Of nut, pinion or clamp from the motor end at a pose of the axis, m."""
    at_zero, way = _reach(axis, fit)
    return at_zero + way * pose


def turned_by(axis: Axis, fit: DriveFit) -> DriveFit:
    """The drive whose motor turns a drive: itself, unless another one is named."""
    named = (other for other in axis.drives if fit.driven_by in (other.path, other.path.rpartition(".")[2]))
    return next(named, fit) if fit.driven_by else fit


def stage_spring(fit: DriveFit) -> Spring | None:
    """Belt stage or gearbox of a drive; None where the motor turns it directly."""
    return next(iter(_stage_spring(fit)), None)


def _stage_spring(fit: DriveFit) -> tuple[Spring, ...]:
    stage = fit.reduction
    if stage.kind == "direct":
        return ()
    given: Given = (f"{fit.path}.reduction.stiffness", stage.stiffness)
    if stage.stiffness is None:
        given = ("", stage_stiffness_band(stage.kind).typical, "usual of such a stage; common practice, no source")
    return (torsional(fit.path, "stage", f"{fit.path}.reduction", given, fit.drive.travel_per_turn),)


def _motor_spring(axis: Axis, fit: DriveFit, torque: NewtonMetre) -> tuple[Spring, str]:
    """The magnetic spring along the axis, and what is missing for it."""
    master = turned_by(axis, fit)
    motor, lacking = motor_of(master), ""
    spring: Real | None = None
    if isinstance(motor, Missing):
        lacking = motor.what
    else:
        spring = motor.stiffness(torque)
        spring = np.inf if spring is None else spring / _turned(axis, master)
    radius: Number = master.drive.travel_per_turn / (TURN * master.reduction.ratio)
    inputs: dict[str, Given] = {
        "stiffness": ("", spring, f"magnetic spring of {master.path}.motor"),
        "travel_per_radian": (f"{master.path}.travel_per_radian", radius),
    }
    return Spring(fit.path, "motor", f"{master.path}.motor", inputs, linear_stiffness), lacking


def _turned(axis: Axis, master: DriveFit) -> int:
    """How many drives a motor turns."""
    return sum(turned_by(axis, fit).path == master.path for fit in axis.drives)


def _lacking(spring: Spring) -> str:
    return ", ".join(given[0] or spring.part for given in spring.inputs.values() if given[1] is None)


def _reach(axis: Axis, fit: DriveFit) -> tuple[float, float]:
    """Distance of the grip from the motor end at pose 0, and its change per metre of pose."""
    first, last = fit.line
    motor, other = (first, last) if fit.motor_end_first else (last, first)
    run = subtract(other, motor)
    drawn = dot(subtract(fit.grip, motor), run) / length(run)
    sense = axis.sign if fit.holds == axis.carrier else -axis.sign
    way = sense * dot(run, axis.direction) / length(run)
    return drawn - way * axis.drawn, way
