"""Loads on the blocks of one axis at chosen poses, load by load, before anything is added up.

Everything is linear: a load on the moving body times the response of its blocks. And it is affine in the pose, so that the greatest
magnitudes stand at the corners of the travels.
"""

from dataclasses import dataclass
from itertools import product

import numpy as np

from gantrywright.base.units import GRAVITY, Array, NewtonPerMetre
from gantrywright.model.axis import Axis
from gantrywright.model.frame import Vector, cross, dot, subtract
from gantrywright.model.machine import Machine, movements
from gantrywright.results.masses import MassResult
from gantrywright.theory.carriage import Spring, response

USUAL_DRIVE_STIFFNESS = 40e6
"""Of one drive along its axis where it is not known yet, N/m: common practice, no source."""


@dataclass(frozen=True, slots=True)
class BlockLoads:
    """Components of the load on each block, N and N m: normal, lateral, roll, pitch, yaw.

    Shape (s, n_poses, n_blocks, k): s is the samples, or 1; k is 5, or 2 where no block must bear moments by itself.
    """

    weight: Array
    per_accel: tuple[tuple[str, Array], ...]
    """Of each axis that jerks these blocks when it accelerates: its name and the load per m/s2."""
    in_plane: Array
    """Per newton of the cutter across the spindle, in two directions, shape (2, s, n_poses, n_blocks, k)."""
    along_spindle: Array
    """Per newton of the cutter along the spindle."""

    def at(self, poses: Array) -> "BlockLoads":
        """Loads at other poses, from those at the drawn pose and at one metre along each axis, as `block_loads` gives them.

        Args:
            poses: Against the drawn pose, m, shape (n_poses, n_axes).
        """
        shares = np.concatenate((1 - poses.sum(axis=1, keepdims=True), poses), axis=1)

        def moved(loads: Array) -> Array:
            flat = loads.reshape(*loads.shape[:-2], -1)
            return np.asarray(shares @ flat).reshape(*loads.shape[:-3], len(poses), *loads.shape[-2:])

        per_accel = tuple((name, moved(load)) for name, load in self.per_accel)
        return BlockLoads(moved(self.weight), per_accel, moved(self.in_plane), moved(self.along_spindle))


def corners(machine: Machine) -> Array:
    """Every combination of the ends of all travels, shape (n_poses, n_axes), against the drawn pose, m."""
    return np.array(list(product(*((-axis.drawn, axis.travel - axis.drawn) for axis in machine.axes))))


def inner(machine: Machine) -> Array:
    """Two places of each axis whose mean is that over all poses, exact for the cube of a load that keeps its sign (Gauss).

    Shape (n_poses, n_axes), all of the same weight.
    """
    pairs = ([axis.travel * (0.5 + side / 12**0.5) - axis.drawn for side in (-1, 1)] for axis in machine.axes)
    return np.array(list(product(*pairs)))


def middle(machine: Machine) -> Array:
    """All axes half way, shape (1, n_axes)."""
    return np.array([[axis.travel / 2 - axis.drawn for axis in machine.axes]])


def alone(axis: Axis) -> bool:
    """Whether a block must bear moments by itself: one block on its rail, or one rail."""
    return axis.blocks_per_rail < 2 or len({block.rail for block in axis.blocks}) < 2


def block_loads(machine: Machine, axis: Axis, masses: MassResult, drive_stiffness: NewtonPerMetre | None) -> BlockLoads:
    """Loads on the blocks of an axis at the drawn pose and at one metre along each axis of the machine from there.

    Args:
        machine: Typical or sampled.
        axis: With at least one block.
        masses: Of the bodies.
        drive_stiffness: Of one of its drives along the axis; None takes `USUAL_DRIVE_STIFFNESS`.
    """
    centre = np.asarray(np.mean([block.centre for block in axis.blocks], axis=0))
    matrix = _answers(axis, centre, USUAL_DRIVE_STIFFNESS if drive_stiffness is None else drive_stiffness)
    poses = np.vstack((np.zeros(len(machine.axes)), np.eye(len(machine.axes))))
    shifted = {name: poses @ np.array(steps) for name, steps in movements(machine).items()}
    frame = shifted[axis.carrier if axis.rails_ride else axis.moving]
    hung = machine.above(axis.moving)
    jerked = [other for other in machine.axes if other.moving in hung]
    lever, directions, sign = _cut(machine, hung, centre, shifted, frame)
    pushes = [_Push(hung, (0.0, 0.0, -GRAVITY)), *(_Push(machine.above(other.moving), other.direction) for other in jerked)]
    wrenches = [_pushed(push, masses, centre, shifted, frame) for push in pushes]
    wrenches += [sign * _wrench(lever, direction)[None] for direction in directions]
    samples = max(len(wrench) for wrench in wrenches)
    together = np.concatenate([np.broadcast_to(wrench, (samples, *wrench.shape[1:])) for wrench in wrenches], axis=1)
    answers = (together @ matrix.reshape(len(matrix), -1, 6).swapaxes(1, 2)).reshape(
        -1, len(wrenches), len(poses), *matrix.shape[1:3]
    )
    weight, *others = (answers[:, i] for i in range(len(wrenches)))
    names = [other.name for other in jerked]
    return BlockLoads(
        weight=weight,
        per_accel=tuple(zip(names, others, strict=False)),
        in_plane=np.stack(others[-3:-1]),
        along_spindle=others[-1],
    )


@dataclass(frozen=True, slots=True)
class _Push:
    """Every kilogram of some bodies is pushed by so many newtons."""

    names: frozenset[str]
    per_kilogram: Vector


def _pushed(push: _Push, masses: MassResult, centre: Array, shifted: dict[str, Array], frame: Array) -> Array:
    """Force and moment about the middle of the blocks, shape (s, n_poses, 6)."""
    total, first = np.zeros(1), np.zeros((1, *frame.shape))
    for name in sorted(push.names):
        body = masses.bodies[name]
        mass = np.atleast_1d(np.asarray(body.mass, dtype=float))
        drawn = np.stack(np.broadcast_arrays(*(np.atleast_1d(c) for c in body.centre)), axis=-1) - centre
        first = first + mass[:, None, None] * (drawn[:, None, :] + shifted[name] - frame)
        total = total + mass
    torque = np.cross(first, np.array(push.per_kilogram))
    force = np.broadcast_to(total[:, None, None] * np.array(push.per_kilogram), torque.shape)
    return np.concatenate((force, torque), axis=-1)


def _answers(axis: Axis, centre: Array, drive_stiffness: NewtonPerMetre) -> Array:
    """Components of each block per unit of each load on the moving body, shape (s, n_blocks, k, 6)."""
    springs: list[Spring] = []
    for block in axis.blocks:
        at = subtract(block.centre, _tuple(centre))
        lateral = cross(block.normal, axis.direction)
        springs += [
            Spring(at, block.normal, block.normal_stiffness),
            Spring(at, lateral, block.lateral_stiffness),
            Spring(at, axis.direction, block.roll_stiffness, turns=True),
            Spring(at, lateral, block.pitch_stiffness, turns=True),
            Spring(at, block.normal, block.yaw_stiffness, turns=True),
        ]
    grips = [subtract(drive.grip, _tuple(centre)) for drive in axis.drives] or [(0.0, 0.0, 0.0)]
    for grip in grips:
        # the line of action passes through the middle of the guide at every pose
        along = dot(grip, axis.direction)
        springs.append(Spring(subtract(grip, _times(axis.direction, along)), axis.direction, drive_stiffness))
    matrix = response(springs)[..., : 5 * len(axis.blocks), :].reshape(-1, len(axis.blocks), 5, 6)
    return matrix if alone(axis) else matrix[:, :, :2]


def _cut(
    machine: Machine, hung: frozenset[str], centre: Array, shifted: dict[str, Array], frame: Array
) -> tuple[Array, tuple[Vector, Vector, Vector], float]:
    """Where the cutter pushes at each pose, in which three directions, and with which sign; 0 where this axis does not feel it."""
    spindle = machine.spindle
    tip = machine.tool.tip if machine.tool else spindle.nose if spindle else None
    down: Vector = (0.0, 0.0, -1.0) if spindle is None else spindle.direction
    first = cross(down, (1.0, 0.0, 0.0)) if abs(down[0]) < 0.9 else cross(down, (0.0, 1.0, 0.0))
    length = dot(first, first) ** 0.5
    first = _times(first, 1 / length)
    directions = (cross(first, down), first, down)
    if tip is None:
        return np.zeros((len(frame), 3)), directions, 0.0
    sign = 1.0 if machine.tool_body in hung else -1.0 if machine.work_body in hung else 0.0
    return np.array(tip) - centre + shifted[machine.tool_body] - frame, directions, sign


def _wrench(lever: Array, direction: Vector) -> Array:
    return np.concatenate((np.broadcast_to(np.array(direction), lever.shape), np.cross(lever, np.array(direction))), axis=-1)


def _times(vector: Vector, factor: float) -> Vector:
    return (vector[0] * factor, vector[1] * factor, vector[2] * factor)


def _tuple(values: Array) -> Vector:
    return (float(values[0]), float(values[1]), float(values[2]))
