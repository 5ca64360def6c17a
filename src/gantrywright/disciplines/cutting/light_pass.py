"""How much a last pass may take so that the wall is as true as is wanted."""

from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.base.units import Metre
from gantrywright.disciplines.cutting.accuracy import DIRECTIONS
from gantrywright.disciplines.cutting.cut import cut_of, hardest, setting_of
from gantrywright.disciplines.cutting.tool import drawn_body, job_body, known_pose, rest_at
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.theory.cutting.cutter_give import tip_matrix
from gantrywright.theory.cutting.engagement import Way
from gantrywright.theory.cutting.finishing import errors_by_width, finishing_width
from gantrywright.theory.cutting.other_tool import give_at_heights, give_in_feed_axes

TRIED = (0.01, 0.02, 0.03, 0.05, 0.08, 0.12, 0.18, 0.25, 0.35)
"""Widths over the diameter that are tried for a last pass."""
WAYS: tuple[Way, ...] = ("climb", "conventional")


@dataclass(frozen=True, slots=True)
class LightPass:
    """A last pass along the wall at depth, feed and speed of the job."""

    way: Way
    width: Metre
    """0 where even the lightest is too much."""


def light_pass(machine: Machine, results: Results, job: Job, tolerance: Metre) -> LightPass | None:
    """The last pass that may take most, typical values; None where it cannot be worked out, or for other cutters than end mills.

    Args:
        machine: With typical values.
        results: Of it.
        job: Whose walls are too far off.
        tolerance: Of the wall.
    """
    cut, drawn, own, tip = cut_of(machine, job), drawn_body(machine), job_body(job), results.structure.worst
    if cut is None or cut.style != "end-mill" or drawn is None or own is None or tip is None or not known_pose(machine):
        return None
    setting, most = setting_of(cut), 1.0 if job.slot else typical(job.width) / typical(cut.diameter)
    widths = np.array([share for share in TRIED if share < most]) * typical(cut.diameter)
    if not len(widths):
        return None
    gives = give_at_heights(
        rest=rest_at(tip.give, drawn, own), axial=tip_matrix(**own.bar)[..., 2, 2], force_at=setting.depth / 2,
        heights=np.array([typical(setting.depth) / 2]), **own.bar,
    )[..., 0, :, :]  # fmt: skip
    turned = np.stack([give_in_feed_axes(give=gives, direction=angle) for angle in DIRECTIONS])
    found = []
    for way in WAYS if job.slot else cut.ways:
        errors = errors_by_width(
            cut=hardest(cut), widths=list(widths), depth=setting.depth, diameter=cut.diameter, helix=cut.helix, flutes=cut.flutes,
            feed_per_tooth=setting.chip, run_out=cut.run_out, run_out_angle=0.0, give=turned, way=way,
        )  # fmt: skip
        worst = np.max(np.abs(errors), axis=0)
        found.append(LightPass(way, typical(finishing_width(tolerance=tolerance, widths=widths, errors=worst))))
    return max(found, key=lambda one: typical(one.width))
