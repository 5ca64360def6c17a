"""The structure solved at one pose: give of the tip, and what each part holds of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from gantrywright.base.samples import plain, typical
from gantrywright.base.units import Array, Number
from gantrywright.results.structure import Share, Tip
from gantrywright.theory.frames.assembly import stretches
from gantrywright.theory.frames.frame import PER_NODE
from gantrywright.theory.frames.mesh import Mesh, Mesher
from gantrywright.theory.frames.motions import Motions
from gantrywright.theory.frames.reduced import solve_samples
from gantrywright.theory.frames.skeleton import Bar, Skeleton, Tie
from gantrywright.theory.frames.solver import Prepared, prepare

WAYS = ("axial", "torsion", "bending", "shear")
BAR_WAYS = (0, 1, 2, 2, 2, 2)
"""Way of each natural coefficient of a bar; what shear holds of the two that mix is taken off later."""
MIXED = ((3, 0), (5, 1))
"""Coefficients that bend and shear, with the column of `Bars.bending` that tells them apart."""


@dataclass(frozen=True, slots=True)
class Solved:
    """One pose, ready for any load."""

    mesh: Mesh
    rows: Any
    prepared: Prepared
    coefficients: Array

    def under(self, loads: Array) -> Motions:
        """Motions under loads of shape (6 n, k).

        One set of stiffnesses is solved to the last digits; samples do without, and are solved together.
        """
        if self.coefficients.ndim > 1:
            return solve_samples(self.prepared, self.coefficients, loads, ties=len(self.mesh.frame.springs.ends))
        return Motions(self.prepared.solve(self.coefficients, loads, polish=True))

    def at_tip(self, motions: Motions) -> Array:
        """Motion of the tool against the work, shape (..., 6, k); the local give of what the work lies on is not in it."""
        return motions.through(self.mesh.load.T)


def solved(mesher: Mesher, pose: Mapping[str, float], *, longest: float | None = None, bare: bool = False) -> Solved:
    """Assemble a pose; for the arguments see `Mesher.at`."""
    mesh = mesher.at(pose, longest=longest, bare=bare)
    rows = stretches(mesh.frame)
    coefficients = mesh.frame.coefficients
    used = np.any(coefficients.reshape(-1, coefficients.shape[-1]) != 0, axis=0)
    return Solved(mesh, rows, prepare(rows, used), coefficients)


def give_of(pose: Solved, motions: Motions) -> Array:
    """Give of the tool against the work under unit loads, local give included: shape (..., 6, 6)."""
    give = pose.at_tip(motions)
    local = pose.mesh.give
    give = np.broadcast_to(give, np.broadcast_shapes(give.shape, (*local.shape[:-1], 6, 6))).copy()
    give[..., np.arange(6), np.arange(6)] += local
    return give


def tip_answer(skeleton: Skeleton, pose: Mapping[str, float], here: Solved, motions: Motions) -> Tip:
    """Give, stiffness and shares from the motions under the six unit loads at the tip."""
    give = give_of(here, motions)
    linear = give[..., :3, :3]
    values, vectors = np.linalg.eigh(_typical(linear))
    softest = vectors[:, -1] * np.sign(vectors[np.argmax(np.abs(vectors[:, -1])), -1])
    stretch = motions.of(slice(3)).through(here.rows)
    cases = np.concatenate((stretch, stretch @ softest[:, None]), axis=-1)
    energy = here.coefficients[..., None] * cases**2
    total = np.concatenate(
        (np.diagonal(linear, axis1=-2, axis2=-1), np.einsum("i,...ij,j->...", softest, linear, softest)[..., None]), axis=-1
    )
    shares = _shares(skeleton, pose, here, energy / total[..., None, :], softest, total)
    least = 1 / (values[-1] if linear.ndim == 2 else np.linalg.eigvalsh(linear)[..., -1])
    stiffness = tuple(plain(1 / linear[..., k, k]) for k in range(3))
    place = _tip(skeleton, pose)
    return Tip(dict(pose), place, give, stiffness, plain(least), tuple(float(v) for v in softest), shares)  # type: ignore[arg-type]


def _tip(skeleton: Skeleton, pose: Mapping[str, float]) -> tuple[float, float, float]:
    body = skeleton.bars[skeleton.tip.bar].body
    place = np.array(skeleton.tip.point) + skeleton.shifts(pose).get(body, np.zeros(3))
    return (float(place[0]), float(place[1]), float(place[2]))


def _shares(
    skeleton: Skeleton, pose: Mapping[str, float], here: Solved, part: Array, softest: Array, total: Array
) -> tuple[Share, ...]:
    """Shares by part from those by coefficient, shape (..., c, 4): along X, Y, Z and the softest direction."""
    split = PER_NODE * len(here.mesh.frame.bars.length)
    found = [*_of_bars(skeleton, here, part[..., :split, :]), *_of_ties(skeleton, pose, part[..., split:, :])]
    local = here.mesh.give[..., :3, None] * np.concatenate((np.eye(3), softest[:, None]), axis=1) ** 2 / total[..., None, :]
    if skeleton.rest.part and np.any(local):
        found.append(_share(f"{skeleton.rest.part} (between its bearers)", "sheet", skeleton.rest.part, local.sum(axis=-2)))
    return tuple(sorted(found, key=lambda share: -typical(share.weakest)))


def _of_bars(skeleton: Skeleton, here: Solved, part: Array) -> list[Share]:
    """Shares of the bars, split by how each gives."""
    bars, owner = here.mesh.frame.bars, here.mesh.element_bar
    each = part.reshape(*part.shape[:-2], len(owner), PER_NODE, part.shape[-1])
    cut = sum(each[..., n, :] * _shear(bars.stiffness[..., n], bars.bending[..., k])[..., None] for n, k in MIXED)
    ways = np.stack((each[..., 0, :], each[..., 1, :], each[..., 2:, :].sum(axis=-2) - cut, cut), axis=-2)
    first = np.flatnonzero(np.diff(owner, prepend=-1))  # elements come sorted by bar
    by_bar = np.add.reduceat(ways, first, axis=-3) if len(first) else ways
    whole = by_bar.sum(axis=-2)
    numbers = by_bar.tolist() if by_bar.ndim == 3 else None
    found = []
    for n, bar in enumerate(skeleton.bars[number] for number in owner[first]):
        rows = [row[:3] for row in numbers[n]] if numbers else np.moveaxis(by_bar[..., n, :, :3], 0, -1)
        by_way = dict(zip(WAYS, map(tuple, rows), strict=True))
        found.append(_share(bar.part, bar.kind, group_of(bar), whole[..., n, :], by_way))
    return found


def _of_ties(skeleton: Skeleton, pose: Mapping[str, float], part: Array) -> list[Share]:
    """Shares of the ties, those of one part together; a tie of several links is told link by link."""
    springs = part.reshape(*part.shape[:-2], len(skeleton.ties), PER_NODE, part.shape[-1]).sum(axis=-2)
    together: dict[str, list[int]] = {}
    for number, tie in enumerate(skeleton.ties):
        together.setdefault(tie.part, []).append(number)
    found: list[Share] = []
    drawn = {motion.axis: motion.drawn for motion in skeleton.motions}
    for path, numbers in together.items():
        tie, held = skeleton.ties[numbers[0]], springs[..., numbers[0], :]
        if len(numbers) > 1:
            held = springs[..., numbers, :].sum(axis=-2)
        if tie.links is None:
            found.append(_share(path, tie.kind, group_of(tie), held))
            continue
        links = tie.links(pose.get(tie.axis, drawn.get(tie.axis, 0.0)))
        gives = {name: 1 / np.asarray(k) for name, k in links.items()}
        whole = sum(gives.values())
        found.extend(_share(name, tie.kind, path, held * np.asarray(give / whole)[..., None]) for name, give in gives.items())
    return found


def group_of(one: Bar | Tie) -> str:
    """What is changed together with a bar or a tie: all blocks of an axis, all of one drive."""
    if isinstance(one, Tie) and one.kind == "block":
        return f"axis.{one.axis}.blocks"
    return ".".join(one.part.split(".")[:4]) if one.kind == "drive" else one.part


def _share(
    part: str, kind: str, group: str, whole: Array, by_way: Mapping[str, tuple[Number, Number, Number]] | None = None
) -> Share:
    """One share, from what it holds along X, Y, Z and the softest direction: shape (..., 4)."""
    x, y, z, weakest = whole.tolist() if whole.ndim == 1 else np.moveaxis(whole, -1, 0)
    return Share(part, kind, group, (x, y, z), weakest, by_way or {})


def _shear(stiffness: Array, bending: Array) -> Array:
    """Share of a mixed coefficient's energy that is shear: 1 - d/d_bending."""
    return 1 - stiffness / bending


def _typical(values: Array) -> Array:
    return values if values.ndim == 2 else np.asarray(np.median(values.reshape(-1, *values.shape[-2:]), axis=0))


__all__ = ["Bar", "Solved", "give_of", "solved", "tip_answer"]
