"""Loads of the guide blocks along the travel."""

from gantrywright.base.quantities import show, unit_for
from gantrywright.base.units import Array
from gantrywright.disciplines.guides.along import loads_along
from gantrywright.model.axis import Axis
from gantrywright.pictures.picture import DASHES, Dimension, Key, Mark, Picture, Series
from gantrywright.pictures.scaling import Unit
from gantrywright.study.study import Study

TITLE = "Loads of the guide blocks along the travel"


def block_loads(study: Study) -> Picture:
    """Greatest load of the most loaded block of every axis, while the axis that matters most travels."""
    machine, results = study.machine, study.results
    far = Unit.of("m", max((axis.travel for axis in machine.axes), default=1.0), machine.show)
    rows = [(axis, *_worst(study, axis)) for axis in machine.axes if axis.blocks]
    if not rows:
        return Picture("block-loads", TITLE, "No axis has guide blocks that are known.", "lines")
    most = max((float(loads.max()) for _, _, _, loads in rows), default=1.0)
    force = Unit.of("N", most, machine.show)
    series, marks, key = [], [], []
    for number, (axis, along, places, loads) in enumerate(rows):
        block = int(loads.max(axis=0).argmax())
        line = loads[:, block]
        at = int(line.argmax())
        name = axis.blocks[block].path
        series.append(
            Series(
                f"{axis.name.upper()} blocks, along {along.upper()}",
                tuple(zip(far.all(places), force.all(line), strict=True)),
                DASHES[number],
            )
        )
        marks.append(
            Mark(far(float(places[at])), force(float(line[at])), f"{axis.name.upper()} {show(float(line[at]), 'N', machine.show)}")
        )
        safety = results.guides.blocks[name].static_safety
        told = f", static safety {float(safety):.3g}" if isinstance(safety, float) else ""
        key.append(Key(name, f"{show(float(line[at]), 'N', machine.show, hint=unit_for(most, 'N', machine.show))} at most{told}"))
    return Picture(
        "block-loads", TITLE,
        "Greatest equivalent load of the most loaded block of each axis under weight, acceleration and the peak of the cut, the other axes at their worst ends.",
        "lines", tuple(key), Dimension("place along the travel", far.name, si=far.factor), Dimension("load on the block", force.name, si=force.factor), tuple(series), tuple(marks),
    )  # fmt: skip


def _worst(study: Study, axis: Axis) -> tuple[str, Array, Array]:
    """The travel over which the blocks' load varies most, with places and loads."""
    results = study.results
    every = [
        (other.name, loads_along(study.machine, axis, other, results.masses, results.cutting, results.motion)) for other in study.machine.axes
    ]  # fmt: skip
    name, found = max(every, key=lambda pair: float((pair[1].loads.max(axis=0) - pair[1].loads.min(axis=0)).max()))
    return name, found.places, found.loads
