"""A whole machine at a pose as nodes, arms, springs, loads and masses, built anew from its skeleton and not by the product's mesher.

Beside the proofs against independent programs, which bring the stiffness of the bars.
"""

from pathlib import Path

import numpy as np
from scipy.sparse import lil_matrix

from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.intake.document import read_document
from gantrywright.intake.resolve import resolve
from gantrywright.theory.frames.skeleton import GROUND, Skeleton

ROOT = Path(__file__).parents[1]
FILES = {
    "as-built": ROOT / "src" / "gantrywright" / "data" / "demo" / "as-built.toml",
    "fixed_gantry": ROOT / "tests" / "machines" / "fixed_gantry.toml",
    "long_bed": ROOT / "tests" / "machines" / "long_bed.toml",
}
NEAR = 1e-4
"""Stations nearer than this are one node, m: another choice than our mesher's."""
FREEDOMS = 6


def skeleton_from(name: str) -> Skeleton:
    """Skeleton of one of the machine files."""
    held = skeleton_of(resolve(read_document(FILES[name]))).skeleton
    assert held is not None
    return held


def pose_at(held: Skeleton, part: float) -> dict[str, float]:
    """Pose with every axis at the same part of its travel."""
    return {motion.axis: part * motion.travel for motion in held.motions}


class Placed:
    """A skeleton at a pose."""

    def __init__(self, held: Skeleton, pose: dict[str, float], longest: float, near: float = NEAR) -> None:
        self.held, self.pose, self.near = held, pose, near
        self.shift = {bar.body: np.zeros(3) for bar in held.bars} | {"": np.zeros(3)}
        for motion in held.motions:
            for body, way in motion.shift.items():
                self.shift[body] = self.shift[body] + (pose[motion.axis] - motion.drawn) * np.array(way)
        self.start = [np.array(bar.start) + self.shift[bar.body] for bar in held.bars]
        self.run = [np.subtract(bar.stop, bar.start) for bar in held.bars]
        self.body = [bar.body for bar in held.bars]
        self.ties = [self._contact(tie) for tie in held.ties]
        self.tip = np.array(held.tip.point) + self.shift[self.body[held.tip.bar]]
        self.rest = self._rest()
        self.lumps = [(lump, np.array(lump.at.point) + self.shift[self.body[lump.at.bar]]) for lump in held.lumps]
        hung = [side for sides in self.ties for side in sides] + [(held.tip.bar, self.tip)]
        hung += [(bar, point) for bar, point, _ in self.rest] + [(lump.at.bar, point) for lump, point in self.lumps]
        self.stations = [self._stations(number, hung, longest) for number in range(len(held.bars))]
        self.first = np.cumsum([0, *(len(stations) for stations in self.stations)])
        self.nodes = np.concatenate([a + np.outer(s, r) for a, s, r in zip(self.start, self.stations, self.run, strict=True)])

    def _contact(self, tie):
        sides = []
        for side, other in ((tie.a, tie.b), (tie.b, tie.a)):
            slides = tie.slides == ("a" if side is tie.a else "b")
            carrier = other.bar if slides else side.bar
            sides.append((side.bar, np.array(side.point) + self.shift[self.body[carrier] if carrier != GROUND else ""]))
        return sides

    def _rest(self):
        across, bars = np.array(self.held.rest.across), self.held.rest.bars
        if len(bars) == 1:
            return [(bars[0], self.tip, 1.0)]
        places = [(self.start[bar] + self.run[bar] / 2) @ across for bar in bars]
        shares = [np.interp(self.tip @ across, places, row) for row in np.eye(len(bars))]
        inside = np.clip(self.tip @ across, places[0], places[-1])
        return [(b, self.tip + (p - inside) * across, share) for b, p, share in zip(bars, places, shares, strict=True) if share > 0]

    def _part(self, bar, point):
        return float(np.clip((point - self.start[bar]) @ self.run[bar] / (self.run[bar] @ self.run[bar]), 0, 1))

    def _stations(self, bar, hung, longest):
        long = np.linalg.norm(self.run[bar])
        places = sorted([0.0, 1.0, *(self._part(bar, point) for on, point in hung if on == bar)])
        kept = [0.0]
        for place in places:
            if (place - kept[-1]) * long > self.near:
                parts = int(np.ceil((place - kept[-1]) * long / longest))
                kept.extend(kept[-1] + (place - kept[-1]) * np.arange(1, parts + 1) / parts)
        kept[-1] = 1.0
        return np.array(kept)

    def pieces(self):
        """Bar and number of its first node, piece after piece; the second node is the next one."""
        for number, bar in enumerate(self.held.bars):
            for node in range(self.first[number], self.first[number + 1] - 1):
                yield bar, node

    def at(self, bar, point):
        """Node that carries a point, and the point's motion from the node's: 6 x 6."""
        node = self.first[bar] + int(np.abs(self.stations[bar] - self._part(bar, point)).argmin())
        x, y, z = point - self.nodes[node]
        carried = np.eye(6)
        carried[:3, 3:] = [[0, z, -y], [-z, 0, x], [y, -x, 0]]
        return node, carried

    def springs(self):
        """Six stiffnesses of every tie, the freedoms that stretch it, and the stretches from their motions."""
        for tie, sides in zip(self.held.ties, self.ties, strict=True):
            turn = np.kron(np.eye(2), np.array(tie.axes))
            values = [float(k) for k in tie.stiffness]
            if tie.along is not None:
                values[0] = float(tie.along(self.pose[tie.axis]))
            told = [(sign, *self.at(*side)) for sign, side in zip((-1, 1), sides, strict=True) if side[0] != GROUND]
            places = np.concatenate([FREEDOMS * node + np.arange(FREEDOMS) for _, node, _ in told])
            yield values, places, np.hstack([sign * turn @ carried for sign, _, carried in told])

    def loads(self):
        """Unit forces and moments on the tip and, turned round, on the work."""
        loads = np.zeros((len(self.nodes) * FREEDOMS, FREEDOMS))
        for bar, point, share in ((self.held.tip.bar, self.tip, 1.0), *((b, p, -share) for b, p, share in self.rest)):
            node, carried = self.at(bar, point)
            loads[FREEDOMS * node : FREEDOMS * node + FREEDOMS] += share * carried.T
        return loads

    def masses(self):
        """Half of every piece at each of its ends, lumps on their arms."""
        whole = lil_matrix((len(self.nodes) * FREEDOMS,) * 2)
        for number, bar in enumerate(self.held.bars):
            pieces = np.diff(self.stations[number]) * np.linalg.norm(self.run[number])
            along = self.run[number] / np.linalg.norm(self.run[number])
            height = np.array(bar.height_axis)
            width = np.cross(along, height)
            # turning of the slices of a bar: about the width axis where the height plane bends
            slices = float(bar.rotary_height) * np.outer(width, width) + float(bar.rotary_width) * np.outer(height, height)
            slices += float(bar.rotary_height + bar.rotary_width) * np.outer(along, along)
            for k, piece in enumerate(pieces):
                for node in (self.first[number] + k, self.first[number] + k + 1):
                    places = slice(FREEDOMS * node, FREEDOMS * node + FREEDOMS)
                    own = np.zeros((6, 6))
                    own[:3, :3] = float(bar.mass_per_length) * piece / 2 * np.eye(3)
                    own[3:, 3:] = slices * piece / 2
                    whole[places, places] += own
        for lump, point in self.lumps:
            node, carried = self.at(lump.at.bar, point)
            own = np.zeros((6, 6))
            own[:3, :3], own[3:, 3:] = float(lump.mass) * np.eye(3), np.array(lump.inertia)
            places = slice(FREEDOMS * node, FREEDOMS * node + FREEDOMS)
            whole[places, places] += carried.T @ own @ carried
        return whole.tocsc()
