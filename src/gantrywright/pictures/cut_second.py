"""What a second opinion on chatter says: the depth by the delay method beside the first one, and the wall that a run in time leaves."""

import math
from dataclasses import replace

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Array
from gantrywright.pictures.picture import Dimension, Key, Mark, Picture, Series
from gantrywright.pictures.scaling import Unit
from gantrywright.results.jobs import Second
from gantrywright.study.study import Study

RPM = 30 / math.pi


def second_pictures(study: Study, found: Second) -> tuple[Picture, ...]:
    """Both pictures of one job.

    Args:
        study: With lobes.
        found: Its second opinion.
    """
    return _depths(study, found), _wall(study, found)


def _depths(study: Study, found: Second) -> Picture:
    system = study.machine.show
    job = next(each for each in study.machine.jobs if each.name == found.job)
    own, speeds = typical(job.depth), np.asarray(found.speeds)
    far = Unit.of("m", own, system)
    held = _series("by the delay method", speeds, np.asarray(found.depth), far)
    series = [replace(held, mark="points")]  # they stand too far apart for a line between them to say anything
    series.append(_series("first opinion, the same direction", speeds, np.asarray(found.first_depth), far))
    words = f"Depth at which the job begins to chatter at speeds about its own, feed {found.direction}, {found.way}, by two methods. Typical values."
    mark = Mark(typical(job.speed) * RPM, far(own), f"the job, {show(own, 'm', system)}")
    return Picture("cut-second", f"Chatter by two methods: {found.job}", words, "lines", (), Dimension("speed of the spindle", "rpm", si=1 / RPM), Dimension("depth of cut", far.name, si=far.factor), tuple(series), (mark,), of=found.job)  # fmt: skip


def _series(name: str, speeds: Array, depth: Array, far: Unit) -> Series:
    return Series(name, tuple((float(x) * RPM, far(y) if math.isfinite(y) else None) for x, y in zip(speeds, depth, strict=True)))


def _wall(study: Study, found: Second) -> Picture:
    along, deep = (np.asarray(part) for part in found.wall)
    title, words = f"Wall after a run in time: {found.job}", "The wall that the tool leaves in a run in time at the settings of the file, along the feed: marks of the teeth and swinging together."  # fmt: skip
    if not along.size:
        return Picture("cut-left", title, "The run left no wall to look at.", "lines", of=found.job)
    system, size = study.machine.show, float(np.ptp(deep))
    far, off = Unit.of("m", float(np.ptp(along)) or 1e-3, system), Unit.of("m", max(float(np.abs(deep).max()), 1e-9), system)
    points = tuple(
        (far(x), off(y) if math.isfinite(y) else None)
        for x, y in sorted(zip(along.tolist(), deep.tolist(), strict=True))
    )  # fmt: skip
    key = (Key("from the highest to the lowest place", show(size, "m", system)),)
    return Picture("cut-left", title, words, "lines", key, Dimension("along the feed", far.name, si=far.factor), Dimension("off the wall", off.name, si=off.factor), (Series("wall", points),), of=found.job)  # fmt: skip
