"""How the machine rings: its natural modes where it is softest, what the tip answers to a force that swings, what a stop leaves."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import Array, Number
from gantrywright.disciplines.structure.loads import carried
from gantrywright.disciplines.structure.statics import Solved, group_of, solved
from gantrywright.disciplines.structure.stops import Stop, stops
from gantrywright.model.machine import Machine
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.motion import MotionResult
from gantrywright.results.structure import LETTERS, Drawing, Mode, RingBasis, Shape, Tip, TipMotion, TipResponse
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.character import characters, node_masses, rigid_motions
from gantrywright.theory.frames.frame import PER_NODE, Numbers
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesh, Mesher
from gantrywright.theory.frames.modes import (
    Modes,
    damping_ratio,
    kinetic_shares,
    modal_loss,
    modes,
    strain_shares,
)
from gantrywright.theory.frames.regions import regions, strained
from gantrywright.theory.frames.response import receptance, weakest, worth_looking
from gantrywright.theory.frames.skeleton import Skeleton
from gantrywright.theory.frames.solver import strains
from gantrywright.theory.frames.tip_modes import tip_modes
from gantrywright.theory.frames.transients import swing_per_acceleration

if TYPE_CHECKING:
    from scipy.sparse import csr_array

LONGEST = 0.3
"""Bars are split until no element is longer, m: the modes that matter then stay within a tenth of a per cent of a mesh twice as fine."""
COUNT = 30
"""Lowest modes, all of which are looked for."""
ABOUT, BLOCKS = 300.0, 10
"""Above them, modes that a force at the tip stirs are looked for about this frequency, Hz, with so many blocks of vectors."""
HIGH_SHARE, HIGH_DOUBT = 0.01, 0.1
"""Those of them are told that hold more of the tip's give than this, where their squared frequency is known as well as that."""
LOWEST, HIGHEST, LOOKS = 5.0, 2000.0, 400
"""Frequencies at which the tip's answer is worked out, Hz."""
LEAST_LOSS = 0.001
"""Loss factor that no built machine goes below, even where that of its materials is unknown; common practice, no source."""
TOLD = 0.02
"""Parts that hold less of a mode's energy than this are not told."""
DRAWN = 10
"""Modes that are drawn."""


@dataclass(frozen=True, slots=True)
class Ringing:
    """Everything dynamic at the worst pose."""

    modes: tuple[Mode, ...]
    response: TipResponse
    stops: Mapping[str, Stop]
    """By axis."""
    basis: RingBasis
    drawing: Drawing
    tip: TipMotion


def ring(machine: Machine, skeleton: Skeleton, mesher: Mesher, worst: Tip, motion: MotionResult, ledger: Ledger) -> Ringing:
    """Modes, answer at the tip and ringing after a stop, where the machine is softest.

    Args:
        machine: With typical values.
        skeleton: Of the machine.
        mesher: Of the skeleton.
        worst: Give at the pose that is looked at.
        motion: What each axis promises.
        ledger: Where figures are written down.
    """
    here = solved(mesher, worst.pose, longest=LONGEST)
    mass = mass_matrix(here.mesh.frame)
    whole, chosen = _found(here, mass, worst.give)
    shares = np.asarray(strain_shares(stretches=strains(here.rows, whole.shapes), coefficients=here.coefficients))
    damping = _damping(shares, losses(skeleton, here.mesh))
    tip = here.mesh.load.T @ whole.shapes
    motion_of_tip = TipMotion(dict(worst.pose), whole.squares, tip, damping, worst.give)
    tip = tip[:3]
    found, at_tip, own = Modes(whole.frequencies[chosen], whole.shapes[:, chosen]), tip[:, chosen], shares[:, chosen]
    static = worst.give[:3, :3]
    told = _modes(skeleton, here, mass, found, own, damping[chosen], at_tip, np.diagonal(static))
    momenta = {axis.name: mass @ carried(skeleton, here, axis) for axis in machine.axes}
    swings = {
        name: np.asarray(swing_per_acceleration(at_tip=at_tip, shapes=found.shapes, momentum=momentum, squares=found.squares))
        for name, momentum in momenta.items()
    }
    write_down(told, ledger)
    response = _response(whole, found.frequencies, tip, damping, static, ledger)
    basis = RingBasis(
        dict(worst.pose), here.coefficients, here.prepared, mass, here.mesh.load[:, :3], whole, chosen, own, momenta, swings, told
    )
    ended = stops(machine, motion, told, swings, found.frequencies, damping[chosen], ledger)
    return Ringing(told, response, ended, basis, _drawing(skeleton, here.mesh, found, told, worst.pose), motion_of_tip)


def _found(here: Solved, mass: "csr_array", give: Array) -> tuple[Modes, Numbers]:
    """The lowest modes with what else answers at the tip, and the numbers of those that are told: the lowest, and higher ones that count."""
    held = stiffness(here.rows, here.coefficients)
    lowest = modes(held, mass, min(COUNT, here.mesh.frame.freedoms))
    loads = here.mesh.load[:, :3]
    more = tip_modes(held, mass, loads, lowest, about=ABOUT, blocks=BLOCKS)
    whole = more.modes
    holds = (loads.T @ whole.shapes) ** 2 / np.where(whole.squares > 0, whole.squares, np.inf) / np.diagonal(give)[:3, None]
    counts = (holds.max(axis=0) > HIGH_SHARE) & (more.doubt < HIGH_DOUBT) & (whole.frequencies < HIGHEST)
    counts[: len(lowest.frequencies)] = True
    return whole, np.flatnonzero(counts)


def losses(skeleton: Skeleton, mesh: Mesh) -> Array:
    """Loss factor of every natural coefficient, shape (..., c)."""
    of_bars = _stacked(bar.loss for bar in skeleton.bars)[..., mesh.element_bar]
    of_ties = _stacked(tie.loss for tie in skeleton.ties)
    lead = np.broadcast_shapes(of_bars.shape[:-1], of_ties.shape[:-1])
    both = [np.broadcast_to(part, (*lead, part.shape[-1])) for part in (of_bars, of_ties)]
    return np.repeat(np.concatenate(both, axis=-1), PER_NODE, axis=-1)


def _stacked(values: Iterable[Number]) -> Array:
    listed = list(values)
    return np.stack(np.broadcast_arrays(*listed), axis=-1).astype(float) if listed else np.zeros(0)


def _damping(shares: Array, losses: Array) -> Array:
    """Damping ratio of each mode, shape (m,)."""
    loss = np.maximum(np.asarray(modal_loss(shares=shares, loss=losses)), LEAST_LOSS)
    return np.asarray(damping_ratio(loss=loss))


def _modes(
    skeleton: Skeleton, here: Solved, mass: "csr_array", found: Modes, shares: Array, damping: Array, at_tip: Array, give: Array
) -> tuple[Mode, ...]:
    """Every mode with its name, its part in the give and who holds it."""
    mesh = here.mesh
    where = regions(skeleton)
    sorted_ = strained(skeleton, where, mesh.element_bar)
    weights = node_masses(mass)
    moved = rigid_motions(where, mesh.node_bar, mesh.frame.nodes, weights, found.shapes)
    names = characters(where, sorted_, sorted_.gathered(shares), moved)
    of_bars = [group_of(skeleton.bars[number]) for number in mesh.element_bar]
    per_element = shares.reshape(-1, PER_NODE, shares.shape[1]).sum(axis=1)
    strain = _by_group([*of_bars, *(group_of(tie) for tie in skeleton.ties)], per_element)
    moving = np.asarray(kinetic_shares(frame=mesh.frame, shapes=found.shapes))
    kinetic = _by_group([*of_bars, *(lump.part for lump in skeleton.lumps)], moving)
    held = at_tip**2 / np.where(found.squares > 0, found.squares, np.inf) / give[:, None]
    return tuple(
        Mode(k + 1, float(found.frequencies[k]), names[k].words, float(damping[k]), _three(held[:, k]), strain[k], kinetic[k])
        for k in range(len(damping))
    )


def _by_group(labels: list[str], shares: Array) -> list[tuple[tuple[str, float], ...]]:
    """What each group holds of each mode, largest first; shares by element, shape (e, m)."""
    names = list(dict.fromkeys(labels))
    at = {name: number for number, name in enumerate(names)}
    table = np.zeros((len(names), shares.shape[1]))
    np.add.at(table, np.array([at[label] for label in labels], dtype=np.intp), shares)
    order = np.argsort(-table, axis=0, kind="stable")
    return [
        tuple((names[k], float(table[k, mode])) for k in order[:, mode] if table[k, mode] >= TOLD) for mode in range(table.shape[1])
    ]


def write_down(told: tuple[Mode, ...], ledger: Ledger) -> None:
    """Frequency and damping of every mode with who holds its strain."""
    for mode in told:
        path = f"structure.mode.{mode.number}"
        inputs = {
            name: Named("", share, "", f"holds {100 * share:.0f} % of the strain, so 1 % stiffer raises it by {share / 2:.2f} %")
            for name, share in mode.strain[:6]
        }
        ledger.note(
            f"{path}.frequency", mode.frequency, unit="Hz", formula="det(K - (2 pi f)^2 M) = 0", source="derived",
            title=f"Natural frequency of {mode.name}, where the machine is softest", **inputs,
        )  # fmt: skip
        ledger.note(
            f"{path}.damping", mode.damping, unit="", formula="zeta_r = sum_k eta_k U_k,r/(2 U_r)", source="johnson-kienholz-1982",
            title=f"Damping ratio of {mode.name}", **inputs,
        )  # fmt: skip


def _response(found: Modes, told: Array, at_tip: Array, damping: Array, static: Array, ledger: Ledger) -> TipResponse:
    """Over frequencies that miss none of the modes that are told."""
    near = damping[np.searchsorted(found.frequencies, told)]
    looked = worth_looking(modes=told, damping=near, lowest=LOWEST, highest=HIGHEST, count=LOOKS)
    answer = np.asarray(receptance(frequencies=looked, squares=found.squares, at_tip=at_tip, damping=damping, static=static))
    worst = weakest(looked, answer)
    formula = "H = sum_r phi_r^2/(w_r^2 - w^2 + 2 j zeta_r w w_r) + C_0 - sum_r phi_r^2/w_r^2"
    for k, letter in enumerate(LETTERS):
        nearest = int(np.argmin(np.abs(told - worst.frequency[k]))) + 1
        inputs = {
            "frequency": ledger.named(f"structure.mode.{nearest}.frequency"),
            "damping": ledger.named(f"structure.mode.{nearest}.damping"),
            "static": Named(f"structure.tip.stiffness_{letter}", 1 / static[k, k], "N/m", "static stiffness at the same place"),
        }
        ledger.note(
            f"structure.tip.peak_{letter}", float(worst.peak[k]), unit="m/N", formula=f"max |H|, {formula}", source="derived",
            title=f"Greatest give along {letter.upper()} under a swinging force, at {worst.frequency[k]:.0f} Hz", **inputs,
        )  # fmt: skip
        ledger.note(
            f"structure.tip.lowest_real_{letter}", float(worst.least_real[k]), unit="m/N", formula=f"min Re H, {formula}", source="derived",
            title=f"Most negative real part of the give along {letter.upper()}, at {worst.least_real_frequency[k]:.0f} Hz: what limits chatter",
            **inputs,
        )  # fmt: skip
    own = np.diagonal(answer, axis1=-2, axis2=-1)
    return TipResponse(looked, own, _three(worst.peak), _three(worst.frequency), _three(worst.least_real))


def _drawing(skeleton: Skeleton, mesh: Mesh, found: Modes, told: tuple[Mode, ...], pose: Mapping[str, float]) -> Drawing:
    """The first modes, each scaled to a greatest shift of 1."""
    parts = [skeleton.bars[number].part for number in mesh.element_bar]
    lines = tuple((int(a), int(b), part) for (a, b), part in zip(mesh.frame.bars.ends, parts, strict=True))
    shapes = []
    for mode in told[:DRAWN]:
        moved = found.shapes[:, mode.number - 1].reshape(-1, PER_NODE)
        moved = moved / np.sqrt((moved[:, :3] ** 2).sum(axis=1).max())
        shapes.append(Shape(f"mode {mode.number}, {typical(mode.frequency):.0f} Hz: {mode.name}", moved[:, :3], moved[:, 3:]))
    return Drawing(dict(pose), mesh.frame.nodes, lines, tuple(shapes))


def _three(values: Array) -> tuple[float, float, float]:
    return (float(values[0]), float(values[1]), float(values[2]))
