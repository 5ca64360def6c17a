"""What a cut does to the tool, and what the tool leaves of it on the wall."""

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.pictures.jobs import told
from gantrywright.pictures.picture import DASHES, Dimension, Key, Mark, Picture, Series
from gantrywright.pictures.scaling import Unit
from gantrywright.results.jobs import JobAnswer
from gantrywright.study.study import Study

NEAR = 4.0
"""A tolerance that is farther off than so many errors is told, not drawn: it would press the lines flat."""


def forces(study: Study, job: JobAnswer) -> Picture | str:
    """Force on the tool over a turn of the spindle."""
    trace, system = job.trace, study.machine.show
    if trace is None:
        return "The forces of this job are not known."
    across = next(each for each in study.machine.jobs if each.name == job.job).cutter.diameter
    lines = [("along the feed", np.asarray(trace.x)), ("to the left of the feed", np.asarray(trace.y)), ("up, along the spindle", np.asarray(trace.z))]  # fmt: skip
    if across is not None:
        lines.append(("torque over the radius", np.asarray(trace.torque) / (typical(across) / 2)))
    unit = Unit.of("N", max(float(np.abs(values).max()) for _, values in lines), system)
    angles = [*(float(angle) for angle in np.degrees(np.asarray(trace.angles))), 360.0]
    series = tuple(
        Series(name, tuple(zip(angles, unit.all([*values, values[0]]), strict=True)), DASHES[number])
        for number, (name, values) in enumerate(lines)
    )
    name, most = max(lines[:3], key=lambda line: float(np.abs(line[1]).max()))
    at = int(np.argmax(np.abs(most)))
    mark = Mark(angles[at], unit(float(most[at])), f"{show(float(most[at]), 'N', system)} {name}")
    path = f"job.{job.job}"
    key = (
        Key("greatest in the plane of the table", told(study, f"{path}.peak_in_plane", "N")),
        Key("greatest along the spindle", _along(study, f"{path}.peak_axial")),
        Key("mean torque", told(study, f"{path}.torque", "N m")),
        Key("power", told(study, f"{path}.power", "W")),
    )
    words = f"Force on the tool over one turn of the spindle at the settings of the file, {trace.way}: the way of cutting with the greatest force."
    return Picture("", "", words, "lines", key, Dimension("turn of the spindle", "deg"), Dimension("force on the tool", unit.name, si=unit.factor), series, (mark,))  # fmt: skip


def _along(study: Study, path: str) -> str:
    """With its direction in words, in place of a sign that nobody would know."""
    if path not in study.results.ledger:
        return "unknown"
    pulls = typical(study.results.ledger[path].value) > 0
    return f"{told(study, path, 'N', size=True)}, {'pulls the tool down and the work up' if pulls else 'presses the work down'}"


def wall(study: Study, job: JobAnswer) -> Picture | str:
    """Error of the worst wall over its height, for each direction of feed."""
    profile, worst, system, wanted = job.profile, job.wall, study.machine.show, study.machine.purpose.accuracy
    if profile is None or worst is None:
        return "The give of the machine at the tool is not known, or not that of this cutter."
    far = Unit.of("m", float(np.max(profile.heights)), system)
    least, most = float(np.min(profile.error)), float(np.max(profile.error))
    size = max(abs(least), abs(most))
    off = Unit.of("m", size, system)
    heights = far.all(profile.heights)
    series = [
        Series(f"feed {name}", tuple(zip(heights, off.all(line), strict=True)), DASHES[number])
        for number, (name, line) in enumerate(zip(profile.directions, profile.error, strict=True))
    ]
    which, where = np.unravel_index(int(np.argmax(np.abs(profile.error))), profile.error.shape)
    marks = (Mark(heights[where], off(float(profile.error[which, where])), f"{show(size, 'm', system)} {_side(float(profile.error[which, where]))}"),)  # fmt: skip
    key = [
        Key(f"worst of the {each.way} wall", f"{told(study, f'job.{job.job}.wall.{each.way}', 'm', size=True)}, {_side(typical(each.worst))}")
        for each in job.walls
    ]  # fmt: skip
    if job.bottom is not None:
        deep = "too deep" if typical(job.bottom) > 0 else "too shallow"
        key.append(Key("bottom", f"{told(study, f'job.{job.job}.bottom', 'm', size=True)} {deep}"))
    words = f"How far the {profile.way} wall stands off over its height, by direction of feed: positive takes metal that should stay, negative leaves some. The part of deflection and run-out alone."
    if wanted is not None:
        limit = typical(wanted)
        key.append(Key("wanted", f"within {show(limit, 'm', system)}"))
        if limit <= NEAR * size:
            ends = (min(heights), max(heights))
            series += [Series(name, tuple((x, off(side * limit)) for x in ends), "1 2", tone=3) for name, side in (("wanted at most", 1), ("wanted at least", -1))]  # fmt: skip
        else:
            words += f" What is wanted, {show(limit, 'm', system)} either way, lies outside of the picture."
    return Picture("", "", words, "lines", tuple(key), Dimension("height above the tip", far.name, si=far.factor), Dimension("off the wall, + cuts in", off.name, si=off.factor), tuple(series), marks)  # fmt: skip


def _side(error: float) -> str:
    return "too much taken" if error > 0 else "left standing"
