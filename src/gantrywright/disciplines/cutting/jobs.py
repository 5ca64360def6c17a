"""What every job comes to on this machine, once it is known what the axes promise and how the structure gives."""

from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.samples import plain, typical
from gantrywright.disciplines.cutting import drilling, figures
from gantrywright.disciplines.cutting.accuracy import Off, off
from gantrywright.disciplines.cutting.advice import advise
from gantrywright.disciplines.cutting.chatter import lobes, swing_of
from gantrywright.disciplines.cutting.cut import (
    Cut,
    Load,
    Setting,
    cut_of,
    hardest,
    loads,
    missing,
    power_of,
    removal_of,
    setting_of,
    turn,
)
from gantrywright.disciplines.cutting.holding import holding
from gantrywright.disciplines.cutting.limits import Known, level_speed, limits_of
from gantrywright.disciplines.cutting.power import available
from gantrywright.disciplines.cutting.tool import Body, drawn_body, job_body, known_pose
from gantrywright.model.machine import Machine
from gantrywright.results.electrics import ElectricResult
from gantrywright.results.jobs import JobAnswer, JobsResult, Limit, Lobes, Trace
from gantrywright.results.ledger import Ledger
from gantrywright.results.motion import MotionResult
from gantrywright.results.structure import StructureResult


@dataclass(frozen=True, slots=True)
class Around:
    """What the rest of the machine says to a job."""

    machine: Machine
    motion: MotionResult
    fed: ElectricResult
    structure: StructureResult
    drawn: Body | None


def jobs(
    machine: Machine, motion: MotionResult, fed: ElectricResult, structure: StructureResult, ledger: Ledger, earlier: JobsResult | None,
    *, deep: bool = False,
) -> JobsResult:  # fmt: skip
    """Every job of the file.

    Args:
        machine: Typical or sampled.
        motion: What each axis promises.
        fed: What else hangs on the outlet.
        structure: Give and modes at the tool.
        ledger: Where figures are written down: ``job.NAME.wall`` and the like.
        earlier: Of the same machine with typical values, where it is now looked at with samples: its lobes are scaled, its advice stays.
        deep: Whether the depths that chatter allows and the advised settings are worked out as well; of typical values alone.
    """
    around = Around(machine, motion, fed, structure, drawn_body(machine) if known_pose(machine) else None)
    return JobsResult(
        {
            job.name: drilling.answer(machine, job, motion, fed, ledger)
            if drilling.is_drill(job)
            else _answer(around, cut_of(machine, job), job.name, missing(job), ledger, earlier, deep=deep)
            for job in machine.jobs
        }
    )


def _answer(
    around: Around, cut: Cut | None, name: str, lacking: str, ledger: Ledger, earlier: JobsResult | None, *, deep: bool
) -> JobAnswer:
    if cut is None:
        return JobAnswer(name, None, missing=lacking)
    setting = setting_of(cut)
    own = job_body(cut.job) if around.drawn is not None else None
    before = None if earlier is None else earlier.jobs.get(name)
    leaf = _scaled(around, cut, before.lobes, own) if before is not None else _lobes(around, cut, setting, own) if deep else None
    known, profile = _known(around, cut, setting, own, leaf)
    known = replace(known, later=not deep if before is None else before.pending)
    limits = limits_of(around.machine, around.motion, known)
    figures.write_down(known, limits, ledger)
    found = JobAnswer(
        name, plain(np.asarray(known.removal)), limits, known.walls, known.bottom, known.holding, leaf, profile=None if profile is None else profile.profile,
    )  # fmt: skip
    if before is not None:
        return replace(
            found,
            advice=before.advice,
            no_advice=before.no_advice,
            trace=before.trace,
            profile=before.profile,
            pending=before.pending,
        )
    if not deep:
        return replace(found, pending=True, trace=_trace(cut, setting, known.loads))
    advice = advise(
        around.machine,
        cut,
        setting,
        level_speed(around.machine, around.motion),
        lambda other: _judged(around, cut, other, own, leaf),
    )
    if isinstance(advice, str):
        told = replace(found, no_advice=advice)
    else:
        told = replace(found, advice=advice)
        figures.write_advice(cut.job.path, advice, ledger)
    return replace(told, trace=_trace(cut, setting, known.loads))


def _known(around: Around, cut: Cut, setting: Setting, own: Body | None, leaf: Lobes | None) -> tuple[Known, Off | None]:
    """Everything about some settings of a job."""
    machine, pushes = around.machine, loads(cut, setting)
    tip = around.structure.worst
    profile = None if tip is None or around.drawn is None or own is None else off(cut, setting, tip.give, around.drawn, own)
    power = power_of(cut, setting, pushes)
    known = Known(
        cut, setting, pushes, power, available(machine, setting.speed, around.fed), () if profile is None else profile.walls,
        None if profile is None else profile.bottom, holding(machine, cut, pushes), leaf, own, removal_of(cut, setting),
    )  # fmt: skip
    return known, profile


def _judged(around: Around, cut: Cut, setting: Setting, own: Body | None, leaf: Lobes | None) -> tuple[Limit, ...]:
    """Limits of other settings, many at a time."""
    moved = None if leaf is None else replace(leaf, here=leaf.at(np.asarray(setting.speed)))
    return limits_of(around.machine, around.motion, _known(around, cut, setting, own, moved)[0])


def _lobes(around: Around, cut: Cut, setting: Setting, own: Body | None) -> Lobes | None:
    tip = around.structure.tip_motion
    if tip is None or around.drawn is None or own is None:
        return None
    swing = swing_of(tip, around.drawn, own)
    return None if swing is None else lobes(around.machine, cut, setting, swing)


def _scaled(around: Around, cut: Cut, before: Lobes | None, own: Body | None) -> Lobes | None:
    """Limits of samples: they go with one over the shear coefficient and with the stiffness at the tool; frequencies stay typical."""
    tip = around.structure.worst
    if before is None or tip is None or own is None:
        return before
    shear = np.asarray(hardest(cut).shear)
    factor = np.median(shear) / shear * np.asarray(tip.least) / np.median(np.asarray(tip.least))
    return replace(before, here=plain(typical(before.here) * factor), low=plain(typical(before.low) * factor))


def _trace(cut: Cut, setting: Setting, pushes: tuple[Load, ...]) -> Trace:
    """The way of cutting with the greatest force."""
    worst = max(pushes, key=lambda load: typical(load.peak.in_plane))
    cycle = turn(cut, setting, worst.way)
    return Trace(cycle.angles, cycle.along_feed, cycle.across, -np.asarray(cycle.axial), cycle.torque, worst.way)
