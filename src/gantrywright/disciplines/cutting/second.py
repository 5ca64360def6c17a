"""A second opinion on chatter, for those who have the time: the delay method where zero-order may be wrong, and a run of the cut in time.

Needs compiled code, which a first run on a new machine makes; only the deep analysis imports this module.
"""

from collections.abc import Callable

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.accuracy import DIRECTIONS, WORDS
from gantrywright.disciplines.cutting.chatter import Swing, hardness, joined, limits_along, swing_of
from gantrywright.disciplines.cutting.cut import Cut, Setting, cut_of, hardest, setting_of
from gantrywright.disciplines.cutting.tool import drawn_body, job_body, known_pose
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.jobs import Lobes, Second
from gantrywright.theory.cutting.delay import DelayCut, delay_limits, multipliers
from gantrywright.theory.cutting.engagement import Way, engagement
from gantrywright.theory.cutting.forces import Coefficients
from gantrywright.theory.cutting.modes import FeedModes
from gantrywright.theory.cutting.process_damping import ploughing
from gantrywright.theory.cutting.time_domain import simulate_cut, wall_left

SPEEDS = 15
"""Speeds about the job's own that are looked at."""
ABOUT = 0.2
"""How far from it, as a share."""
MOST = 6
"""Modes that are kept: those that hold most of the give."""
SHALLOWEST = 1 / 200
"""Of the deepest cut: where the scan begins."""
DEEPEST = 4.0
"""Depth over diameter where it ends."""
TURNS, LAST = 120, 20
"""Turns of the spindle that are run, and the last ones that are looked at."""
SLICES = 8

Told = Callable[[float, str], None]


def second(machine: Machine, results: Results, told: Told = lambda fraction, words: None, only: str = "") -> dict[str, Second]:
    """Every job that has lobes.

    Args:
        machine: With typical values.
        results: Of `study.simulated`: with lobes.
        told: Called with how far it is, from 0 to 1, and words.
        only: Name of the one job that is looked at; empty: all.
    """
    tip = results.structure.tip_motion
    drawn = drawn_body(machine) if known_pose(machine) else None
    found: dict[str, Second] = {}
    if tip is None or drawn is None:
        return found
    wanted = [job for job in machine.jobs if only in ("", job.name)]
    for number, job in enumerate(wanted):
        cut, own = cut_of(machine, job), job_body(job)
        lobes = results.jobs.jobs[job.name].lobes
        told(number / len(wanted), f"job {job.name}")
        if cut is None or own is None or lobes is None:
            continue
        swing = swing_of(tip, drawn, own)
        if swing is not None:
            found[job.name] = _second(cut, setting_of(cut), swing, lobes)
    told(1.0, "done")
    return found


def _second(cut: Cut, setting: Setting, swing: Swing, lobes: Lobes) -> Second:
    way: Way = "climb" if lobes.way == "climb" else "conventional"
    angle = DIRECTIONS[WORDS.index(lobes.direction)] if lobes.direction in WORDS else 0.0
    modes = _softest(joined(swing).turned(angle))
    shear, ratio = hardness(cut, setting, way)
    start, stop = engagement(diameter=typical(cut.diameter), width=typical(setting.width), way=way)
    one = DelayCut(
        shear,
        float(ratio),
        cut.flutes,
        typical(cut.diameter),
        float(start),
        float(stop),
        abs(typical(cut.helix)),
        float(ploughing(shear=shear)),
    )
    speed, depth = typical(setting.speed), typical(setting.depth)
    speeds = np.unique(np.append(np.linspace((1 - ABOUT) * speed, (1 + ABOUT) * speed, SPEEDS), speed))
    deepest = DEEPEST * typical(cut.diameter)
    limits = np.asarray(delay_limits(modes=modes, cut=one, speeds=speeds, shallowest=SHALLOWEST * deepest, deepest=deepest)[0])
    growth = multipliers(modes=modes, cut=one, speeds=np.array([speed]), depths=np.array([depth]))
    run = simulate_cut(
        modes=modes, cut=_plain(hardest(cut, setting)), flutes=cut.flutes, diameter=one.diameter, start=one.start, stop=one.stop, helix=one.helix,
        depth=depth, feed_per_tooth=typical(setting.chip), speed=speed, turns=TURNS, slices=SLICES, eccentricity=typical(cut.run_out),
        ploughing=one.ploughing,
    )  # fmt: skip
    side = run.left if way == "conventional" else run.right
    marks = np.asarray(side[-LAST:].mean(axis=-1)).ravel()
    wall = wall_left(marks=marks, spacing=typical(setting.chip), diameter=one.diameter)
    beside = limits_along(cut, setting, swing, way, float(angle), speeds)
    return Second(
        job=cut.job.name, speeds=speeds, depth=limits, first_depth=beside, here=float(limits[np.searchsorted(speeds, speed)]), first=typical(lobes.here),
        direction=lobes.direction, way=way, growth=float(np.asarray(growth)[0]), swing=float(np.max(run.swing(LAST))),
        unlike=float(run.unlikeness(LAST)), wall=(np.asarray(wall[0]), np.asarray(wall[1])),
    )  # fmt: skip


def _softest(modes: FeedModes) -> FeedModes:
    """Those that hold most of the give; what the others hold is left out, which makes the machine stiffer by a little."""
    held = (modes.shapes**2 / modes.squares).max(axis=0)
    kept = np.sort(np.argsort(-held)[:MOST])
    return FeedModes(modes.squares[kept], modes.shapes[:, kept], modes.damping[kept], modes.residual)


def _plain(cut: Coefficients) -> Coefficients:
    return Coefficients(*(typical(value) for value in (cut.shear, cut.edge, cut.radial_shear, cut.radial_edge)))
