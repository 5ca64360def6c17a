"""Force that the drives have left against speed, with what caps it and the points that are wanted."""

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.pictures.picture import DASHES, Dimension, Key, Mark, Picture, Series
from gantrywright.pictures.scaling import Unit
from gantrywright.study.study import Study


def force_against_speed(study: Study) -> Picture:
    """Thrust of every axis against speed."""
    machine, moved = study.machine, study.results.motion.axes
    known = [(axis, moved[axis.name]) for axis in machine.axes if axis.name in moved and moved[axis.name].envelope is not None]
    title = "Force of the axes against speed"
    words = "Thrust that an axis has left for acceleration and cutting, its margin taken off, against its speed. Marks: wanted rapid with the force of the wanted acceleration, and what caps the speed first."
    if not known:
        return Picture("force-speed", title, "No axis has a motor that is known.", "lines")
    force = Unit.of("N", max(float(np.max(found.envelope.thrust)) for _, found in known if found.envelope), machine.show)
    speed = Unit.of("m/s", max(float(np.max(found.envelope.speed)) for _, found in known if found.envelope), machine.show)
    series, marks, key = [], [], []
    for number, (axis, found) in enumerate(known):
        assert found.envelope is not None
        letter = axis.name.upper()
        reach = np.asarray(found.envelope.thrust) > 0
        points = tuple(
            zip(
                speed.all(np.asarray(found.envelope.speed)[reach]), force.all(np.asarray(found.envelope.thrust)[reach]), strict=True
            )
        )
        series.append(Series(letter, points, DASHES[number]))
        mass = typical(study.results.masses.axes[axis.name].mass)
        needed = mass * typical(axis.accel) if axis.accel is not None else 0.0
        marks.append(Mark(speed(typical(axis.rapid)), force(needed), f"{letter} wanted"))
        if found.caps:
            cap = found.caps[0]
            at = float(np.interp(typical(cap.speed), found.envelope.speed, found.envelope.thrust))
            marks.append(Mark(speed(typical(cap.speed)), force(at), f"{letter}: {cap.reason}"))
        promised = show(typical(found.rapid), "m/s", machine.show) if found.rapid is not None else "unknown"
        key.append(Key(f"{letter} promised rapid", f"{promised}, capped by {found.binds}"))
    return Picture("force-speed", title, words, "lines", tuple(key), Dimension("speed", speed.name), Dimension("force", force.name), tuple(series), tuple(marks))  # fmt: skip
