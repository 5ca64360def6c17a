"""A second opinion on chatter in words: what it says, and whether it overturns the first."""

import math

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.model.purpose import Job
from gantrywright.results.jobs import Second
from gantrywright.study.limit_words import share
from gantrywright.study.study import Study
from gantrywright.theory.cutting.lobes import HELD

SAME = 0.005
"""Two depths that differ by less than this share are the same."""
SLOWLY = 0.98
"""What a disturbance is still as large as from tooth to tooth where the run may end before it has died away."""


def second(study: Study, found: Second | None) -> list[str]:
    """What the reference method and a run of the cut in time say of the settings of the file."""
    if found is None:
        return ["none: there is no first one"]
    system = study.machine.show
    says = f"the delay method, feed {found.direction}, {found.way}: {_begins(study, typical(found.here))}; the first opinion said {_first(study, found)}"
    run = f"a run in time: the tool swings by {show(typical(found.swing), 'm', system)} from peak to peak, and differs by {show(typical(found.unlike), 'm', system)} from tooth to tooth at the end"
    told = [says, _grows(typical(found.growth)), run]
    return [*told, *(each for each in (_forced(study, found), lower(study, found)) if each)]


def lower(study: Study, found: Second | None) -> str:
    """That the second opinion is lower than the first, and what it makes of the depth of the file; empty where it is not."""
    if found is None or not typical(found.here) < (1 - SAME) * typical(found.first):
        return ""
    system, limit = study.machine.show, HELD * typical(found.here)
    told = f"the second opinion is lower than the first: chatter begins at {show(typical(found.here), 'm', system)}, no more than {show(limit, 'm', system)} is advised"
    part = typical(_job(study, found).depth) / limit if limit > 0 else math.inf
    return f"{told}; {'over it' if part > 1 else 'kept'}: the file uses {share(part)} of it"


def over(study: Study, found: Second | None) -> bool:
    """Whether the depth of the file is more than the second opinion advises."""
    return found is not None and typical(_job(study, found).depth) > HELD * typical(found.here)


def _job(study: Study, found: Second) -> Job:
    return next(job for job in study.machine.jobs if job.name == found.job)


def _begins(study: Study, depth: float) -> str:
    return (
        f"it begins at a depth of {show(depth, 'm', study.machine.show)}"
        if math.isfinite(depth)
        else "it begins at none of the depths that were looked at"
    )


def _first(study: Study, found: Second) -> str:
    depth = typical(found.first)
    return show(depth, "m", study.machine.show) if math.isfinite(depth) else "at none that the cutter can reach"


def _grows(growth: float) -> str:
    said, times = "at the depth of the file a disturbance is", f"{growth:.3g}"
    if times == "1":
        return f"{said} hardly {'larger' if growth > 1 else 'smaller'} from tooth to tooth: the cut is on the edge of chatter"
    if growth > 1:
        return f"{said} {times} times as large from tooth to tooth: the cut chatters"
    slowly = "; it dies away slowly, so that the run in time may still hold its beginning" if growth > SLOWLY else ""
    return f"{said} {times} times as large from tooth to tooth: the cut does not chatter{slowly}"


def _forced(study: Study, found: Second) -> str:
    """A cut that does not chatter may yet leave teeth in the air and overload the next."""
    job = _job(study, found)
    chip = typical(job.feed) / (typical(job.speed) / (2 * math.pi) * job.cutter.flutes) if job.cutter.flutes else math.inf
    if typical(found.growth) > 1 or typical(found.unlike) <= chip:
        return ""
    return f"forced swinging larger than the chip ({show(chip, 'm', study.machine.show)}): it misbehaves before it chatters"
