"""What was pushed or tapped on the finished machine, and what its structure says of that same place and direction."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import plain, typical
from gantrywright.base.units import Array
from gantrywright.disciplines.structure.dynamics import COUNT, LONGEST
from gantrywright.disciplines.structure.statics import Solved, group_of, solved
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Machine, Observation
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.readings import Reading, ReadingBasis
from gantrywright.theory.frames.assembly import stiffness
from gantrywright.theory.frames.character import characters, node_masses, rigid_motions
from gantrywright.theory.frames.frame import PER_NODE
from gantrywright.theory.frames.mass import mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.modes import modes, sampled_frequencies, strain_shares
from gantrywright.theory.frames.regions import regions, strained
from gantrywright.theory.frames.skeleton import Skeleton
from gantrywright.theory.frames.solver import strains

OBSERVED = ("stiffness", "frequency")
TOLD = 0.02
"""Parts that hold less of what was read than this are not told."""
HEARD = 0.2
"""Other modes that answer at least so much of the loudest are told: a tap may have shown one of them; our choice."""
BETWEEN = ({"tool", "work"}, {"tool", "floor"})


def pose_at(machine: Machine, place: Vector) -> dict[str, float]:
    """Place of each axis, m, at which the tip of the tool is nearest to a place (from the machine's zero)."""
    pose: dict[str, float] = {}
    for axis in machine.axes:
        k = max(range(3), key=lambda number: abs(axis.direction[number]))
        pose[axis.name] = min(max(place[k] - machine.reach.least[k], 0.0), axis.travel)
    return pose


def readings(
    machine: Machine, skeleton: Skeleton, mesher: Mesher, ledger: Ledger, earlier: tuple[Reading, ...] = ()
) -> tuple[Reading, ...]:
    """Every reading of a stiffness or a frequency beside its prediction.

    Args:
        machine: Typical or sampled.
        skeleton: Of it.
        mesher: Of the skeleton.
        ledger: Where figures are written down: ``structure.reading.NAME``.
        earlier: Of the same machine with typical values: which mode was heard, and its shape, are kept.
    """
    known = {reading.name: reading for reading in earlier}
    found = []
    for seen in machine.observations:
        if seen.observe not in OBSERVED:
            continue
        missing = _missing(machine, seen)
        if missing:
            found.append(Reading(seen.name, seen.observe, seen.unit, seen.value, seen.uncertainty, None, "", missing=missing))
            continue
        read = _pushed if seen.observe == "stiffness" else _tapped
        reading = read(machine, skeleton, mesher, seen, known.get(seen.name))
        _write_down(reading, ledger)
        found.append(reading)
    return tuple(found)


def _missing(machine: Machine, seen: Observation) -> str:
    """What must be known before a reading can be compared; empty where all is."""
    if seen.value is None:
        return f"measured.{seen.name}.value (a table of readings is not opened)"
    if seen.along is None:
        return f"measured.{seen.name}.along"
    if seen.at is None and machine.tool is None:
        return f"measured.{seen.name}.at"
    if seen.between and set(seen.between) not in BETWEEN:
        return f"what lies between {' and '.join(seen.between)}: readings are compared between tool and work, or tool and floor"
    if seen.of:
        return f"what {seen.of} does alone: readings are compared at the tool only"
    return ""


def _pose(machine: Machine, seen: Observation) -> dict[str, float]:
    if seen.at is not None:
        return pose_at(machine, seen.at)
    whole = {axis.name: max(range(3), key=lambda k: abs(axis.direction[k])) for axis in machine.axes}
    return {name: machine.drawn_at[k] for name, k in whole.items()}


def _where(machine: Machine, pose: Mapping[str, float], seen: Observation) -> str:
    places = ", ".join(f"{name.upper()} {show(place, 'm', machine.show)}" for name, place in sorted(pose.items()))
    way = " ".join(f"{letter} {part:+.2g}" for letter, part in zip("XYZ", seen.along or (), strict=False) if abs(part) > 1e-6)
    one = [letter for letter, part in zip("XYZ", seen.along or (), strict=False) if abs(abs(part) - 1) < 1e-6]
    against = ", against the floor" if "floor" in seen.between else ""
    return f"along {one[0] if one else way}, axes at {places}{against}"


def _loads(here: Solved, seen: Observation) -> tuple[Array, Array]:
    """Unit load along the direction of the reading, and the local give of what the work lies on in it, shape (...)."""
    way = np.asarray(seen.along, dtype=float)
    if "floor" in seen.between:
        return here.mesh.tip_load[:, :3] @ way, np.zeros(())
    return here.mesh.load[:, :3] @ way, here.mesh.give[..., :3] @ way**2


def _pushed(machine: Machine, skeleton: Skeleton, mesher: Mesher, seen: Observation, known: Reading | None) -> Reading:
    """1 over the give along the direction of the push."""
    pose = _pose(machine, seen)
    here = solved(mesher, pose)
    load, local = _loads(here, seen)
    motions = here.under(load[:, None])
    give = motions.through(load[None, :])[..., 0, 0] + local
    held: tuple[tuple[str, float], ...] = known.held if known is not None else ()
    if known is None:
        energy = here.coefficients * motions.through(here.rows)[..., 0] ** 2 / give
        held = _held(skeleton, here, energy, (f"{skeleton.rest.part} (between its bearers)", float(local / give)))
    return Reading(
        seen.name, seen.observe, seen.unit, seen.value, seen.uncertainty, plain(1 / give), _where(machine, pose, seen), held=held
    )


def _tapped(machine: Machine, skeleton: Skeleton, mesher: Mesher, seen: Observation, known: Reading | None) -> Reading:
    """Frequency of the mode that answers loudest to a tap at the tool in that direction: of the lowest, the one that holds most of the give.

    Of a sampled machine by its typical shape.
    """
    pose = _pose(machine, seen)
    if known is None or known.basis is None:
        return _heard(machine, skeleton, mesher, seen, pose)
    basis = known.basis
    mesh = mesher.at(pose, longest=LONGEST)
    used = (basis.shares > 1e-9) & (basis.coefficients > 0)
    ratios = mesh.frame.coefficients[..., used] / basis.coefficients[used]
    frequency = sampled_frequencies(frequency=np.array([basis.frequency]), shares=basis.shares[used, None], ratios=ratios)
    return replace(known, measured=seen.value, predicted=plain(np.asarray(frequency)[..., 0]))


def _heard(machine: Machine, skeleton: Skeleton, mesher: Mesher, seen: Observation, pose: dict[str, float]) -> Reading:
    here = solved(mesher, pose, longest=LONGEST)
    mass = mass_matrix(here.mesh.frame)
    found = modes(stiffness(here.rows, here.coefficients), mass, min(COUNT, here.mesh.frame.freedoms))
    load, _ = _loads(here, seen)
    loud = (load @ found.shapes) ** 2 / np.where(found.squares > 0, found.squares, np.inf)
    one = int(np.argmax(loud))
    shares = np.asarray(strain_shares(stretches=strains(here.rows, found.shapes), coefficients=here.coefficients))
    where = regions(skeleton)
    sorted_ = strained(skeleton, where, here.mesh.element_bar)
    moved = rigid_motions(where, here.mesh.node_bar, here.mesh.frame.nodes, node_masses(mass), found.shapes)
    names = [character.words for character in characters(where, sorted_, sorted_.gathered(shares), moved)]
    others = [k for k in np.argsort(-loud) if k != one and loud[k] >= HEARD * loud[one]]
    return Reading(
        seen.name, seen.observe, seen.unit, seen.value, seen.uncertainty, float(found.frequencies[one]), _where(machine, pose, seen),
        mode=names[one], held=_held(skeleton, here, shares[:, one]),
        others=tuple((names[k], float(found.frequencies[k])) for k in others),
        basis=ReadingBasis(here.coefficients, shares[:, one], float(found.frequencies[one])),
    )  # fmt: skip


def _held(skeleton: Skeleton, here: Solved, by_coefficient: Array, *more: tuple[str, float]) -> tuple[tuple[str, float], ...]:
    """Groups of parts with what each holds, largest first, from the shares of a typical machine by coefficient, shape (c,)."""
    parts = [group_of(skeleton.bars[number]) for number in here.mesh.element_bar]
    labels = [*parts, *(group_of(tie) for tie in skeleton.ties)]
    found: dict[str, float] = dict(more)
    for label, share in zip(labels, by_coefficient.reshape(-1, PER_NODE).sum(axis=1), strict=True):
        found[label] = found.get(label, 0.0) + float(share)
    return tuple(pair for pair in sorted(found.items(), key=lambda pair: -pair[1]) if pair[1] >= TOLD)


def _write_down(reading: Reading, ledger: Ledger) -> None:
    word, formula = ("give", "k = 1 / (l^T K^-1 l)") if reading.observe == "stiffness" else ("strain", "det(K - (2 pi f)^2 M) = 0")
    inputs = {name: Named("", share, "", f"{name} holds {100 * share:.0f} % of the {word}") for name, share in reading.held[:8]}
    what = f"{reading.observe} {reading.where}" + (f": {reading.mode}" if reading.mode else "")
    measured = Named(f"measured.{reading.name}.value", reading.measured, reading.unit, f"what was read, {_said(reading)}")
    ledger.note(
        reading.figure, reading.predicted, unit=reading.unit, formula=formula, source="derived", title=f"Expected {what}",
        measured=measured, **inputs,
    )  # fmt: skip


def _said(reading: Reading) -> str:
    """How well it is known."""
    if reading.deviation is None or reading.measured is None:
        return "its uncertainty was not told"
    return f"+- {200 * reading.deviation / typical(reading.measured):.0f} %"
