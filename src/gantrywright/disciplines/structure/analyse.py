"""How the machine gives between tool and work: over all poses, which part holds what, what the cut and the motion do to it."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import GRAVITY, Metre, NewtonPerMetre, Real
from gantrywright.disciplines.structure.bolted import bolted, cases_of, least_foot
from gantrywright.disciplines.structure.drawing import drawing
from gantrywright.disciplines.structure.dynamics import ring
from gantrywright.disciplines.structure.heat import heat
from gantrywright.disciplines.structure.loads import LoadCases, load_cases
from gantrywright.disciplines.structure.readings import readings
from gantrywright.disciplines.structure.sampled_ringing import rung_samples
from gantrywright.disciplines.structure.skeleton import skeleton_of
from gantrywright.disciplines.structure.slots import slotted
from gantrywright.disciplines.structure.statics import Solved, solved, tip_answer
from gantrywright.disciplines.structure.stops import filled, used_accel
from gantrywright.disciplines.structure.welded import welded_figures
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.model.table import over_table, places_of
from gantrywright.results.cutting import CuttingResult, JobForce
from gantrywright.results.ledger import Ledger, Named
from gantrywright.results.motion import MotionResult
from gantrywright.results.structure import LETTERS, AxisGive, Basis, JobGive, StiffnessGrid, StructureResult, Tip
from gantrywright.theory.frames.frame import PER_NODE
from gantrywright.theory.frames.groups import LooseGroup
from gantrywright.theory.frames.mass import acceleration_load, mass_matrix
from gantrywright.theory.frames.mesh import Mesher
from gantrywright.theory.frames.selfcheck import self_check
from gantrywright.theory.frames.skeleton import Skeleton
from gantrywright.theory.frames.solver import Unheld, energies
from gantrywright.theory.frames.stiffness_map import SharedPiece, poses_grid, stiffness_map
from gantrywright.theory.tip_stiffness import give_in_plane, needed_stiffness, pushed_off

PLACES = {"x": 7, "y": 7, "z": 3}
"""Poses of each axis on the grid that every study looks over."""
OTHERS = 3
"""Poses of an axis of another name."""
PEAK_SHARE = 1.0
"""Part of the wanted accuracy that the peak of the force may use; common practice, no source."""
AGREES = 1e-2
"""The grid and the single pose are two routes to one number; nodes that share a place make them differ by up to a thousandth."""
TOLD = 0.01
"""Parts that hold less of the give than this are not listed as inputs."""


def analyse(
    machine: Machine, cutting: CuttingResult, motion: MotionResult, ledger: Ledger, earlier: StructureResult | None = None
) -> StructureResult:
    """The structure of a machine.

    Args:
        machine: Typical or sampled.
        cutting: What the cut asks.
        motion: What each axis promises.
        ledger: Where figures are written down: ``structure.*``.
        earlier: Of the same machine with typical values: a sampled machine is looked at where that one was softest.
    """
    welded_figures(machine, ledger)
    return replace(_stiff(machine, cutting, motion, ledger, earlier), heat=heat(machine, ledger))


def _stiff(
    machine: Machine, cutting: CuttingResult, motion: MotionResult, ledger: Ledger, earlier: StructureResult | None
) -> StructureResult:
    """All that needs a skeleton."""
    built = skeleton_of(machine)
    if built.skeleton is None:
        return StructureResult(lacking=built.lacking, notes=built.notes, adrift=built.adrift)
    mesher = Mesher(built.skeleton)
    try:
        return _answered(machine, built.skeleton, mesher, cutting, motion, ledger, earlier)
    except LooseGroup as error:
        return StructureResult(lacking=(f"{error.what}: nothing holds it",), notes=built.notes)
    except SharedPiece as error:
        return StructureResult(lacking=(f"a bar of its own for each axis: {error}",), notes=built.notes)
    except Unheld as error:
        return StructureResult(lacking=(f"{_free_part(mesher, error)}: it moves without anything that resists",), notes=built.notes)


def _answered(
    machine: Machine, skeleton: Skeleton, mesher: Mesher, cutting: CuttingResult, motion: MotionResult, ledger: Ledger,
    earlier: StructureResult | None,
) -> StructureResult:  # fmt: skip
    middle = {axis.name: axis.travel / 2 for axis in machine.axes}
    grid, pose = None, middle
    if earlier is not None and earlier.worst is not None:
        pose = dict(earlier.worst.pose)
    elif earlier is None:
        grid = _grid(machine, mesher)
        pose = grid.softest()
        if not pose:
            return StructureResult(lacking=(f"a place over {machine.work_body}: the tool reaches none",), notes=skeleton.notes)
    here = solved(mesher, pose)
    cases = load_cases(skeleton, here, machine.axes)
    broken = _broken(here, cases, grid, pose) if earlier is None else ()
    if broken:
        return StructureResult(broken=broken, notes=skeleton.notes)
    worst = tip_answer(skeleton, pose, here, cases.motions.of(slice(6)))
    accelerations = {name: moved.accel for name, moved in motion.axes.items() if moved.accel is not None}
    _write_down(worst, machine.show, ledger)
    result = StructureResult(
        notes=skeleton.notes, worst=worst, grid=grid, jobs=_jobs(machine, worst, cutting, ledger),
        axes=_axes(machine, skeleton, cases, accelerations, ledger),
        readings=readings(machine, skeleton, mesher, ledger, earlier.readings if earlier is not None else ()),
    )  # fmt: skip
    combined = cases_of(machine, cases, cutting, accelerations)
    result = replace(result, bolted=bolted(machine, skeleton, cases, combined, ledger))
    foot = least_foot(skeleton, cases, combined, ledger)
    if foot is not None:
        result = replace(result, least_foot=foot[0], foot_case=foot[1].words, foot_axis=foot[1].axis)
    if earlier is not None:
        return _sampled(machine, mesher, here, motion, ledger, earlier, result)
    half = solved(mesher, middle, bare=True)
    rung = ring(machine, skeleton, mesher, worst, motion, ledger)
    return replace(
        result, middle=tip_answer(skeleton, middle, half, half.under(half.mesh.load)), sag=_sag(machine, mesher, ledger),
        drawing=drawing(skeleton, pose, cases), slotted=slotted(machine, ledger), modes=rung.modes, response=rung.response,
        axes=filled(result.axes, rung.stops), modes_drawing=rung.drawing, ring_basis=rung.basis, tip_motion=rung.tip, basis=Basis(here.coefficients, energies(here.rows, here.coefficients, cases.motions.of(slice(3)).whole())),
    )  # fmt: skip


def _first_order(here: Solved, earlier: StructureResult, ledger: Ledger) -> dict[str, NewtonPerMetre]:
    """Stiffness from the shares of the typical machine alone: its forces stay, each spring's part of the give goes with 1/d.

    By the principle of minimum complementary energy this never overstates the stiffness; where load paths are single it is exact.
    """
    if earlier.basis is None:
        return {}
    typical_ones = earlier.basis.coefficients
    used = (typical_ones != 0) & np.all(here.coefficients.reshape(-1, len(typical_ones)) != 0, axis=0)
    ratio = typical_ones[used] / here.coefficients[..., used]
    found: dict[str, NewtonPerMetre] = {}
    for k, letter in enumerate(LETTERS):
        give = ratio @ earlier.basis.held[used, k] + here.mesh.give[..., k]
        found[letter] = ledger.note(
            f"structure.tip.first_order_{letter}", 1 / give, unit="N/m", source="derived", formula="k = 1 / sum_k C_k d_k,typical / d_k",
            title=f"Stiffness along {letter.upper()} by the shares of the typical machine alone",
        )  # fmt: skip
    return found


def _sampled(
    machine: Machine, mesher: Mesher, here: Solved, motion: MotionResult, ledger: Ledger, earlier: StructureResult, result: StructureResult
) -> StructureResult:  # fmt: skip
    """What a sampled machine takes over from the typical one, and what it finds by the shapes of that one."""
    modes, axes, response = earlier.modes, result.axes, earlier.response
    if earlier.ring_basis is not None and result.worst is not None:
        modes, stopped, response = rung_samples(
            earlier.ring_basis, machine, mesher, result.worst.give, motion, earlier.response, ledger
        )
        axes = filled(axes, stopped)
    return replace(
        result, middle=earlier.middle, grid=earlier.grid, sag=earlier.sag, slotted=earlier.slotted, response=response, tip_motion=earlier.tip_motion,
        modes=modes, axes=axes, first_order=_first_order(here, earlier, ledger),
    )  # fmt: skip


def tip_at(machine: Machine, pose: Mapping[str, float]) -> Tip | None:
    """Give and shares at any pose; None where there is no structure.

    Args:
        machine: Typical or sampled.
        pose: Place of each axis by name, m.
    """
    built = skeleton_of(machine)
    if built.skeleton is None:
        return None
    here = solved(Mesher(built.skeleton), pose, bare=True)
    return tip_answer(built.skeleton, pose, here, here.under(here.mesh.load))


def jobs_at(machine: Machine, tip: Tip | None, cutting: CuttingResult, ledger: Ledger) -> tuple[JobGive, ...]:
    """How far each job pushes the tool off where the give is that of ``tip``; none where it is not known."""
    return () if tip is None else _jobs(machine, tip, cutting, ledger)


def grid_of(machine: Machine) -> StiffnessGrid | None:
    """Give over all poses of a typical machine; None where there is no structure."""
    built = skeleton_of(machine)
    return None if built.skeleton is None else _grid(machine, Mesher(built.skeleton))


def _grid(machine: Machine, mesher: Mesher) -> StiffnessGrid:
    """Give over all poses."""
    counts = {axis.name: PLACES.get(axis.name, OTHERS) for axis in machine.axes}
    found = stiffness_map(mesher, poses_grid(mesher.skeleton, counts))
    places = tuple(np.asarray(values) for values in found.places)
    poses = np.stack(np.meshgrid(*places, indexing="ij"), axis=-1)
    return StiffnessGrid(found.axes, places, found.give, over_table(machine, places_of(machine, found.axes, poses)))


def _broken(here: Solved, cases: LoadCases, grid: StiffnessGrid | None, pose: Mapping[str, float]) -> tuple[str, ...]:
    """Self checks that failed, in words: of the solution, and of the two routes against each other."""
    checked = self_check(here.mesh.frame, here.rows, here.mesh.load, cases.motions.of(slice(6)).whole())
    words = list(checked.broken)
    if grid is not None:
        give = here.at_tip(cases.motions.of(slice(3)))[..., :3, :] + here.mesh.give[..., :3, None] * np.eye(3)
        at = tuple(int(np.argmin(np.abs(places - pose[name]))) for name, places in zip(grid.axes, grid.places, strict=True))
        apart = np.abs(grid.give[at] - give).max() / np.abs(give).max()
        if not apart <= AGREES:
            words.append(f"the map over all poses and the single pose differ by {apart:.1%}")
    return tuple(words)


def _write_down(tip: Tip, system: str, ledger: Ledger) -> None:
    """The stiffness at the tool with what each part holds of it."""
    where = ", ".join(f"{name.upper()} {show(place, 'm', system)}" for name, place in sorted(tip.pose.items()))
    for k, letter in enumerate(LETTERS):
        _figure(
            ledger, f"structure.tip.stiffness_{letter}", tip, k, f"Stiffness between tool and work along {letter.upper()}, {where}"
        )
    inputs = _inputs(tip, 3)
    ledger.note(
        "structure.tip.stiffness", tip.least, unit="N/m", source="derived",
        formula="one over the largest give that any direction has: k = 1 / greatest eigenvalue of C, C = L^T K^-1 L; each part holds e^T D e of it",
        title=f"Stiffness between tool and work in the softest direction, {where}", **inputs,
    )  # fmt: skip


def _figure(ledger: Ledger, path: str, tip: Tip, k: int, title: str) -> None:
    ledger.note(
        path, tip.stiffness[k], unit="N/m", formula="one over the give along it: k = 1 / C, C = l^T K^-1 l; each part holds e^T D e of C", source="derived", title=title,
        **_inputs(tip, k),
    )  # fmt: skip


def _inputs(tip: Tip, k: int) -> dict[str, Named]:
    """Give of every group that holds enough of it, largest first."""
    whole = 1 / tip.stiffness[k] if k < 3 else 1 / np.asarray(tip.least)
    found: dict[str, Real] = {}
    for share in tip.shares:
        held = share.along[k] if k < 3 else share.weakest
        found[share.group] = found.get(share.group, 0.0) + held
    ordered = sorted(found.items(), key=lambda pair: -typical(pair[1]))
    return {
        name: Named("", share * whole, "m/N", f"{100 * typical(share):.1f} % of the give")
        for name, share in ordered if typical(share) >= TOLD
    }  # fmt: skip


def _jobs(machine: Machine, tip: Tip, cutting: CuttingResult, ledger: Ledger) -> tuple[JobGive, ...]:
    jobs = {job.name: job for job in machine.jobs}
    return tuple(_job(machine, jobs[force.job], force, tip, ledger) for force in cutting.jobs)


def _job(machine: Machine, job: Job, force: JobForce, tip: Tip, ledger: Ledger) -> JobGive:
    gives = {"along_x": (0, 0, "X"), "along_y": (1, 1, "Y"), "across": (0, 1, "X per force along Y")}
    softest = ledger.figure(
        "structure.tip.give_in_plane", give_in_plane,
        **{name: Named("", tip.give[..., i, j], "m/N", f"motion along {words} at the softest pose") for name, (i, j, words) in gives.items()},
    )  # fmt: skip
    path = f"{job.path}.give"
    mean, peak = (
        ledger.figure(f"{path}_{word}", pushed_off, give=ledger.link("structure.tip.give_in_plane", softest), force=ledger.link(f"{job.path}.{word}_in_plane", value, "N", f"{word} force in the plane of the table"))
        for word, value in (("mean", force.mean_in_plane), ("peak", force.peak_in_plane))
    )  # fmt: skip
    upright = ledger.figure(f"{path}_upright", pushed_off, give=Named("", tip.give[..., 2, 2], "m/N", "along Z at the softest pose"), force=ledger.link(f"{job.path}.peak_axial", force.peak_axial, "N", "peak force along the spindle"))  # fmt: skip
    accuracy = machine.purpose.accuracy
    needed: NewtonPerMetre | None = None
    if accuracy is not None:
        needed = ledger.figure(
            f"{job.path}.needed_stiffness", needed_stiffness, force=ledger.link(f"{job.path}.peak_in_plane", force.peak_in_plane, "N", "peak force in the plane of the table"),
            accuracy=Named("purpose.accuracy", accuracy), share=Named("", PEAK_SHARE, "", "part that the peak may use; common practice, no source"),
        )  # fmt: skip
    return JobGive(job.name, mean, peak, upright, needed)


def _axes(
    machine: Machine, skeleton: Skeleton, cases: LoadCases, accelerations: Mapping[str, Real], ledger: Ledger
) -> dict[str, AxisGive]:
    """What the promised acceleration of each axis does while it lasts."""
    tip = cases.at_tip()
    ground = machine.links[0].body
    standing = np.flatnonzero([skeleton.bars[bar].body == ground for bar in cases.here.mesh.node_bar])
    shifts = cases.motions.at((PER_NODE * standing[:, None] + np.arange(3)).ravel())
    found: dict[str, AxisGive] = {}
    for axis in machine.axes:
        if axis.name not in accelerations:
            continue
        accel, column = used_accel(axis, accelerations[axis.name]), cases.accel(axis.name)
        per_accel = np.sqrt((tip[..., :3, column] ** 2).sum(axis=-1))
        moved = shifts[..., column].reshape(*shifts.shape[:-2], -1, 3)
        rock = np.sqrt((moved**2).sum(axis=-1)).max(axis=-1)
        tilt = ledger.note(
            f"{axis.path}.accel_give", per_accel * accel, unit="m", formula="|L^T K^-1 M s| a", source="derived",
            title="Motion of the tool against the work while the axis accelerates", accel=ledger.link(f"{axis.path}.accel_promise", accel, "m/s2", "wanted, or promised where that is less"),
        )  # fmt: skip
        rocking = ledger.note(
            f"{axis.path}.accel_rock", rock * accel, unit="m", formula="max |K^-1 M s| a over the body that stands on the floor", source="derived",
            title="Motion of the machine on its feet while the axis accelerates", accel=ledger.link(f"{axis.path}.accel_promise", accel, "m/s2", "wanted, or promised where that is less"),
        )  # fmt: skip
        found[axis.name] = AxisGive(axis.name, accel, tilt, rocking, None, 0.0, None, None)
    return found


def _sag(machine: Machine, mesher: Mesher, ledger: Ledger) -> Metre:
    """Change of the height of the tool over the work between the middle and the corners of the table, by weight."""
    level = [axis for axis in machine.axes if axis.rise < 0.5]
    half = {axis.name: axis.travel / 2 for axis in machine.axes}
    poses = [
        half,
        *({**half, **dict(zip((a.name for a in level), corner, strict=True))} for corner in _corners([a.travel for a in level])),
    ]
    over = [bool(over_table(machine, places_of(machine, tuple(pose), np.array(list(pose.values()))))) for pose in poses]
    poses = [pose for pose, is_over in zip(poses, over, strict=True) if is_over] or poses
    heights = [_height(mesher, pose) for pose in poses]
    inputs = {
        f"height_{number}": Named("", height, "m", "by weight, " + ", ".join(f"{name.upper()} {show(at, 'm', machine.show)}" for name, at in pose.items()))
        for number, (pose, height) in enumerate(zip(poses, heights, strict=True), 1)
    }  # fmt: skip
    return ledger.note(
        "structure.sag", max(heights) - min(heights), unit="m", source="derived", formula="max - min of l_z^T K^-1 M g over the middle and the corners",
        title="Change of the height of the tool over the work by the weight of the parts; rails taken straight without load", **inputs,
    )  # fmt: skip


def _corners(travels: list[float]) -> list[tuple[float, ...]]:
    found: list[tuple[float, ...]] = [()]
    for travel in travels:
        found = [(*corner, end) for corner in found for end in (0.0, travel)]
    return found


def _height(mesher: Mesher, pose: Mapping[str, float]) -> float:
    here = solved(mesher, pose)
    weight = acceleration_load(mass_matrix(here.mesh.frame), np.array((0.0, 0.0, -GRAVITY)))
    return float(here.mesh.load[:, 2] @ here.under(weight[:, None]).whole()[:, 0])


def _free_part(mesher: Mesher, error: Unheld) -> str:
    """The part that moves most in a motion that nothing resists."""
    frame_motion = error.motion.reshape(-1, 6)
    size = np.abs(frame_motion).max(axis=1)
    pose = {motion.axis: motion.drawn for motion in mesher.skeleton.motions}
    mesh = mesher.at(pose)
    if len(mesh.node_bar) != len(size):
        return "a part of the machine"
    return mesher.skeleton.bars[int(mesh.node_bar[int(np.argmax(size))])].part
