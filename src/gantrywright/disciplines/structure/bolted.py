"""Whether bolted joints hold by friction and stay closed, and whether the feet stay on the floor.

Every joint is judged in the worst of a fixed list of cases: the weight, one axis accelerating either way or none, and the peak of the cut
in eight directions of the table's plane with its axial part either way. Slip, opening and shear each have a worst case of their own; it is
found from typical values and then looked at with samples.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from gantrywright.base.samples import along_grid, least, plain, typical
from gantrywright.base.units import Array, Newton, Real
from gantrywright.catalog.kinds import Thread
from gantrywright.catalog.rows import record_of
from gantrywright.catalog.tables import Catalog, packaged
from gantrywright.disciplines.structure.clamping import clamp_of
from gantrywright.disciplines.structure.loads import LoadCases
from gantrywright.disciplines.structure.stops import used_accel
from gantrywright.model.bodies import Joint
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Machine
from gantrywright.results.cutting import CuttingResult
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.structure import BoltedAnswer
from gantrywright.theory.bolt_groups import bolt_forces, clamps, levered_pull, opening_utilisation, slip_utilisation
from gantrywright.theory.frames.frame import PER_NODE
from gantrywright.theory.frames.skeleton import Skeleton
from gantrywright.theory.threads import SCREW_CLASSES

DIRECTIONS = 8
SCREW_SHARE = 0.0
"""Part of an outer pull that the screw itself feels: none, so that all of it is taken off the faces."""
FAR = 999.0
"""A joint that nothing presses together is told as used so many times over."""
NARROW = 0.005
"""Lever of faces that are no wider than this, m."""
KINDS = ("bolted", "end-tapped", "bracket")


@dataclass(frozen=True, slots=True)
class Case:
    """One combination of loads: how much of every unit case acts."""

    words: str
    factors: Array
    """Shape (..., k), columns as in `LoadCases`."""
    axis: str = ""
    """Name of the axis that accelerates; empty where none does."""


def cases_of(machine: Machine, cases: LoadCases, cutting: CuttingResult, accelerations: Mapping[str, Real]) -> list[Case]:
    """Every combination that is looked at; how many there are never depends on a number."""
    columns = cases.motions.cases
    pushes: list[tuple[str, str, dict[int, Real]]] = [("", "", {})]
    for axis in machine.axes:
        if axis.name in accelerations:
            accel = used_accel(axis, accelerations[axis.name])
            pushes += [(axis.name, f"{axis.name.upper()} accelerates {way}", {cases.accel(axis.name): sign * accel}) for way, sign in (("+", 1), ("-", -1))]  # fmt: skip
    cuts: list[tuple[str, dict[int, Real]]] = []
    for number in range(DIRECTIONS):
        angle = 2 * np.pi * number / DIRECTIONS
        for sign in (1, -1):
            plane = {0: np.cos(angle) * cutting.peak_in_plane, 1: np.sin(angle) * cutting.peak_in_plane}
            words = f"the cut pushes at {360 * number // DIRECTIONS} deg of X and {'up' if sign > 0 else 'down'}"
            cuts.append((words, {**plane, 2: sign * cutting.peak_axial}))
    found = []
    for name, words, push in pushes:
        for said, cut in cuts:
            values = {cases.weight: 1.0, **push, **cut}
            row = [np.asarray(values.get(column, 0.0), dtype=float) for column in range(columns)]
            told = ", ".join(part for part in (words, said) if part)
            found.append(Case(told, np.stack(np.broadcast_arrays(*row), axis=-1), name))
    return found


def bolted(
    machine: Machine, skeleton: Skeleton, cases: LoadCases, combined: list[Case], ledger: Ledger
) -> tuple[BoltedAnswer, ...]:
    """Every joint that bolts hold.

    Args:
        machine: Typical or sampled.
        skeleton: Of it.
        cases: Unit loads at the pose where the machine is softest.
        combined: From `cases_of`.
        ledger: Where figures are written down: ``PATH.slip`` and ``PATH.opening``.
    """
    found = []
    rows = np.stack([c.factors if c.factors.ndim == 1 else np.median(c.factors, axis=0) for c in combined], axis=-1)
    for joint in machine.joints:
        if joint.kind not in KINDS:
            continue
        ties = [number for number, tie in enumerate(skeleton.ties) if tie.part == joint.path]
        if ties:
            found.append(_answer(joint, _wrench(skeleton, cases, ties, joint.points[0]), combined, rows, ledger))
        elif joint.bolts:
            found.append(BoltedAnswer(joint.path, None, None, None, missing="its springs (what it joins, or what that is made of)"))
    return tuple(found)


def _wrench(skeleton: Skeleton, cases: LoadCases, ties: list[int], at: Vector) -> Array:
    """Outer force and moment on the part that the normal points to, machine axes, of each unit case: shape (..., 6, k)."""
    whole: Array = np.zeros((*cases.tie_forces.shape[:-3], PER_NODE, cases.tie_forces.shape[-1]))
    for number in ties:
        tie = skeleton.ties[number]
        axes = np.array(tie.axes)
        force, moment = (
            np.einsum("ji,...jk->...ik", axes, cases.tie_forces[..., number, part, :]) for part in (slice(0, 3), slice(3, 6))
        )
        arm = np.array(tie.b.point) - np.array(at)
        whole[..., :3, :] += force
        whole[..., 3:, :] += moment + np.cross(arm, force, axisb=-2, axisc=-2)
    return whole


def _missing(joint: Joint, thread: Thread | None) -> str:
    """What must be known before the joint is judged; empty where all is."""
    if not joint.bolt_points:
        return "its bolts (bolts of the joint or of its body)"
    if joint.kind == "bracket":
        return "how the screws of its bracket lie: they press other faces than the two parts that touch"
    if thread is None:
        return f"the thread {joint.thread!r}"
    if joint.bolt_class not in SCREW_CLASSES:
        return f"the strength of class {joint.bolt_class!r}"
    return "its friction" if joint.friction is None else joint.bolting.missing


def _answer(joint: Joint, wrench: Array, combined: list[Case], rows: Array, ledger: Ledger) -> BoltedAnswer:
    """One joint; ``rows`` holds the typical factors of all cases, shape (k, cases)."""
    thread = _thread(joint.thread)
    points = joint.bolt_points
    missing = _missing(joint, thread)
    if missing or thread is None or joint.friction is None:
        return BoltedAnswer(joint.path, None, None, None, missing=missing)
    path = f"structure.joint.{joint.path.replace(' + ', '+')}"
    clamp = clamp_of(joint, thread, ledger, path)
    if np.ndim(clamp.least) and wrench.ndim == 2:  # screws are uncertain in a structure that is not
        wrench = np.broadcast_to(wrench, (np.size(clamp.least), *wrench.shape))
    pressed = typical(thread.diameter or 0.0)  # a head presses on a ring of about this radius
    typical_wrench = wrench if wrench.ndim == 2 else np.median(wrench.reshape(-1, *wrench.shape[-2:]), axis=0)
    every = _utilised(joint, typical_wrench @ rows, typical(clamp.least), typical(joint.friction), pressed)
    worst = [combined[int(np.argmax(use))] for use in every]
    factors = np.stack(np.broadcast_arrays(*(case.factors for case in worst)), axis=-1)
    acting = np.moveaxis(np.einsum("...ik,...kc->...ic", wrench, factors), -2, 0)
    slip, opening, shear = (
        use.max(axis=-1) for use in _utilised(joint, acting, along_grid(clamp.least), along_grid(joint.friction), pressed)
    )
    preloaded = ledger.named(f"{path}.clamp")
    slipping, gaping = ({"preload": preloaded, "bolts": Named("", len(points), "", f"worst: {case.words}")} for case in worst[:2])
    used = ledger.note(f"{path}.slip", plain(slip), unit="", source="derived", formula="load within the face over what friction holds", title="Use of the friction of a bolted joint", friction=Named("", joint.friction, "", f"of the faces: {joint.faces}"), **slipping)  # fmt: skip
    opened = ledger.note(f"{path}.opening", plain(opening), unit="", source="vdi-2230", formula="greatest pull on a bolt over its least preload", title="Use of the clamp force of a bolted joint", **gaping)  # fmt: skip
    return BoltedAnswer(
        joint.path, used, opened, plain(shear), worst[0].words, figure=path, worst_opening=worst[1].words, clamp=clamp.least, bears=clamp.bears,
        tightened=clamp.tightened, torque=clamp.torque, limited=clamp.words,
    )  # fmt: skip


def _lever(joint: Joint) -> float:
    """From the screws to the edge of the faces over which a single row would tip: half of the narrower side of the contact."""
    sides = [side for side in joint.patch if side > 0]
    return max(min(sides, default=2 * NARROW) / 2, NARROW)


def _utilised(joint: Joint, wrench: Array, preload: Newton, friction: Real, pressed: float) -> tuple[Array, Array, Array]:
    """Slip, opening and greatest shear under wrenches (6, ...)."""
    n = joint.frame[0]
    forces = bolt_forces(wrench=wrench, at=joint.points[0], points=joint.bolt_points, normal=n)
    pull = levered_pull(forces=forces, lever=_lever(joint))
    held = clamps(pull=pull, preload=preload, share=SCREW_SHARE)
    slip = slip_utilisation(
        wrench=wrench, at=joint.points[0], points=joint.bolt_points, normal=n, clamp=held, friction=friction, pressed_radius=pressed
    )
    opening = opening_utilisation(pull=pull, preload=preload, share=SCREW_SHARE)
    return np.minimum(slip, FAR), np.asarray(opening), np.asarray(forces.sideways.max(axis=0))


@cache
def _thread(name: str) -> Thread | None:
    """A thread of the packaged tables."""
    if name not in packaged("thread").index:
        return None
    record = record_of(Catalog().find("thread", name))
    return record if isinstance(record, Thread) else None


def least_foot(skeleton: Skeleton, cases: LoadCases, combined: list[Case], ledger: Ledger) -> tuple[Newton, Case] | None:
    """Least force that presses a foot on the floor over all cases and feet, and the case of it; negative where a foot would lift.

    The machine is as it stands at the softest pose; the floor is taken to hold a foot down as well as up, so that a negative force says which
    way it wants to go, not how far.
    """
    feet = [number for number, tie in enumerate(skeleton.ties) if tie.kind == "foot"]
    if not feet:
        return None
    # side b is pulled away from the floor by a positive force along the third axis
    pressed = -cases.tie_forces[..., feet, 2, :]
    each = [np.einsum("...fk,...k->...f", pressed, case.factors).min(axis=-1) for case in combined]
    force = ledger.note(
        "structure.least_foot", plain(np.asarray(least(*each))), unit="N", source="derived", formula="min over feet and cases of -k_z e_z",
        title="Least force that presses a foot on the floor", cases=Named("", len(combined), "", "weight, acceleration of an axis either way, peak of the cut"),
    )  # fmt: skip
    return force, combined[int(np.argmin([typical(one) for one in each]))]
