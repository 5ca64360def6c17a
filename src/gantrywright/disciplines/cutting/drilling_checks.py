"""CUT-120: how drills are fed. What else limits them, the checks of power, axes, hold and strength say."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.proposing import propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.drilling import feed_window, is_drill
from gantrywright.findings import Change, Verdict, ceiling, check, floor, unknown
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results

RUBS = 0.3
"""Of the usual lower end: below this the lips rub and burn; common practice, no source."""


@check(
    "CUT-120",
    title="Drills are fed for a turn as is usual",
    why="Too much of a feed breaks a drill or stalls the spindle; with too little its lips rub, burn and dull themselves.",
    source="common practice, no source",
    remedy="Change the feed downwards, or turn the spindle at another speed.",
)
def drill_is_fed_as_usual(machine: Machine, results: Results) -> Iterator[Verdict]:
    for job in machine.jobs:
        if not is_drill(job) or job.cutter.diameter is None:
            continue
        window = feed_window(job)
        if window is None:
            yield unknown(job.path, missing=f"what is cut like: part.{job.material.id or 'NAME'}.group", unit="m")
            continue
        low, high = window
        feed = job.plunge / (job.speed / (2 * np.pi))
        usual = f"usual {show(typical(low), 'm', machine.show)} to {show(typical(high), 'm', machine.show)} for a turn in {job.material.group.replace('-', ' ')}"
        figure = f"{job.path}.feed_per_turn"
        yield ceiling(
            f"{job.path} (most)", value=feed, limit=high, unit="m", what="feed for a turn", note=f"{usual}.", figure=figure,
            changes=_fed(machine, job, 0.9 * typical(high)) if typical(feed) > typical(high) else (),
        )  # fmt: skip
        # between rubbing and the usual range it is to be watched
        yield floor(
            f"{job.path} (least)", value=feed, limit=RUBS * low, unit="m", what="feed for a turn", watch=1 / RUBS - 1, figure=figure,
            note=f"{usual}: less is to be watched, below {100 * RUBS:.0f} % of it the lips rub.", changes=_fed(machine, job, 1.1 * typical(low)) if typical(feed) < typical(low) else (),
        )  # fmt: skip


def _fed(machine: Machine, job: Job, feed: float) -> tuple[Change, ...]:
    """A feed downwards at which so much is fed for a turn."""
    speed = propose(feed * typical(job.speed) / (2 * np.pi), "speed", machine.show)
    return (Change(f"{speed} downwards", ((f"{job.path}.plunge", speed),)),)
