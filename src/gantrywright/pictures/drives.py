"""Force that the drives have left against speed, with what caps it and the points that are wanted."""

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.model.axis import Axis
from gantrywright.pictures.picture import DASHES, Dimension, Key, Mark, Picture, Series
from gantrywright.pictures.scaling import Unit
from gantrywright.study.study import Study

NEAR = 0.04
"""Of the largest force: working points that are nearer to each other are drawn as one, at the higher force."""


def force_against_speed(study: Study) -> Picture:
    """Thrust of every axis against speed."""
    machine, moved = study.machine, study.results.motion.axes
    known = [(axis, moved[axis.name]) for axis in machine.axes if axis.name in moved and moved[axis.name].envelope is not None]
    title = "Force of the axes against speed"
    words = "Thrust that an axis has left for acceleration and cutting, its margin taken off, against its speed. Marks: wanted rapid with the force of the wanted acceleration, and what caps the speed first."
    if not known:
        return Picture("force-speed", title, "No axis has a motor that is known.", "lines")
    largest = max(float(np.max(found.envelope.thrust)) for _, found in known if found.envelope)
    force = Unit.of("N", largest, machine.show)
    most = force(largest)
    speed = Unit.of("m/s", max(float(np.max(found.envelope.speed)) for _, found in known if found.envelope), machine.show)
    series, marks, key, wanted = [], [], [], []
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
        wanted.append(Mark(speed(typical(axis.rapid)), force(needed), letter))
        if found.caps:
            cap = found.caps[0]
            at = float(np.interp(typical(cap.speed), found.envelope.speed, found.envelope.thrust))
            marks.append(Mark(speed(typical(cap.speed)), force(at), f"{letter}: {cap.reason}"))
        promised = show(typical(found.rapid), "m/s", machine.show) if found.rapid is not None else "unknown"
        key.append(Key(f"{letter} promised rapid", f"{promised}, capped by {found.binds}"))
        key.append(Key(f"{letter} wanted", _wanted(machine.show, axis, mass, needed)))
    return Picture("force-speed", title, words, "lines", tuple(key), Dimension("speed", speed.name, si=speed.factor), Dimension("force", force.name, si=force.factor), tuple(series), (*_joined(wanted, most), *marks))  # fmt: skip


def _wanted(system: str, axis: Axis, mass: float, needed: float) -> str:
    """What the mark of an axis stands for."""
    rapid = show(typical(axis.rapid), "m/s", system)
    if axis.accel is None:
        return f"rapid of {rapid}, no acceleration is wanted"
    words = f"{show(needed, 'N', system)} accelerate {show(mass, 'kg', system)} by the wanted {show(typical(axis.accel), 'm/s2', system)}"
    return f"rapid of {rapid}, at which {words}; what is wanted for cutting is not in it"


def _joined(wanted: list[Mark], most: float) -> list[Mark]:
    """What is wanted of axes at nearly the same speed and force stands at one mark: words over each other say nothing."""
    told: list[Mark] = []
    for mark in wanted:
        near = next((k for k, other in enumerate(told) if other.x == mark.x and abs(other.y - mark.y) < NEAR * most), None)
        if near is None:
            told.append(mark)
        else:
            higher = max(told[near].y, mark.y)
            told[near] = Mark(mark.x, higher, f"{told[near].text}, {mark.text}")
    return [Mark(mark.x, mark.y, f"{mark.text} wanted") for mark in told]
