"""Names of modes in the words of the trade, from where their strain is and how the parts that carry it move.

The strain energy of a mode is split among characters: each region hands its share to the character that fits, or to several as its parts
move (what the frame holds goes to racking as far as the frame turns about the upright, to sway as far as it goes across, and so on). The
shares of the characters sum to 1; the largest names the mode.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gantrywright.base.units import Array
from gantrywright.theory.frames.frame import PER_NODE, Numbers
from gantrywright.theory.frames.regions import (
    BEAM,
    BED,
    CUTTER,
    DRIVE,
    FEET,
    FRAME,
    HEAD,
    SPINDLE,
    STRETCH,
    TABLE,
    TWIST,
    UPRIGHT,
    Regions,
    Strained,
)  # fmt: skip

ALSO = 0.2
"""Share from which a second character is told, too."""
SKEW = 0.3
"""Weight of the turns of the nodes against their shifts when a rigid motion is fitted: it only tells how a straight row of nodes turns."""
LETTERS = "XYZ"
FITTED = {FEET: (), BED: (BED,), FRAME: (FRAME, BEAM), HEAD: (HEAD,), TABLE: (TABLE,), SPINDLE: (SPINDLE,), CUTTER: (CUTTER,)}
"""Regions whose bars make up what moves; none: everything."""


@dataclass(frozen=True, slots=True)
class RigidMotion:
    """How a group of nodes moves on the whole, one mode a column."""

    shift: Array
    """Of its centre, shape (3, m)."""
    turn: Array
    """rad, shape (3, m)."""
    radius: Array
    """Of gyration about X, Y, Z, m, shape (3,)."""
    centre: Array
    """m, shape (3,)."""
    rigid: Array
    """Part of the group's motion that is such, by energy, shape (m,); the rest is bending of its own."""

    def against(self, other: "RigidMotion") -> "RigidMotion":
        """The same as seen from another group that moves on rigidly to where this one is."""
        carried = other.shift + np.cross(other.turn.T, self.centre - other.centre).T
        return RigidMotion(self.shift - carried, self.turn - other.turn, self.radius, self.centre, self.rigid)

    def parts(self, across: int) -> Array:
        """Shares of the motion: going across or leaning that way, going along or nodding, going up, turning about the upright.

        Each by the square of the speed that it gives to the mass; shape (4, m), summing to 1.
        """
        along = 1 - across
        goes, turns = self.shift**2, (self.radius[:, None] * self.turn) ** 2
        told = np.array([goes[across] + turns[along], goes[along] + turns[across], goes[2], turns[2]])
        whole = told.sum(axis=0)
        return np.where(whole > 0, told / np.where(whole > 0, whole, 1.0), 0.25)


@dataclass(frozen=True, slots=True)
class Character:
    """What a mode is."""

    name: str
    share: float
    """Part of its strain energy that speaks for the name."""
    also: tuple[tuple[str, float], ...]
    """Further characters of some weight with their shares, heaviest first."""

    @property
    def words(self) -> str:
        """The name, with what is mixed into it."""
        return " with ".join((self.name, *(name for name, _ in self.also[:1])))


def node_masses(mass: Array) -> Array:
    """Mass that moves with each node when all shift alike, kg, shape (n,).

    Args:
        mass: Of all degrees of freedom (dense or sparse).
    """
    alike = np.zeros((mass.shape[0] // PER_NODE, PER_NODE))
    alike[:, 0] = 1.0
    told: Array = (mass @ alike.ravel()).reshape(-1, PER_NODE)[:, 0]
    return told


def rigid_motion(nodes: Array, weights: Array, shapes: Array) -> RigidMotion:
    """The rigid motion that comes nearest to that of some nodes, by least squares with their masses.

    Args:
        nodes: Regions, m, shape (n, 3).
        weights: Masses, above 0, shape (n,).
        shapes: Motions, shape (n, 6, m).
    """
    weights = weights / weights.sum()
    centre = weights @ nodes
    arms = nodes - centre
    second = np.einsum("n,ni,nj->ij", weights, arms, arms)
    spread = np.trace(second)
    own = SKEW**2 * spread if spread > 0 else 1.0
    shift = np.einsum("n,nim->im", weights, shapes[:, :3])
    moment = np.einsum("n,nim->im", weights, np.cross(arms[:, :, None], shapes[:, :3], axis=1))
    moment += own * np.einsum("n,nim->im", weights, shapes[:, 3:])
    inertia = spread * np.eye(3) - second
    turn = np.linalg.solve(inertia + own * np.eye(3), moment)
    whole = np.einsum("n,nim->m", weights, shapes[:, :3] ** 2)
    fitted = (shift**2).sum(axis=0) + np.einsum("im,ij,jm->m", turn, inertia, turn)
    rigid = np.clip(fitted / np.where(whole > 0, whole, 1.0), 0.0, 1.0)
    return RigidMotion(shift, turn, np.sqrt(np.diag(inertia)), centre, rigid)


def rigid_motions(where: Regions, node_bar: Numbers, nodes: Array, weights: Array, shapes: Array) -> dict[str, RigidMotion]:
    """Rigid motion of every group that has a part in a name, in the machine frame.

    Args:
        where: Regions of the skeleton.
        node_bar: Bar of every node, shape (n,).
        nodes: Regions, m, shape (n, 3).
        weights: Masses of the nodes, shape (n,).
        shapes: Of the modes, shape (6 n, m).
    """
    of_nodes = np.array(where.bars, dtype=object)[node_bar]
    each = shapes.reshape(len(nodes), PER_NODE, -1)
    least = 1e-6 * weights.max()
    found = {}
    for group, wanted in FITTED.items():
        chosen = np.isin(of_nodes, wanted) if wanted else np.ones(len(nodes), dtype=bool)
        if chosen.any():
            found[group] = rigid_motion(nodes[chosen], np.maximum(weights[chosen], least), each[chosen])
    return found


def characters(where: Regions, strained: Strained, table: Array, motions: Mapping[str, RigidMotion]) -> tuple[Character, ...]:
    """Name every mode.

    Args:
        where: Regions of the skeleton.
        strained: How the rows of the table sit.
        table: Strain shares by label, from `Strained.gathered`, shape (labels, m).
        motions: From `rigid_motions`.
    """
    scores: dict[str, Array] = {}
    for (region, way), shares in zip(strained.labels, table, strict=True):
        for name, part in _shared(region, way, where, motions, shares):
            scores[name] = scores.get(name, 0.0) + part
    names = tuple(scores)
    return tuple(_named(names, column) for column in np.array([scores[name] for name in names]).T)


def _named(names: tuple[str, ...], scores: Array) -> Character:
    order = np.argsort(-scores, kind="stable")
    also = tuple((names[k], float(scores[k])) for k in order[1:] if scores[k] >= ALSO)
    return Character(names[order[0]], float(scores[order[0]]), also)


def _shared(region: str, way: str, where: Regions, motions: Mapping[str, RigidMotion], shares: Array) -> list[tuple[str, Array]]:
    """Which characters a region hands its strain to."""
    across = where.across
    over, along = LETTERS[across], LETTERS[1 - across]
    gantry, table, stand = (where.name(each) for each in (FRAME, TABLE, BED))
    frame = motions[FRAME].parts(across) if FRAME in motions else np.tile([[0.0], [1.0], [0.0], [0.0]], shares.shape)
    if region == FEET:
        names = (
            f"rocking on the feet along {over}",
            f"rocking on the feet along {along}",
            "bouncing on the feet",
            "turning on the feet",
        )
        return list(zip(names, motions[FEET].parts(across) * shares, strict=True))
    if region == FRAME or (region == BEAM and way == STRETCH):
        names = (f"frame sway along {over}", f"{gantry} nod along {along}", f"{gantry} bounce", f"{gantry} racking")
        return list(zip(names, frame * shares, strict=True))
    if region == BEAM:
        named = {TWIST: "beam torsion", UPRIGHT: "beam bending up and down"}
        if way in named:
            return [(named[way], shares)]
        return [(f"beam bending along {along}", shares * (1 - frame[3])), (f"{gantry} racking", shares * frame[3])]
    if region.startswith(DRIVE):
        axis = region.removeprefix(DRIVE).strip()
        name = f"bouncing on the drive of {axis}"
        if axis in where.beam_axes:
            return [(name, shares * (1 - frame[3])), (f"{gantry} racking", shares * frame[3])]
        return [(name, shares)]
    if region == HEAD:
        names = (f"head leaning along {over}", "head nod", "head bounce", "head twist")
        return list(zip(names, _against(motions, HEAD, FRAME).parts(across) * shares, strict=True))
    if region == TABLE:
        names = (f"{table} rocking along {over}", f"{table} rocking along {along}", f"{table} bounce", f"{table} turning")
        return list(zip(names, motions[TABLE].parts(across) * shares, strict=True))
    if region in (SPINDLE, CUTTER):
        below = HEAD if region == SPINDLE else SPINDLE
        names = (f"{region} bending along {over}", f"{region} bending along {along}", f"{region} bounce", f"{region} turning")
        return list(zip(names, _against(motions, region, below).parts(across) * shares, strict=True))
    own = f"{stand} torsion" if way == TWIST else f"{stand} bending"
    if BED not in motions:
        return [(own, shares)]
    bed = motions[BED]
    names = (f"{stand} swaying along {over}", f"{stand} swaying along {along}", f"{stand} bouncing", f"{stand} turning")
    return [(own, shares * (1 - bed.rigid)), *zip(names, bed.parts(across) * bed.rigid * shares, strict=True)]


def _against(motions: Mapping[str, RigidMotion], group: str, base: str) -> RigidMotion:
    """Motion of a group against what carries it, where both are there."""
    if group not in motions:
        return motions[FEET]
    return motions[group].against(motions[base]) if base in motions else motions[group]
