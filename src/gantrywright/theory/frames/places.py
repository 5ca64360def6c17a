"""Loads between tool and work at every pose: on the tip, and turned round on the place of the work under it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.units import Array
from gantrywright.theory.frames.condense import Loads
from gantrywright.theory.frames.contacts import Contacts, Held, at_nodes, inside, local_give
from gantrywright.theory.frames.frame import PER_NODE, Numbers
from gantrywright.theory.frames.groups import Cut, freedoms
from gantrywright.theory.frames.skeleton import Motion, no_give


@dataclass(frozen=True, slots=True)
class Places:
    """Tip, and the bars of the work under it, over all poses: axes of the grid lead, of length 1 where a pose does not matter."""

    tip: Held
    """Shape (1,)."""
    work: Held
    """Shape (..., 1 or 2)."""
    weight: Array
    """Part of the load that each bar of the work takes, shape (..., 1 or 2)."""
    local: Array
    """What gives locally under the loads at the work, shape (..., 6, 6)."""
    poses: tuple[int, ...]
    """Lengths of the grid."""

    @property
    def nodes(self) -> Numbers:
        """Nodes that they load."""
        told: Numbers = np.unique(np.concatenate((self.tip.nodes.ravel(), self.work.nodes.ravel())))
        return told[told >= 0]

    def on(self, whole: Cut, ports: Numbers, count: int) -> Loads:
        """Their first ``count`` loads on some nodes: forces along, then moments about X, Y, Z."""
        loaded = np.isin(ports, self.nodes)
        nodes, rows = ports[loaded], freedoms(np.flatnonzero(loaded))
        slot = np.full(len(whole.nodes) + 1, len(nodes))
        slot[nodes] = np.arange(len(nodes))
        tip = np.zeros((len(nodes) + 1, PER_NODE, count))
        tip[slot[self.tip.nodes[0, 0]]] = self.tip.motion[0, 0].T[:, :count]
        if not np.isin(ports, self.work.nodes).any():
            return Loads(rows, tip[None, :-1].reshape(1, len(rows), count), np.zeros((1, count, count)))
        part = self.weight[..., None, None, None] * np.swapaxes(self.work.motion, -1, -2)[..., :count]
        lead = part.shape[:-4]
        loads = np.zeros((*lead, len(nodes) + 1, PER_NODE, count))
        pose = tuple(index[..., None, None] for index in np.ogrid[tuple(slice(0, n) for n in lead)])
        loads[(*pose, slot[self.work.nodes])] = -part
        loads += tip
        flat = np.broadcast_to(loads[..., :-1, :, :], (*self.poses, len(nodes), PER_NODE, count))
        local = np.broadcast_to(self.local[..., :count, :count], (*self.poses, count, count))
        return Loads(rows, flat.reshape(-1, len(rows), count), local.reshape(-1, count, count))

    def crossed(self, whole: Cut, contacts: Contacts, axis: int, count: int) -> Array | None:
        """Stretch of contacts under the loads by elements that hold both inside, shape (poses, k, count); None where none does.

        Args:
            whole: All bars.
            contacts: Of one axis.
            axis: Number of that axis in the grid.
            count: Loads.
        """
        common = (contacts.held.element[..., None] == np.unique(self.work.element)) & (contacts.held.element[..., None] >= 0)
        if not np.any(common):
            return None
        lead = len(self.poses)
        grid = [1] * lead
        grid[axis] = contacts.held.element.shape[0]
        shape = (*self.poses, *contacts.held.element.shape[1:], self.work.element.shape[-1])  # (..., t, side, bar)

        def of_contact(array: Any, tail: int) -> Any:
            kept = array.shape[array.ndim - tail :]
            return np.broadcast_to(array.reshape(*grid, *array.shape[1:3], 1, *kept), (*shape, *kept))

        def of_work(array: Any, tail: int) -> Any:
            kept = array.shape[array.ndim - tail :]
            return np.broadcast_to(array[(slice(None),) * lead + (None, None)], (*shape, *kept))

        here, there = of_contact(contacts.held.element, 0), of_work(self.work.element, 0)
        hit = np.nonzero((here == there) & (here >= 0))
        places = np.stack((of_contact(contacts.held.place, 0)[hit], of_work(self.work.place, 0)[hit]), axis=-1)
        to_place = -of_work(self.weight, 0)[hit][:, None, None] * np.swapaxes(of_work(self.work.own, 2)[hit], -1, -2)[..., :count]
        stretch = of_contact(contacts.own, 2)[hit] @ local_give(whole, here[hit], places) @ to_place
        told = np.zeros((*self.poses, shape[lead], PER_NODE, count))
        np.add.at(told, hit[: lead + 1], stretch)
        return told.reshape(int(np.prod(self.poses)), -1, count)[:, contacts.active]


def places_of(whole: Cut, motions: tuple[Motion, ...], grid: Mapping[str, Array]) -> Places:
    """Tip and work under it at all poses of a grid (place of each axis by name, m)."""
    mesher, rest = whole.mesher, whole.mesher.skeleton.rest
    poses = tuple(len(grid[motion.axis]) for motion in motions)
    tip_body = mesher.body[mesher.skeleton.tip.bar]
    point = np.array(mesher.skeleton.tip.point)
    for number, motion in enumerate(motions):
        step = np.subtract(motion.shift.get(tip_body, (0.0,) * 3), motion.shift.get(rest.body, (0.0,) * 3))
        shape = [1] * len(motions)
        shape[number] = -1
        point = point + (grid[motion.axis] - motion.drawn).reshape(*shape, 1) * step
    bars, weight, points = mesher.rest_at(mesher.start, point)
    work = inside(whole, bars, points)
    tip = at_nodes(whole, whole.anchor_node[-1:], np.array(mesher.skeleton.tip.point)[None])
    give = local_give(whole, work.element, np.stack((work.place, work.place), axis=-1))
    local = weight[..., None, None] ** 2 * (work.own @ give @ np.swapaxes(work.own, -1, -2))
    return Places(tip, work, weight, local.sum(axis=-3) + _sheets(whole, point), poses)


def _sheets(whole: Cut, point: Array) -> Array:
    """Local give of what lies on the bars, shape (..., 6, 6)."""
    rest = whole.mesher.skeleton.rest
    told = np.zeros((*point.shape[:-1], PER_NODE, PER_NODE))
    if rest.give is not no_give:
        flat = [rest.give((float(x), float(y), float(z))) for x, y, z in point.reshape(-1, 3)]
        told[..., np.arange(PER_NODE), np.arange(PER_NODE)] = np.array(flat, dtype=float).reshape(*point.shape[:-1], PER_NODE)
    return told
