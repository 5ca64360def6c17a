"""How far rails and screws let an axis go."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.frame import dot, subtract, unit
from gantrywright.results.ledger import Ledger, Named

SCREWS = ("ball-screw", "lead-screw")


@dataclass(frozen=True, slots=True)
class Room:
    """Rail left beyond the outermost block at both ends of the travel, m; negative: the block has run off."""

    rail: str
    near: float
    """At pose 0."""
    far: float
    """At full travel."""
    first: float
    """From the start of the rail to the middle of the block that comes nearest to it, over all poses, m."""
    last: float
    """From the start of the rail to the middle of the block that goes farthest from it."""
    block: float
    """Length of a block, m."""
    length: float
    """Of the rail, m."""

    @property
    def least(self) -> float:
        """At the end that has less."""
        return min(self.near, self.far)


def block_length(axis: Axis) -> float | None:
    """Longest block of the axis, m; None where one is unknown."""
    lengths = [block.part.length for block in axis.blocks]
    known = [typical(length) for length in lengths if length is not None]
    return max(known) if known and len(known) == len(lengths) else None


def rooms(axis: Axis) -> tuple[Room, ...]:
    """Room on each rail; none where the length of a block is unknown."""
    long = block_length(axis)
    if long is None:
        return ()
    found = []
    for rail in axis.rails:
        places = [dot(subtract(block.centre, rail.start), axis.direction) for block in axis.blocks if block.rail == rail.path]
        if not places:
            continue
        ends = sorted((0.0, dot(subtract(rail.stop, rail.start), axis.direction)))
        # blocks run along standing rails as the pose grows; riding rails run the other way past standing blocks
        way = axis.sign * (-1 if axis.rails_ride else 1)
        moves = sorted((-way * axis.drawn, way * (axis.travel - axis.drawn)))
        first, last = min(places) + moves[0] - ends[0], max(places) + moves[1] - ends[0]
        low, high = first - long / 2, ends[1] - ends[0] - last - long / 2
        near, far = (low, high) if way > 0 else (high, low)
        found.append(Room(rail.path, near, far, first, last, long, ends[1] - ends[0]))
    return tuple(found)


def least_room(axis: Axis, ledger: Ledger) -> None:
    """Write down the room beyond the outermost block on the rail that has least of it, as ``axis.NAME.rail_room``."""
    worst = min(rooms(axis), key=lambda room: room.least, default=None)
    if worst is None or axis.slide:
        return
    ledger.note(
        f"{axis.path}.rail_room", worst.least, unit="m", source="definition",
        formula="less of first - L_block / 2 and L_rail - last - L_block / 2; last - first = block spacing + travel; the stop must fit in",
        title=f"Room left on {worst.rail} beyond the outermost block",
        rail=Named(f"{worst.rail}.length", worst.length), block=Named(f"{axis.path}.blocks.part.length", worst.block),
        spacing=Named(f"{axis.path}.blocks.spacing", axis.block_spacing if axis.blocks_per_rail > 1 else 0.0),
        travel=Named(f"{axis.path}.travel", axis.travel),
        first=Named("", worst.first, "m", "from the start of the rail to the middle of the block that comes nearest to it"),
        last=Named("", worst.last, "m", "from the start of the rail to the middle of the block that goes farthest from it"),
        stop=Named(f"{axis.path}.stops", axis.stops),
    )  # fmt: skip


def travel_by_rails(axis: Axis, ledger: Ledger) -> float | None:
    """Travel that the shortest rail allows, m."""
    long = block_length(axis)
    if long is None or not axis.rails or axis.slide:
        return None
    shortest = min(axis.rails, key=lambda rail: rail.length)
    row = axis.block_spacing if axis.blocks_per_rail > 1 else 0.0
    return ledger.note(
        f"{axis.path}.travel_by_rails", shortest.length - row - long - 2 * axis.stops, unit="m",
        formula="L_rail - block spacing - block length - 2 stops", source="definition", title="Travel that the rails allow",
        rail=Named(f"{shortest.path}.length", shortest.length), spacing=Named(f"{axis.path}.blocks.spacing", row), block=Named(f"{axis.path}.blocks.part.length", long),
        stops=Named(f"{axis.path}.stops", axis.stops),
    )  # fmt: skip


def travel_by_screw(axis: Axis, ledger: Ledger) -> tuple[float | None, str, str]:
    """Travel that the shortest screw allows, m, the path of its drive, and what is not known of it."""
    found: list[tuple[float, DriveFit]] = []
    for fit in axis.drives:
        if fit.drive.kind not in SCREWS:
            continue
        nut = fit.drive.parts.nut
        if nut is None or nut.length is None:
            return None, fit.path, f"length of the nut: {fit.path}.nut.length"
        long = typical(nut.length)
        allowed = ledger.note(
            f"{fit.path}.travel", fit.free_length - long - 2 * axis.stops, unit="m", formula="L_free - nut - 2 stops",
            source="definition", title="Travel that the screw allows", free_length=Named(f"{fit.path}.length", fit.free_length), nut=Named(f"{fit.path}.nut.length", long),
            stops=Named(f"{axis.path}.stops", axis.stops),
        )  # fmt: skip
        found.append((allowed, fit))
    if not found:
        return None, "", ""
    least, fit = min(found, key=lambda each: each[0])
    return least, fit.path, ""


def grip_rooms(axis: Axis) -> tuple[tuple[str, float, float], ...]:
    """Of each screw, rack and belt: room between the grip and both ends of the long piece at the ends of the travel, m.

    The grip is a nut, pinion or clamp; what it needs itself is not taken off.
    """
    found = []
    for fit in axis.drives:
        start, stop = fit.line
        if np.allclose(start, stop):
            continue
        along = unit(subtract(stop, start))
        place = dot(subtract(fit.grip, start), along)
        way = axis.sign * dot(axis.direction, along) * (1 if fit.grips == axis.moving else -1)
        moves = sorted((-way * axis.drawn, way * (axis.travel - axis.drawn)))
        found.append((fit.path, place + moves[0], fit.free_length - place - moves[1]))
    return tuple(found)
