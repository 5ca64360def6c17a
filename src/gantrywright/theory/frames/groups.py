"""Bars that no motion moves against each other, cut once where something that stays put holds on.

Ties that no motion changes join bars into rigid groups. Each group is meshed once, whatever the pose; what slides along a bar is held
inside an element, exactly, by the bar's own inner motion (`contacts`).
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array
from gantrywright.theory.frames.assembly import stiffness, stretches
from gantrywright.theory.frames.frame import PER_NODE, Bars, Frame, Lumps, Numbers, Springs
from gantrywright.theory.frames.mesh import Mesher, gathered
from gantrywright.theory.frames.skeleton import GROUND, Skeleton
from gantrywright.theory.frames.solver import LOST, Unheld

SQUARE = 1e-9
"""Shift along a bar, per metre of travel, of what runs across it."""
FLOOR = 0
"""Number of the group that stands on the ground."""


class LooseGroup(Unheld):
    """A part or an axis that the map over all poses cannot hold."""

    def __init__(self, what: str, motion: Array) -> None:
        super().__init__(motion)
        self.what = what
        """Name of the axis, or paths of the parts."""
        self.args = (f"{what}: nothing resists one of its motions",)


@dataclass(frozen=True, slots=True)
class Cut:
    """All bars of a skeleton as drawn, cut into elements."""

    mesher: Mesher
    group: Numbers
    """Rigid group of each bar."""
    node_bar: Numbers
    node_place: Array
    """Along its bar, m."""
    nodes: Array
    """As drawn, m, shape (n, 3)."""
    bars: Bars
    element: Numbers
    """Element that begins at each node; -1 at the last of a bar."""
    anchor_node: Numbers
    """Node of every anchor of the mesher that stays put along its bar; -1 for others."""
    links: Numbers
    """Nodes that an element or a tie that no motion changes joins, shape (m, 2)."""
    stiffness: Array
    """Of all nodes and those ties, shape (6 n, 6 n)."""

    def parts_of(self, groups: Iterable[int]) -> str:
        """Paths of the parts of some groups, each once."""
        wanted = set(groups)
        bars = self.mesher.skeleton.bars
        return ", ".join(dict.fromkeys(bar.part for bar, group in zip(bars, self.group, strict=True) if int(group) in wanted))


def rigid_groups(skeleton: Skeleton) -> Numbers:
    """Number of the group of each bar, shape (bars,); `FLOOR` for what stands on the ground."""
    leader = np.arange(len(skeleton.bars) + 1)

    def root(bar: int) -> int:
        number = bar + 1  # the ground comes first
        while leader[number] != number:
            leader[number] = leader[leader[number]]
            number = int(leader[number])
        return number

    for tie in skeleton.ties:
        if not tie.axis:
            first, second = sorted((root(tie.a.bar), root(tie.b.bar)))
            leader[second] = first
    roots = np.array([root(bar) for bar in range(GROUND, len(skeleton.bars))])
    _, numbers = np.unique(roots, return_inverse=True)
    return np.asarray(numbers[1:], dtype=np.intp)


def cut(mesher: Mesher) -> Cut:
    """Cut the bars of a skeleton; typical values only."""
    skeleton = mesher.skeleton
    if mesher.stiffness.ndim > 2 or mesher.tie_stiffness.ndim > 2:
        raise ValueError("the map over poses takes typical values, not samples")
    ties = skeleton.ties
    fixed, long = _what_holds(skeleton, mesher)
    steady = _steady(skeleton, mesher)
    holder = np.concatenate((mesher.anchor_bar[fixed], mesher.anchor_bar[steady]))
    place = mesher.stations(mesher.start, holder, np.concatenate((mesher.anchor_point[fixed], mesher.anchor_point[steady])))
    every = np.arange(len(skeleton.bars), dtype=np.intp)
    node_bar, node_place, node_of = gathered(
        np.concatenate((holder, every, every)), np.concatenate((place, np.zeros(len(every)), mesher.length))
    )
    kept = long[node_bar]
    kept[node_of[: len(holder)]] = True
    number = np.cumsum(kept) - 1
    node_bar, node_place = node_bar[kept], node_place[kept]
    anchor_node: Numbers = np.full(len(fixed), GROUND, dtype=np.intp)
    anchor_node[fixed] = number[node_of[: int(fixed.sum())]]
    nodes = mesher.start[node_bar] + node_place[:, None] * mesher.axes[node_bar, 0]
    _, bars = mesher.elements(node_bar, node_place)
    element: Numbers = np.full(len(nodes), -1, dtype=np.intp)
    element[bars.ends[:, 0]] = np.arange(len(bars.ends))
    still = np.array([not tie.axis for tie in ties], dtype=bool)
    ends = np.stack((anchor_node[: len(ties)], anchor_node[len(ties) : 2 * len(ties)]), axis=1)[still]
    points = np.stack((mesher.anchor_point[: len(ties)], mesher.anchor_point[len(ties) : 2 * len(ties)]), axis=1)[still]
    arms = np.where((ends != GROUND)[..., None], points - nodes[ends], 0.0)
    none = np.zeros(0)
    lumps = Lumps(none.astype(np.intp), none.reshape(0, 3), none, none.reshape(0, 3, 3))
    frame = Frame(nodes, bars, Springs(ends, arms, mesher.tie_axes[still], mesher.tie_stiffness[still]), lumps)
    dense = stiffness(stretches(frame), frame.coefficients).toarray()
    links = np.concatenate((bars.ends, ends[np.all(ends != GROUND, axis=1)]))
    return Cut(mesher, rigid_groups(skeleton), node_bar, node_place, nodes, bars, element, anchor_node, links, dense)


def _what_holds(skeleton: Skeleton, mesher: Mesher) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Anchors that stay put along their bar and carry something, and bars along which something slides."""
    ties = skeleton.ties
    fixed = np.zeros(len(mesher.anchors), dtype=bool)
    fixed[: len(ties)] = [tie.slides != "a" for tie in ties]
    fixed[len(ties) : 2 * len(ties)] = [tie.slides != "b" for tie in ties]
    fixed[-1] = True  # the tip; lumps carry nothing at rest
    long = np.zeros(len(skeleton.bars), dtype=bool)
    long[list(skeleton.rest.bars)] = True
    slid = mesher.anchor_bar[: 2 * len(ties)][~fixed[: 2 * len(ties)]]
    long[slid[slid != GROUND]] = True
    return fixed & (mesher.anchor_bar != GROUND), long


def _steady(skeleton: Skeleton, mesher: Mesher) -> Numbers:
    """Anchors that slide square to their bar (rails that ride across a plate): what slides stays at one place along it, a node."""
    motions = {motion.axis: motion.shift for motion in skeleton.motions}
    still, found = (0.0, 0.0, 0.0), []
    for number, tie in enumerate(skeleton.ties):
        anchor, other = (tie.a, tie.b) if tie.slides == "a" else (tie.b, tie.a)
        if not tie.slides or tie.axis not in motions or GROUND in (anchor.bar, other.bar):
            continue
        shift = motions[tie.axis]
        step = np.subtract(shift.get(mesher.body[other.bar], still), shift.get(mesher.body[anchor.bar], still))
        if abs(step @ mesher.axes[anchor.bar, 0]) < SQUARE:
            found.append(number + (len(skeleton.ties) if tie.slides == "b" else 0))
    return np.array(found, dtype=np.intp)


def freedoms(nodes: Numbers) -> Numbers:
    """Degrees of freedom of nodes, in their order."""
    told: Numbers = (PER_NODE * np.asarray(nodes, dtype=np.intp)[:, None] + np.arange(PER_NODE)).ravel()
    return told


@dataclass(frozen=True, slots=True)
class Piece:
    """Groups that are attached together: their give at some nodes, and how they move when nothing gives."""

    ports: Numbers
    """Nodes, shape (p,)."""
    give: Array
    """With one node of each group held, shape (6 p, 6 p)."""
    free: Array
    """Rigid motions of the ports, six a group that nothing holds, shape (6 p, 6 g)."""


def piece_of(whole: Cut, groups: list[int], ports: Numbers) -> Piece:
    """Some groups condensed to ports; all but those on the ground are held at one of their ports, which is then let go by `free`.

    Raises:
        LooseGroup: A part is joined to the others so that it can still move.
    """
    node_group = whole.group[whole.node_bar]
    own = np.flatnonzero(np.isin(node_group, groups))
    held = [ports[node_group[ports] == group] for group in groups if group != FLOOR]
    fixed: Numbers = np.array([nodes[len(nodes) // 2] for nodes in held], dtype=np.intp)
    elastic = np.setdiff1d(ports, fixed)
    inner = np.setdiff1d(own, ports)
    give = np.zeros((len(ports), PER_NODE, len(ports), PER_NODE))
    place = np.flatnonzero(np.isin(ports, elastic))
    order = np.concatenate((inner, ports[place]))
    block = _port_give(whole, order, len(inner)).reshape(len(place), PER_NODE, len(place), PER_NODE)
    give[place[:, None], :, place] = np.moveaxis(block, 2, 1)
    free = np.zeros((len(ports), PER_NODE, len(fixed), PER_NODE))
    for number, node in enumerate(fixed):
        mine = np.flatnonzero(node_group[ports] == node_group[node])
        motion = np.broadcast_to(np.eye(PER_NODE), (len(mine), PER_NODE, PER_NODE)).copy()
        motion[:, :3, 3:] = np.cross(np.eye(3), (whole.nodes[ports[mine]] - whole.nodes[node])[:, None]).swapaxes(1, 2)
        free[mine, :, number] = motion
    size = PER_NODE * len(ports)
    return Piece(ports, give.reshape(size, size), free.reshape(size, -1))


def _port_give(whole: Cut, order: Numbers, inner: int) -> Array:
    """Give of the nodes of an order that come after its first ``inner``.

    What lies between the ports falls into clusters that know of each other through ports alone: each is eliminated by itself.
    """
    from scipy.linalg.lapack import dpotri, dtrtrs

    places = freedoms(order[inner:])
    block = whole.stiffness[places[:, None], places]
    if not len(places):
        return block
    before = np.diagonal(block).copy()
    for cluster, beside in _clusters(whole, order, inner):
        own, ports = freedoms(order[cluster]), freedoms(beside)
        factor = _factor(whole, own, whole.stiffness[own[:, None], own])
        reach, _ = dtrtrs(factor, whole.stiffness[own[:, None], places[ports]], lower=1)
        block[ports[:, None], ports] -= reach.T @ reach
    lower, _ = dpotri(_factor(whole, places, block, before), lower=1, overwrite_c=1)
    told: Array = np.tril(lower) + np.tril(lower, -1).T
    return told


def _clusters(whole: Cut, order: Numbers, inner: int) -> Iterator[tuple[Numbers, Numbers]]:
    """Inner nodes that hang together, as places in the order, and the ports next to them, counted from the first port."""
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import connected_components

    place: Numbers = np.full(len(whole.nodes), -1, dtype=np.intp)
    place[order] = np.arange(len(order))
    links = place[whole.links]
    links = np.sort(links[np.all(links >= 0, axis=1)], axis=1)
    within = links[links[:, 1] < inner]
    outward = links[(links[:, 0] < inner) & (links[:, 1] >= inner)]
    _, label = connected_components(
        csr_array((np.ones(len(within)), (within[:, 0], within[:, 1])), shape=(inner, inner)), directed=False
    )
    for number in range(int(label.max(initial=-1)) + 1):
        yield np.flatnonzero(label == number), np.unique(outward[label[outward[:, 0]] == number, 1]) - inner


def _factor(whole: Cut, places: Numbers, block: Array, before: Array | None = None) -> Array:
    """Cholesky factor of some freedoms; ``before``: their stiffness before anything was eliminated."""
    from scipy.linalg.lapack import dpotrf

    before = np.diagonal(block).copy() if before is None else before
    factor, failed = dpotrf(block.T, lower=1, overwrite_a=1)  # symmetric: its transpose is the column order that LAPACK wants
    lost = np.diagonal(factor) ** 2 < LOST * before
    if failed or np.any(lost):
        at = failed - 1 if failed else int(np.argmax(lost))
        motion = np.zeros(len(whole.stiffness))
        motion[places[at]] = 1.0
        raise LooseGroup(whole.mesher.skeleton.bars[whole.node_bar[places[at] // PER_NODE]].part, motion)
    told: Array = factor
    return told
