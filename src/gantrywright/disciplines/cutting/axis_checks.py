"""CUT-301: whether the axes push against the greatest force of every cut."""

from collections.abc import Iterator

from gantrywright.base.samples import greatest
from gantrywright.disciplines.cutting.changes import mends
from gantrywright.disciplines.cutting.told import limited, used_of
from gantrywright.findings import Verdict, ceiling, check, unknown
from gantrywright.model.machine import Machine
from gantrywright.results import Results


@check(
    "CUT-301",
    title="Each axis has the thrust for the greatest force of every job",
    why="A tooth that pushes harder than the drive moves the axis off its path, and an open-loop motor may lose its step.",
    source="derived",
    remedy="Cut less deep or less wide, or give the axis more thrust at the feed: a shorter lead, a stronger motor, more current.",
)
def axes_push_enough(machine: Machine, results: Results) -> Iterator[Verdict]:
    """Peak force in any direction of the table's plane, along the spindle for the upright axis, against the thrust that is left at the
    wanted feed; what the mean force takes of the motor's torque, MOT-201 says."""
    for axis in machine.axes:
        found = list(limited(machine, results, f"axis-{axis.name}"))
        known = [one for one in found if one[2].value is not None and one[2].limit is not None]
        if not known:
            if found:
                yield unknown(axis.path, missing=found[0][2].missing, unit="N")
            continue
        job, answer, worst = max(known, key=lambda one: used_of(one[2]))
        assert worst.limit is not None
        along = "along the spindle" if axis.rise > 0.5 else "across the spindle, whichever way the job is fed"
        yield ceiling(
            axis.path, value=greatest(*(one[2].value for one in known if one[2].value is not None)), limit=worst.limit, unit="N", what="peak of the cut",
            note=f"hardest is {job.path}: {along}", figure=worst.figure, changes=mends(machine, job, answer, worst),
        )  # fmt: skip
