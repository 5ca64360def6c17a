"""CUT-120, 121: how drills are fed and turned. What else limits them, the checks of power, axes, hold and strength say."""

from collections.abc import Iterator

import numpy as np

from gantrywright.base.quantities.proposing import propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.drilling import HOT, feed_window, is_drill, usual_speed
from gantrywright.findings import Change, Verdict, cautioned, ceiling, check, floor, unknown
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.theory.cutting.leaving import thrown_speed

RPM = 30 / np.pi
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


@check(
    "CUT-121",
    title="The corners of drills go about as fast as is usual in the material",
    why="Too fast, the corners of a drill soften or melt the work within a hole; high-speed steel in metal bears a fraction of what carbide does.",
    source="common practice, no source",
    remedy="Turn slower with the feed downwards in proportion, or use a drill of carbide; a spindle that cannot turn so slowly is not for such holes.",
)
def drill_turns_as_usual(machine: Machine, results: Results) -> Iterator[Verdict]:
    """By the material of the drill. In metal too fast is over a limit; all else is a caution, as what is usual is none."""
    for job in machine.jobs:
        diameter, group = job.cutter.diameter, job.material.group.replace("-", " ")
        if not is_drill(job) or diameter is None or not group:  # CUT-101 and CUT-120 say what is missing
            continue
        usual, of = usual_speed(job), job.cutter.material.replace("-", " ")
        if usual is None:
            yield unknown(job.path, missing=f"{job.path}.cutter.material, of which a usual speed in {group} is known", unit="m/s")
            continue
        speed = thrown_speed(diameter=diameter, speed=job.speed)
        note = f"in {group} {show(usual.low, 'm/s', machine.show)} to {show(usual.high, 'm/s', machine.show)} are usual with a drill of {of}"
        low, high = usual.low / typical(diameter) * 2, usual.high / typical(diameter) * 2
        most = ceiling(
            f"{job.path} (fast)", value=speed, limit=usual.high, unit="m/s", what="speed of its corners", note=note, source=usual.source,
            changes=_turned(machine, job, high) if typical(job.speed) > high else (),
        )  # fmt: skip
        yield most if job.material.group in HOT else cautioned(most)
        yield cautioned(
            floor(
                f"{job.path} (slow)", value=speed, limit=usual.low, unit="m/s", what="speed of its corners", note=note, source=usual.source,
                changes=_turned(machine, job, 1.02 * low) if typical(job.speed) < low else (),
            )
        )  # fmt: skip


def _turned(machine: Machine, job: Job, wanted: float) -> tuple[Change, ...]:
    """Another speed that the spindle can turn, with the feed for a turn kept."""
    rpm, part = float(np.floor(wanted * RPM / 10) * 10), None if machine.spindle is None else machine.spindle.part
    slowest = 0.0 if part is None or part.lowest is None else typical(part.lowest) * RPM
    fastest = np.inf if part is None or part.highest is None else typical(part.highest) * RPM
    if rpm <= 0 or not slowest <= rpm <= fastest:
        return ()
    plunge = propose(typical(job.plunge) * rpm / (typical(job.speed) * RPM), "speed", machine.show, "nearest")
    return (
        Change(f"{rpm:.0f} rpm and {plunge} downwards", ((f"{job.path}.speed", f"{rpm:.0f} rpm"), (f"{job.path}.plunge", plunge))),
    )
