"""Points that slide inside elements, and the springs of one axis over its poses: exact without a node at each place.

A point inside an element moves with the element's ends by its inner motion, and besides gives locally under what acts between the
ends (`bars.inner_motion`, `bars.clamped_give`). Every group of bars only shifts, so all is done in the measures of the drawn pose.
"""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from gantrywright.base.units import Array, Real
from gantrywright.theory.frames.bars import clamped_give, inner_motion, seen_from
from gantrywright.theory.frames.frame import PER_NODE, Numbers
from gantrywright.theory.frames.groups import Cut, LooseGroup
from gantrywright.theory.frames.skeleton import GROUND, Motion, Tie

AT_NODE = 1e-9
"""A contact nearer than this to a node is held by the node: nothing of the element gives besides, m."""


@dataclass(frozen=True, slots=True)
class Held:
    """Points held by bars; leading axes are free."""

    nodes: Numbers
    """The two nodes that hold each, shape (..., 2); -1 for none."""
    motion: Array
    """Motion of the point, machine axes, from that of each node, shape (..., 2, 6, 6)."""
    own: Array
    """The same from the motion of its place on the bar's axis in the bar's own axes (across the bar that of the shear centre there),
    shape (..., 6, 6)."""
    element: Numbers
    """Element inside which it is; -1 for one at a node."""
    place: Array
    """Distance from the element's first node, m."""


def carried(axes: Array, arm: Array) -> Array:
    """Motion of a point, machine axes, from that of its foot in the foot's axes; axes (..., 3, 3), arm (..., 3): (..., 6, 6)."""
    axes = np.broadcast_to(axes, (*arm.shape[:-1], 3, 3))
    motion = np.zeros((*arm.shape[:-1], PER_NODE, PER_NODE))
    motion[..., :3, :3] = motion[..., 3:, 3:] = np.swapaxes(axes, -1, -2)
    motion[..., :3, 3:] = np.swapaxes(np.cross(axes, arm[..., None, :]), -1, -2)
    return motion


def at_nodes(whole: Cut, node: Numbers, points: Array) -> Held:
    """Points held by nodes, shape (e,); -1 is the ground."""
    ground = node == GROUND
    own = carried(np.eye(3), points - whole.nodes[node])
    own[ground] = 0.0
    motion = np.stack((own, np.zeros_like(own)), axis=-3)
    nodes = np.stack((node, np.full_like(node, GROUND)), axis=-1)
    return Held(nodes, motion, own, np.full_like(node, -1), np.zeros(node.shape))


def inside(whole: Cut, bar: Numbers, points: Array) -> Held:
    """Points held by bars at whatever place is nearest along them; bars (...,), points (..., 3) as drawn."""
    mesher = whole.mesher
    bar = np.broadcast_to(bar, points.shape[:-1])
    station = mesher.stations(mesher.start, bar, points)
    reach = 2 * float(mesher.length.max(initial=0.0)) + 1
    keys = whole.node_bar * reach + whole.node_place
    first, last = (np.searchsorted(whole.node_bar, bar, side=side) for side in ("left", "right"))
    left = np.clip(np.searchsorted(keys, bar * reach + station, side="right") - 1, first, last - 2)
    element = whole.element[left]
    length, place = whole.bars.length[element], station - whole.node_place[left]
    softness = whole.bars.shear[element]
    axes = mesher.axes[bar]
    foot = mesher.start[bar] + station[..., None] * axes[..., 0, :]
    own = carried(axes, points - foot)
    inner = inner_motion(place=place / length, length=length, shear_height=softness[..., 0], shear_width=softness[..., 1])
    if whole.bars.shear_centre is not None:
        beside = whole.bars.shear_centre[element]
        own, inner = seen_from(own, beside), seen_from(inner, beside, back=True)
    ends = own @ inner
    turned = ends.reshape(*ends.shape[:-1], 4, 3) @ axes[..., None, :, :]
    motion = np.moveaxis(turned.reshape(*ends.shape[:-1], 2, PER_NODE), -2, -3)
    return Held(np.stack((left, left + 1), axis=-1), motion, own, element, place)


def local_give(whole: Cut, element: Numbers, places: Array) -> Array:
    """Give between two places of one element whose ends are held, own axes; element (...,), places (..., 2): (..., 6, 6)."""
    bar = whole.node_bar[whole.bars.ends[element, 0]]
    axial, torsion, height, width, shear_height, shear_width = np.moveaxis(whole.mesher.stiffness[bar], -1, 0)
    give = clamped_give(
        places=places, length=whole.bars.length[element], axial=axial, torsion=torsion, bend_height=height, bend_width=width,
        shear_height=shear_height, shear_width=shear_width,
    )  # fmt: skip
    told: Array = give[..., :PER_NODE, PER_NODE:]
    return told


@dataclass(frozen=True, slots=True)
class Contacts:
    """The springs of one axis over its poses; q poses (1 where none matters), t ties, k springs that are not nil."""

    axis: str
    poses: int
    ties: tuple[Tie, ...]
    bar: Numbers
    """Bars of sides a and b, shape (t, 2)."""
    held: Held
    """Shape (q, t, 2)."""
    rows: Array
    """Stretch of every spring from the motion of the nodes, shape (q, t, 2, 2, 6, 6): side, node, spring, freedom."""
    own: Array
    """The same from motions at the places in own axes of the bars, shape (q, t, 2, 6, 6)."""
    give: Array
    """Of the springs and of the elements between their ends, shape (q, k, k)."""
    active: NDArray[np.bool_]
    """Springs that are not nil, shape (6 t,)."""

    @property
    def touched(self) -> Numbers:
        """Nodes that any pose loads."""
        nodes = np.unique(self.held.nodes)
        told: Numbers = nodes[nodes != GROUND]
        return told

    def on(self, ports: Numbers) -> Array:
        """Stretches from the motions of some nodes, shape (q or 1, k, 6 p)."""
        lead = self.held.nodes.shape[:2]
        slot = np.full(int(max(ports.max(initial=0), self.held.nodes.max())) + 2, len(ports))
        slot[ports] = np.arange(len(ports))
        matrix = np.zeros((*lead, len(ports) + 1, PER_NODE, PER_NODE))
        pose, tie = (index[..., None, None] for index in np.ogrid[: lead[0], : lead[1]])
        np.add.at(matrix, (pose, tie, slot[self.held.nodes]), self.rows)  # number -1 is the last slot, of no port
        flat = np.moveaxis(matrix[:, :, :-1], 3, 2).reshape(lead[0], PER_NODE * lead[1], -1)[:, self.active]
        return flat[:1] if np.array_equal(flat, np.broadcast_to(flat[:1], flat.shape)) else flat


def contacts_of(whole: Cut, motion: Motion, poses: Array) -> Contacts:
    """Springs of one axis at some of its poses, m.

    Raises:
        LooseGroup: The axis has no spring, or one that is nil somewhere and not everywhere.
    """
    skeleton = whole.mesher.skeleton
    numbers = [number for number, tie in enumerate(skeleton.ties) if tie.axis == motion.axis]
    if not numbers:
        raise LooseGroup(motion.axis, np.zeros(PER_NODE))
    ties = tuple(skeleton.ties[number] for number in numbers)
    sides = np.stack((np.array(numbers), np.array(numbers) + len(skeleton.ties)), axis=1)
    bar = whole.mesher.anchor_bar[sides]
    slides = np.array([(tie.slides == "a", tie.slides == "b") for tie in ties]) & (bar != GROUND)
    held = _held(whole, motion, poses, sides, slides)
    turn = np.zeros((len(ties), PER_NODE, PER_NODE))
    turn[:, :3, :3] = turn[:, 3:, 3:] = whole.mesher.tie_axes[numbers]
    signed = np.array([-1.0, 1.0])[:, None, None] * turn[:, None]
    rows, own = signed[:, :, None] @ held.motion, signed @ held.own
    stiffness = _stiffness(whole, numbers, poses)
    active = np.any(stiffness > 0, axis=0)
    if not np.any(active) or np.any(stiffness[:, active] <= 0):
        raise LooseGroup(motion.axis, np.zeros(PER_NODE))
    give = _between(whole, bar, held, own)[:, active][:, :, active]
    spring = np.zeros((len(stiffness), give.shape[-1], give.shape[-1]))
    spring[:, np.arange(give.shape[-1]), np.arange(give.shape[-1])] = 1 / stiffness[:, active]
    return Contacts(motion.axis, len(poses), ties, bar, held, rows, own, give + spring, active)


def _held(whole: Cut, motion: Motion, poses: Array, sides: Numbers, slides: NDArray[np.bool_]) -> Held:
    """All ends of the springs at all poses, those that slide inside elements, the others at their nodes."""
    mesher = whole.mesher
    points = mesher.anchor_point[sides]
    fixed = at_nodes(whole, whole.anchor_node[sides], points)
    if not np.any(slides):
        return Held(*(getattr(fixed, name)[None] for name in Held.__slots__))
    steps = np.array([motion.shift.get(body, (0.0, 0.0, 0.0)) for body in mesher.body] + [(0.0, 0.0, 0.0)])  # the last: the ground
    bar = mesher.anchor_bar[sides]
    step = (steps[bar[:, ::-1]] - steps[bar])[slides]
    moving = inside(whole, bar[slides], points[slides] + (poses - motion.drawn)[:, None, None] * step)
    past = whole.bars.length[moving.element] - moving.place
    at_end = np.minimum(np.abs(moving.place), np.abs(past)) < AT_NODE
    moving = replace(moving, element=np.where(at_end, -1, moving.element))
    parts = []
    for name in Held.__slots__:
        still = getattr(fixed, name)
        both = np.broadcast_to(still, (len(poses), *still.shape)).copy()
        both[:, slides] = getattr(moving, name)
        parts.append(both)
    return Held(*parts)


def _stiffness(whole: Cut, numbers: list[int], poses: Array) -> Array:
    """Of every spring at every pose, shape (q or 1, 6 t)."""
    stiffness = np.broadcast_to(whole.mesher.tie_stiffness[numbers], (len(poses), len(numbers), PER_NODE)).copy()
    for place, number in enumerate(numbers):
        along = whole.mesher.skeleton.ties[number].along
        if along is not None:
            stiffness[:, place, 0] = np.broadcast_to(_plain(along(poses)), len(poses))
    return stiffness.reshape(len(poses), -1)


def _plain(value: Real) -> Array:
    found = np.asarray(value, dtype=float)
    if found.ndim > 1:
        raise ValueError("the map over poses takes typical values, not samples")
    return found


def _between(whole: Cut, bar: Numbers, held: Held, own: Array) -> Array:
    """What elements give between their ends under the springs of an axis, shape (q, 6 t, 6 t)."""
    poses, ties = held.nodes.shape[:2]
    give = np.zeros((poses, ties, PER_NODE, ties, PER_NODE))
    flat = bar.ravel()
    element, place = held.element.reshape(poses, -1), held.place.reshape(poses, -1)
    rows = own.reshape(poses, -1, PER_NODE, PER_NODE)
    first, second = np.nonzero((flat[:, None] == flat) & (flat[:, None] != GROUND))
    pose, pair = np.nonzero((element[:, first] == element[:, second]) & (element[:, first] >= 0))
    if not len(pose):
        return give.reshape(poses, PER_NODE * ties, -1)
    first, second = first[pair], second[pair]
    local = local_give(whole, element[pose, first], np.stack((place[pose, first], place[pose, second]), axis=-1))
    blocks = rows[pose, first] @ local @ np.swapaxes(rows[pose, second], -1, -2)
    np.add.at(give, (pose[:, None, None], (first // 2)[:, None, None], np.arange(PER_NODE)[:, None], (second // 2)[:, None, None],
                     np.arange(PER_NODE)), blocks)  # fmt: skip
    return give.reshape(poses, PER_NODE * ties, -1)
