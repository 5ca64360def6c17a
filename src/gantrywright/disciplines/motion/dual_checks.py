"""MOT-3xx: two motors on one gantry."""

from collections.abc import Iterator

from gantrywright.base.quantities.proposing import beside, propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import least, typical
from gantrywright.base.units import Newton, Real
from gantrywright.disciplines.motion.loads import drive_distance, motor_drives, yaw_stiffness
from gantrywright.findings import Change, Verdict, ceiling, check, holds, unknown
from gantrywright.model.axis import Axis
from gantrywright.model.frame import dot
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.theory.gantry_drives import block_force_of_yaw, racking_moment, slip, stall_moment

RACKED = 0.5
"""Part of the static rating from which on racking is to be watched; common practice, no source."""
FARTHEST = 6.0
"""Blocks are not put so many times farther apart."""
RACKING_SHARE = 0.5
"""Part of the accuracy wanted that the two sides may stand apart; common practice, no source."""


def _dual(machine: Machine) -> Iterator[Axis]:
    """Axes whose two motors pull at two sides."""
    for axis in machine.axes:
        if len(motor_drives(axis)) == 2 and drive_distance(axis) > 1e-3:
            yield axis


def _spread_of_blocks(axis: Axis) -> tuple[float, float]:
    """Sum of the squared distances of the blocks from their middle along the rails, and the greatest distance."""
    places = [dot(block.centre, axis.direction) for block in axis.blocks]
    middle = sum(places) / max(len(places), 1)
    return sum((place - middle) ** 2 for place in places), max((abs(place - middle) for place in places), default=0.0)


def _bears(axis: Axis) -> Newton | None:
    """Static rating of the weakest block."""
    ratings = [block.part.static.force * block.use.remaining if block.part.static else None for block in axis.blocks]
    known = [rating for rating in ratings if rating is not None]
    return least(*known) if known and len(known) == len(ratings) else None


def _block_force(axis: Axis, moment: Real) -> Real:
    squares, farthest = _spread_of_blocks(axis)
    return block_force_of_yaw(moment=moment, farthest=farthest, sum_of_squares=squares)


@check(
    "MOT-301", title="Blocks bear the racking of a gantry whose one motor has stalled",
    why="The running side goes on until it stalls too and wrenches the blocks: dents in the raceways, a gantry out of square.",
    source="derived", remedy="Blocks farther apart along the rails, less driver current, a closed loop that stops both.",
)  # fmt: skip
def stalled_side(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Side force on the farthest block against its static rating; the frame is taken as rigid."""
    for axis in _dual(machine):
        thrust, rating = results.motion.axes[axis.name].stall_force, _bears(axis)
        if thrust is None or rating is None or not axis.blocks:
            yield unknown(
                axis.path,
                missing=results.motion.axes[axis.name].missing or f"static rating of the blocks: {axis.path}.blocks.part.static",
                unit="N",
            )
            continue
        distance = drive_distance(axis)
        moment = stall_moment(thrust=thrust, distance=distance)
        yield ceiling(
            axis.path, value=_block_force(axis, moment), limit=rating, unit="N", what="block force", watch=1 - RACKED, figure=f"{axis.path}.stall_force",
            note=f"up to {show(typical(moment), 'N m', machine.show)} about the guide's normal, drives {show(distance, 'm', machine.show)} apart; over half of the static rating is to be watched",
            changes=_apart(machine, axis, typical(_block_force(axis, moment)) / typical(rating)),
        )  # fmt: skip


def _apart(machine: Machine, axis: Axis, times: float) -> tuple[Change, ...]:
    """Blocks of a rail farther apart: the force of a moment goes down with their distance."""
    if axis.slide or axis.blocks_per_rail < 2 or not RACKED < times <= FARTHEST * RACKED:
        return ()
    new = propose(axis.block_spacing * times / RACKED, "length", machine.show, "up")
    old = beside(axis.block_spacing, new, "length", machine.show)
    return (Change(f"blocks {new} apart instead of {old}", ((f"{axis.path}.blocks.spacing", new),)),)


@check(
    "MOT-302", title="Both sides of the gantry are squared anew after power-up",
    why="When drivers are switched on each rotor jumps to the start phase of its own driver, up to two full steps either way: the sides may"
    " stand apart by four full steps, and every cut is out of square.",
    source="derived", remedy="A home switch for each drive.",
)  # fmt: skip
def power_up(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Unless each drive homes: the most that the sides can stand apart, against half the wanted accuracy."""
    for axis in _dual(machine):
        steppers = [
            drive for drive in motor_drives(axis) if drive.motor is not None and drive.motor.part.type in ("stepper", "closed-loop")
        ]
        if not steppers:
            continue
        if axis.home is not None and axis.home.each_drive:
            yield holds(axis.path, true=True, note="each drive finds its own home")
            continue
        poles = steppers[0].motor.part.pole_pairs if steppers[0].motor else None
        if poles is None or machine.purpose.accuracy is None:
            yield unknown(axis.path, missing="purpose.accuracy" if poles else f"{steppers[0].path}.motor.pole_pairs", unit="m")
            continue
        travel = results.drives.drives[steppers[0].path].travel_per_radian * 2 * 3.141592653589793
        apart = slip(travel_per_motor_turn=travel, pole_pairs=poles)
        moment = racking_moment(offset=apart, distance=drive_distance(axis), yaw_stiffness=yaw_stiffness(axis))
        yield ceiling(
            axis.path, value=apart, limit=RACKING_SHARE * machine.purpose.accuracy, unit="m", what="sides apart",
            note=f"were frame and screws rigid, that would wrench the guide with {show(typical(moment), 'N m', machine.show)}",
            changes=(Change("a home switch for each drive", ((f"{axis.path}.home.each_drive", "true"),)),) if axis.home else (),
        )  # fmt: skip
