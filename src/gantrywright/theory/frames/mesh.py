"""A skeleton at one pose as a frame: nodes only where something holds on, so that statics are exact with few of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import Array, Real
from gantrywright.theory.frames.bars import natural_coefficients, shear_parameter
from gantrywright.theory.frames.frame import Bars, Frame, Lumps, Numbers, Springs, load_at
from gantrywright.theory.frames.skeleton import GROUND, Bar, Lump, Skeleton, Tie

TOGETHER = 0.5e-3
"""Stations of a bar nearer than this share a node, m; their arms make up the difference exactly."""


@dataclass(frozen=True, slots=True)
class Mesh:
    """A frame that knows which bar and tie each of its elements stands for."""

    frame: Frame
    element_bar: Numbers
    """Bar of each element, shape (b,)."""
    load: Array
    """Unit forces along and unit moments about X, Y, Z on the tip and, turned round, on the work: shape (6 n, 6)."""
    tip_load: Array
    """Those on the tip alone."""
    give: Array
    """Local compliance of the rest under the tip: along and about X, Y, Z, shape (..., 6)."""
    station: Array
    """Place of every node along its bar, m, shape (n,)."""
    node_bar: Numbers
    """Bar of every node, shape (n,)."""


class Mesher:
    """Turns one skeleton into frames: what does not change with the pose is gathered once."""

    def __init__(self, skeleton: Skeleton) -> None:
        """Gather a skeleton's bars, ties and lumps as arrays."""
        self.skeleton = skeleton
        bars, ties, lumps = skeleton.bars, skeleton.ties, skeleton.lumps
        self.start = np.array([bar.start for bar in bars])
        along = np.array([bar.stop for bar in bars]) - self.start
        self.length = np.sqrt((along**2).sum(axis=1))
        self.axes = _axes(along / self.length[:, None], np.array([bar.height_axis for bar in bars]))
        self.body = [bar.body for bar in bars]
        self.anchors = [*(t.a for t in ties), *(t.b for t in ties), *(lump.at for lump in lumps), skeleton.tip]
        self.anchor_bar: Numbers = np.array([anchor.bar for anchor in self.anchors], dtype=np.intp)
        self.anchor_point = np.array([anchor.point for anchor in self.anchors])
        self.moves_with = [*(_carrier(t, self.body, "a") for t in ties), *(_carrier(t, self.body, "b") for t in ties),
                           *(self.body[lump.at.bar] for lump in lumps), self.body[skeleton.tip.bar]]  # fmt: skip
        self.tie_axes = np.array([t.axes for t in ties]).reshape(-1, 3, 3)
        self.tie_stiffness = stacked([t.stiffness for t in ties])
        self.varying = tuple((number, t) for number, t in enumerate(ties) if t.along is not None)
        self.stiffness = stacked([_stiffness(bar) for bar in bars])
        self.shear_centre = np.array([bar.shear_centre for bar in bars])
        self.mass = np.array([typical(bar.mass_per_length) for bar in bars])
        self.rotary = np.array([(typical(bar.rotary_height), typical(bar.rotary_width)) for bar in bars])
        self.lumps = _lumps(lumps)
        self.lumped = slice(2 * len(ties), 2 * len(ties) + len(lumps))

    def at(self, pose: Mapping[str, float], *, longest: float | None = None, bare: bool = False) -> Mesh:
        """The frame at a pose.

        Args:
            pose: Place of each axis by name, m; axes left out stand as drawn.
            longest: Elements are split until none is longer, m; None splits no further than what holds on.
            bare: Without lumps and without ends of bars that stick out: all that a force at the tip can feel, in the fewest nodes.
        """
        shifts = self.skeleton.shifts(pose)
        start = self.start + self._moved(self.body, shifts)
        points = self.anchor_point + self._moved(self.moves_with, shifts)
        rest_bar, weight, rest_point = self.rest_at(start, points[-1])
        ties, lumps = len(self.skeleton.ties), 0 if bare else len(self.skeleton.lumps)
        anchor_bar = self.anchor_bar
        if bare:
            points, anchor_bar = np.delete(points, self.lumped, axis=0), np.delete(anchor_bar, self.lumped)
        holder = np.concatenate((anchor_bar, rest_bar))
        points = np.concatenate((points, rest_point))
        held = holder != GROUND
        station = np.zeros(len(holder))
        station[held] = self.stations(start, holder[held], points[held])
        node_bar, node_station, node_of = self._nodes(holder[held], station[held], longest, bare)
        nodes = start[node_bar] + node_station[:, None] * self.axes[node_bar, 0]
        numbers: Numbers = np.full(len(holder), GROUND, dtype=np.intp)
        numbers[held] = node_of
        arms = np.where(held[:, None], points - nodes[numbers], 0.0)
        springs = Springs(
            ends=np.stack((numbers[:ties], numbers[ties : 2 * ties]), axis=1),
            arms=np.stack((arms[:ties], arms[ties : 2 * ties]), axis=1),
            axes=self.tie_axes,
            stiffness=self._springs(pose),
        )
        masses = slice(2 * ties, 2 * ties + lumps)
        mass, inertia = (values[:lumps] for values in self.lumps)
        elements, bars = self.elements(node_bar, node_station)
        frame = Frame(nodes, bars, springs, Lumps(numbers[masses], arms[masses], mass, inertia))
        tip = 2 * ties + lumps
        tip_load = load_at(frame, int(numbers[tip]), arms[tip])
        load = tip_load.copy()
        for number, arm, part in zip(numbers[tip + 1 :], arms[tip + 1 :], weight, strict=True):
            load -= part * load_at(frame, int(number), arm)
        return Mesh(frame, elements, load, tip_load, self._give(points[tip], shifts), node_station, node_bar)

    def stations(self, start: Array, holder: Numbers, points: Array) -> Array:
        """Place along its bar at which each point is held, m; bars shape (...,), points (..., 3), starts of all bars (bars, 3)."""
        along = np.einsum("...i,...i->...", points - start[holder], self.axes[holder, 0])
        place = np.clip(along, 0.0, self.length[holder])
        place = np.where(place < TOGETHER, 0.0, place)
        return np.where(place > self.length[holder] - TOGETHER, self.length[holder], place)

    def _moved(self, bodies: Sequence[str], shifts: Mapping[str, Array]) -> Array:
        """Shift of each body of a list, shape (b, 3)."""
        still = np.zeros(3)
        return np.array([shifts.get(body, still) for body in bodies])

    def _nodes(self, holder: Numbers, station: Array, longest: float | None, bare: bool) -> tuple[Numbers, Array, Numbers]:
        """Bar and place of every node, and the node of every anchor."""
        both = np.arange(len(self.length), dtype=np.intp)
        if bare:  # a bar that nothing holds keeps its ends, so that it is found to be loose
            both = np.setdiff1d(both, holder)
        bar = np.concatenate((holder, both, both))
        place = np.concatenate((station, np.zeros(len(both)), self.length[both]))
        node_bar, node_place, node_of = gathered(bar, place)
        if longest is not None:
            more = [(b, p) for b, p in _between(node_bar, node_place, longest)]
            if more:
                extra_bar = np.array([b for b, _ in more], dtype=np.intp)
                bar = np.concatenate((bar, extra_bar))
                place = np.concatenate((place, [p for _, p in more]))
                node_bar, node_place, node_of = gathered(bar, place)
        return node_bar, node_place, node_of[: len(holder)]

    def elements(self, node_bar: Numbers, node_place: Array) -> tuple[Numbers, Bars]:
        """Bar of each element and the elements themselves, between neighbouring nodes of one bar (sorted by bar, then place)."""
        first = np.flatnonzero(node_bar[1:] == node_bar[:-1])
        bar = node_bar[first]
        length = node_place[first + 1] - node_place[first]
        axial, torsion, height, width, shear_height, shear_width = np.moveaxis(self.stiffness[..., bar, :], -1, 0)
        stiffness = natural_coefficients(
            axial=axial, torsion=torsion, bend_height=height, bend_width=width, shear_height=shear_height, shear_width=shear_width,
            length=length,
        )  # fmt: skip
        parameters = [
            shear_parameter(bending=bend, shear=shear, length=length)
            for bend, shear in ((height, shear_height), (width, shear_width))
        ]
        return bar, Bars(
            ends=np.stack((first, first + 1), axis=1),
            arms=np.zeros((len(first), 2, 3)),
            axes=self.axes[bar],
            length=length,
            stiffness=stiffness,
            bending=np.stack((3 * height / length, 3 * width / length), axis=-1),
            mass=self.mass[bar],
            rotary=self.rotary[bar],
            shear=np.stack([_middle(parameter) for parameter in parameters], axis=-1),
            shear_centre=self.shear_centre[bar] if np.any(self.shear_centre) else None,
        )

    def _springs(self, pose: Mapping[str, float]) -> Array:
        if not self.varying:
            return self.tie_stiffness
        drawn = {motion.axis: motion.drawn for motion in self.skeleton.motions}
        found = [(number, t.along(pose.get(t.axis, drawn.get(t.axis, 0.0)))) for number, t in self.varying if t.along is not None]
        lead = np.broadcast_shapes(self.tie_stiffness.shape[:-2], *(np.shape(value) for _, value in found))
        stiffness = np.broadcast_to(self.tie_stiffness, (*lead, *self.tie_stiffness.shape[-2:])).copy()
        for number, value in found:
            stiffness[..., number, 0] = value
        return stiffness

    def rest_at(self, start: Array, tip: Array) -> tuple[Numbers, Array, Array]:
        """Bars under the tip, their parts of its load, and the points at which each takes its part.

        Between two bars the load comes down on the line of each, as a board that is free to turn on them would bring it, at the height
        of the tip; beyond the outermost the overhang is an arm.

        Args:
            start: Of all bars, shape (bars, 3).
            tip: Shape (..., 3), in the same measures.

        Returns:
            Shapes (..., 1 or 2), the same, and (..., 1 or 2, 3).
        """
        rest, lead = self.skeleton.rest, tip.shape[:-1]
        bars: Numbers = np.array(rest.bars, dtype=np.intp)
        if len(bars) < 2:
            shape = (*lead, len(bars))
            return np.broadcast_to(bars, shape), np.ones(shape), np.broadcast_to(tip[..., None, :], (*shape, 3))
        across = np.array(rest.across)
        places = (start[bars] + self.length[bars, None] / 2 * self.axes[bars, 0]) @ across
        place = np.clip(tip @ across, places[0], places[-1])
        after = np.clip(np.searchsorted(places, place), 1, len(bars) - 1)
        both = np.stack((after - 1, after), axis=-1)
        gap = places[after] - places[after - 1]
        part = (place - places[after - 1]) / np.where(gap > 0, gap, 1.0)
        points = tip[..., None, :] + (places[both] - place[..., None])[..., None] * across
        return bars[both], np.stack((1 - part, part), axis=-1), points

    def _give(self, tip: Array, shifts: Mapping[str, Array]) -> Array:
        rest = self.skeleton.rest
        own = tip - shifts.get(rest.body, np.zeros(3))
        return stacked([rest.give((float(own[0]), float(own[1]), float(own[2])))])[..., 0, :]


def stacked(rows: Sequence[Sequence[Real]]) -> Array:
    """Rows of numbers as one array (..., rows, columns); samples, where there are any, become the leading axis."""
    if not rows:
        return np.zeros((0, 6))
    values = np.broadcast_arrays(*(np.asarray(value, dtype=float) for row in rows for value in row))
    array = np.stack(values, axis=-1)
    return array.reshape(*array.shape[:-1], len(rows), -1)


def _stiffness(bar: Bar) -> tuple[Real, ...]:
    return bar.axial, bar.torsion, bar.bend_height, bar.bend_width, bar.shear_height, bar.shear_width


def _axes(along: Array, height: Array) -> Array:
    """Right-handed axes of bars; a height axis along the bar is a mistake of the caller."""
    square = height - np.einsum("ij,ij->i", height, along)[:, None] * along
    size = np.sqrt((square**2).sum(axis=1, keepdims=True))
    if np.any(size < 1e-6):
        raise ValueError(f"the height axis of bar {int(np.argmin(size))} lies along it")
    square = square / size
    return np.stack((along, square, np.cross(along, square)), axis=1)


def _carrier(tie: Tie, body: Sequence[str], side: str) -> str:
    """Body that a side's point moves with: its own bar's, or the other side's where it slides."""
    anchor, other = (tie.a, tie.b) if side == "a" else (tie.b, tie.a)
    moving = other if tie.slides == side else anchor
    return body[moving.bar] if moving.bar != GROUND else ""


def gathered(bar: Numbers, place: Array) -> tuple[Numbers, Array, Numbers]:
    """Nodes of all stations, those together made one: bar, place, and the node of every station."""
    order = np.lexsort((place, bar))
    sorted_bar, sorted_place = bar[order], place[order]
    new = np.concatenate(([True], (np.diff(sorted_bar) != 0) | (np.diff(sorted_place) > TOGETHER)))
    node: Numbers = np.cumsum(new) - 1
    node_of = np.empty_like(node)
    node_of[order] = node
    return sorted_bar[new], sorted_place[new], node_of


def _between(node_bar: Numbers, node_place: Array, longest: float) -> list[tuple[int, float]]:
    """Further places that split long elements evenly."""
    found: list[tuple[int, float]] = []
    for first in np.flatnonzero(node_bar[1:] == node_bar[:-1]):
        start, stop = node_place[first], node_place[first + 1]
        parts = int(np.ceil((stop - start) / longest - 1e-9))
        found.extend((int(node_bar[first]), float(start + (stop - start) * k / parts)) for k in range(1, parts))
    return found


def _lumps(lumps: Sequence[Lump]) -> tuple[Array, Array]:
    mass = np.array([typical(lump.mass) for lump in lumps])
    return mass, np.array([lump.inertia for lump in lumps]).reshape(-1, 3, 3)


def _middle(parameter: Real) -> Array:
    """Typical values of what samples may lead."""
    parameter = np.asarray(parameter)
    return np.median(parameter, axis=tuple(range(parameter.ndim - 1))) if parameter.ndim > 1 else parameter
