"""Give of the tool against the work over all poses of a machine at once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Array
from gantrywright.theory.frames.condense import attach, begin
from gantrywright.theory.frames.contacts import Contacts, contacts_of
from gantrywright.theory.frames.frame import PER_NODE, Numbers
from gantrywright.theory.frames.groups import FLOOR, Cut, LooseGroup, cut, piece_of
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.places import places_of
from gantrywright.theory.frames.skeleton import GROUND, Skeleton


@dataclass(frozen=True, slots=True)
class Worst:
    """Where and which way a machine gives most."""

    pose: Mapping[str, float]
    """Place of each axis, m."""
    give: float
    """m/N."""
    direction: tuple[float, float, float]
    """Unit vector in X, Y, Z."""


@dataclass(frozen=True, slots=True)
class StiffnessMap:
    """Give of the tool against the work over a grid of poses."""

    axes: tuple[str, ...]
    """Names, in the order of the grid."""
    places: tuple[Array, ...]
    """Values of each axis, rising, m."""
    give: Array
    """m/N along X, Y, Z and, where asked for, rad/N and rad/(N m) about them; shape (n_a, n_b, n_c, 3 or 6, the same)."""

    def worst(self) -> Worst:
        """The pose and the direction of the largest give of all."""
        values, ways = np.linalg.eigh(self.give[..., :3, :3])
        at = np.unravel_index(int(np.argmax(values[..., -1])), values.shape[:-1])
        way = ways[at][:, -1]
        way = way * np.sign(way[np.argmax(np.abs(way))])
        pose = {axis: float(places[k]) for axis, places, k in zip(self.axes, self.places, at, strict=True)}
        return Worst(pose, float(values[at][-1]), (float(way[0]), float(way[1]), float(way[2])))

    def at(self, pose: Mapping[str, float]) -> Array:
        """Give at a pose, linear between those of the grid and constant beyond it; shape (3 or 6, the same)."""
        give = self.give
        for axis, places in zip(self.axes, self.places, strict=True):
            place = float(np.clip(pose[axis], places[0], places[-1]))
            after = int(np.clip(np.searchsorted(places, place), 1, max(len(places) - 1, 1)))
            if len(places) == 1:
                give = give[0]
                continue
            part = (place - places[after - 1]) / (places[after] - places[after - 1])
            give = (1 - part) * give[after - 1] + part * give[after]
        return give


def poses_grid(skeleton: Skeleton, counts: Mapping[str, int] | Sequence[int]) -> dict[str, Array]:
    """Evenly spaced poses of every axis, both ends of its travel included; the middle alone where one is asked for.

    Args:
        skeleton: With the motions.
        counts: How many, by name of the axis or in the order of the motions.
    """
    named = counts if isinstance(counts, Mapping) else dict(zip((m.axis for m in skeleton.motions), counts, strict=True))
    return {
        motion.axis: np.linspace(0.0, motion.travel, named[motion.axis])
        if named[motion.axis] > 1
        else np.array([motion.travel / 2])
        for motion in skeleton.motions
    }


class SharedPiece(ValueError):
    """Two axes slide along one piece of a bar, which the map over all poses cannot take apart."""


def stiffness_map(skeleton: Skeleton | Mesher, grid: Mapping[str, Array], *, turns: bool = False) -> StiffnessMap:
    """Give of the tool against the work at all poses of a grid, by exact condensation.

    Args:
        skeleton: Typical values; a mesher that has gathered them already saves a tenth of the time.
        grid: Poses of each axis by name, rising, m; an axis left out stands as drawn.
        turns: Whether turns of the tool against the work, and moments, are wanted besides.

    Raises:
        LooseGroup: An axis or a part has a motion that nothing resists.
        SharedPiece: Two axes slide inside the same element.
        ValueError: Values are sampled.
    """
    mesher = skeleton if isinstance(skeleton, Mesher) else Mesher(skeleton)
    motions, count = mesher.skeleton.motions, PER_NODE if turns else PER_NODE // 2
    values = {motion.axis: np.atleast_1d(np.asarray(grid.get(motion.axis, motion.drawn), dtype=float)) for motion in motions}
    whole = cut(mesher)
    contacts = [contacts_of(whole, motion, values[motion.axis]) for motion in motions]
    _not_shared(contacts)
    places = places_of(whole, motions, values)
    touched = [joint.touched for joint in contacts]
    wanted = np.unique(np.concatenate((*touched, places.nodes)))
    group_of = whole.group[whole.node_bar]

    def ports(groups: list[int]) -> Numbers:
        told: Numbers = wanted[np.isin(group_of[wanted], groups)]
        return told

    done = [FLOOR]
    piece = piece_of(whole, done, ports(done))
    below = begin(piece, places.on(whole, piece.ports, count), _later(touched, 0), int(np.prod(places.poses)))
    for number, joint in enumerate(contacts):
        new = _above(whole, joint, done)
        piece = piece_of(whole, new, ports(new))
        loads = places.on(whole, piece.ports, count)
        below = attach(below, piece, joint, loads, places.crossed(whole, joint, number, count), _later(touched, number + 1))
        done += new
    left = set(whole.group.tolist()) - set(done)
    if left:
        raise LooseGroup(whole.parts_of(left), np.zeros(PER_NODE))
    give = below.own.reshape(*places.poses, count, count)
    give = (give + np.swapaxes(give, -1, -2)) / 2
    return StiffnessMap(tuple(motion.axis for motion in motions), tuple(values[motion.axis] for motion in motions), give)


def _later(touched: list[Numbers], number: int) -> Numbers:
    """Nodes that an axis and those after it touch."""
    return np.unique(np.concatenate((np.zeros(0, dtype=np.intp), *touched[number:])))


def _above(whole: Cut, joint: Contacts, done: list[int]) -> list[int]:
    """Groups that an axis puts on those that stand already."""
    sides = np.unique(whole.group[joint.bar[joint.bar != GROUND]])
    new = [int(group) for group in sides if group not in done]
    floor = FLOOR in done and np.any(joint.bar == GROUND)
    if not new or (len(new) == len(sides) and not floor):
        raise LooseGroup(joint.axis, np.zeros(PER_NODE))
    return new


def _not_shared(contacts: list[Contacts]) -> None:
    """Refuse two axes that slide inside the same element: each would see only its own part of what it gives."""
    seen: dict[int, str] = {}
    for joint in contacts:
        for element in np.unique(joint.held.element[joint.held.element >= 0]):
            if seen.setdefault(int(element), joint.axis) != joint.axis:
                raise SharedPiece(f"axes {seen[int(element)]} and {joint.axis} slide along the same piece of a bar")
