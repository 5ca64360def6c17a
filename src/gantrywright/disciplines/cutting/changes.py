"""Changes of a job that may mend a finding: round values, as a builder would write them into the file."""

from collections.abc import Iterator
from typing import Literal

import numpy as np

from gantrywright.base.quantities import parse
from gantrywright.base.quantities.proposing import beside, propose
from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Metre, MetrePerSecond, Number, RadianPerSecond, Real
from gantrywright.disciplines.cutting.drilling import is_drill
from gantrywright.findings import Change
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import HoldDown, Job
from gantrywright.results.jobs import JobAnswer, Limit

RPM = 30 / np.pi
USED = 0.6
"""Part of a limit that a change leaves used, so that it still holds with most of the spread; changes are looked for from here on."""
ROUNDED = 0.03
"""A depth that rounding would make so much larger is rounded finer."""
MANY = 25
"""Passes, clamps or screws beyond which nobody would go."""
CLEAR = 5e-3
"""That a cutter stands out beyond the whole depth, m; common practice, no source."""


def mends(machine: Machine, job: Job, answer: JobAnswer, limit: Limit) -> tuple[Change, ...]:
    """What mends a limit: more passes, or the settings that the machine was found to hold; of a drill less feed."""
    used = part_used(limit)
    if used <= USED:
        return ()
    if is_drill(job):
        plunge = propose(typical(job.plunge) * USED / used, "speed", machine.show, "down")
        now = beside(typical(job.plunge), plunge, "speed", machine.show)
        return (Change(f"{plunge} downwards instead of {now}", ((f"{job.path}.plunge", plunge),)),)
    return (*more_passes(machine, job, USED * typical(job.depth) / used), *advised(machine, job, answer))


def part_used(limit: Limit | None) -> float:
    """Part of a limit that the settings of the file use; nothing where it is not known, or for samples, of which no changes are asked."""
    used = None if limit is None else limit.used
    return 0.0 if used is None or np.ndim(used) > 0 else float(used)


def more_passes(machine: Machine, job: Job, most: Real) -> tuple[Change, ...]:
    """The same depth in so many passes that each is at most so deep."""
    depth = typical(job.depth)
    if depth <= typical(most) or typical(most) <= 0:
        return ()
    times = int(np.ceil(depth / typical(most) - 1e-9))
    if times * job.passes > MANY:
        return ()
    each = depth_text(depth / times, machine.show)
    words = f"{times * job.passes} passes of {each} instead of {job.passes} of {beside(depth, each, 'length', machine.show)}"
    return (Change(words, ((f"{job.path}.depth", each), (f"{job.path}.passes", str(times * job.passes)))),)


def depth_text(value: Metre, system: str) -> str:
    """A depth in the steps that a builder would set, finer where it is small."""
    each = propose(typical(value), "depth", system, "up")
    if float(parse(each, "length").value) > (1 + ROUNDED) * value:
        each = propose(typical(value), "fine-length", system, "up")
    return each


def advised(machine: Machine, job: Job, answer: JobAnswer) -> tuple[Change, ...]:
    """The settings that the machine was found to hold; none before they are worked out."""
    advice = answer.advice
    if advice is None:
        return ()
    depth, feed = depth_text(typical(advice.depth), machine.show), propose(typical(advice.feed), "speed", machine.show, "down")
    rpm = f"{typical(advice.speed) * RPM:.0f} rpm"
    passes = f"{advice.passes} passes of {depth}" if advice.passes > 1 else f"one pass of {depth}"
    edits = (
        (f"{job.path}.depth", depth), (f"{job.path}.passes", str(advice.passes)), (f"{job.path}.feed", feed), (f"{job.path}.speed", rpm),
    )  # fmt: skip
    return (Change(f"the settings that this machine can hold: {passes}, {feed} at {rpm}", edits),)


def feed_at(machine: Machine, job: Job, wanted: MetrePerSecond, side: Literal["up", "down"]) -> tuple[Change, ...]:
    """Another feed."""
    feed = propose(typical(wanted), "speed", machine.show, side)
    now = beside(typical(job.feed), feed, "speed", machine.show)
    return () if feed == now else (Change(f"feed {feed} instead of {now}", ((f"{job.path}.feed", feed),)),)


def turn(job: Job, speed: RadianPerSecond) -> tuple[Change, ...]:
    """Another speed of the spindle at the same feed."""
    rpm = round(typical(speed) * RPM, -1)
    return (Change(f"{rpm:.0f} rpm instead of {typical(job.speed) * RPM:.0f} rpm", ((f"{job.path}.speed", f"{rpm:.0f} rpm"),)),)


def turn_with_feed(machine: Machine, job: Job, speed: RadianPerSecond) -> tuple[Change, ...]:
    """Another speed of the spindle that it can turn, the feed in the same proportion, so that the chip stays."""
    wanted = float(np.floor(typical(speed) * RPM / 10) * 10)
    if not wanted > 0 or not _within(machine, wanted):
        return ()
    feed = propose(typical(job.feed) * wanted / (typical(job.speed) * RPM), "speed", machine.show, "nearest")
    now = beside(typical(job.feed), feed, "speed", machine.show)
    words = f"{wanted:.0f} rpm and {feed} instead of {typical(job.speed) * RPM:.0f} rpm and {now}"
    return (Change(words, ((f"{job.path}.speed", f"{wanted:.0f} rpm"), (f"{job.path}.feed", feed))),)


def _within(machine: Machine, rpm: float) -> bool:
    """Whether the spindle can turn so, as far as its range is known."""
    part = None if machine.spindle is None else machine.spindle.part
    if part is None:
        return True
    slow, fast = (None if end is None else typical(end) * RPM for end in (part.lowest, part.highest))
    return (slow is None or rpm >= slow - 1) and (fast is None or rpm <= fast + 1)


def shorter(machine: Machine, job: Job, most: Metre | None = None) -> tuple[Change, ...]:
    """The cutter farther in its collet: as far as the whole depth and the length of its flutes allow, or as is wanted."""
    flutes = 0.0 if job.cutter.flute_length is None else typical(job.cutter.flute_length)
    needed = max(typical(job.depth) * job.passes + CLEAR, flutes)
    out = propose(needed, "length", machine.show, "up")
    if most is not None and typical(most) > needed:
        out = propose(typical(most), "length", machine.show, "down")
    if float(parse(out, "length").value) > 0.95 * typical(job.stick_out):
        return ()
    now = beside(typical(job.stick_out), out, "length", machine.show)
    return (Change(f"cutter {out} out of its collet instead of {now}", ((f"{job.path}.stick_out", out),)),)


def held_better(machine: Machine, job: Job, used: Number) -> tuple[Change, ...]:
    """A stronger hold-down of the same kind."""
    hold = job.hold_down
    if hold is None or np.ndim(used) > 0 or not float(used) > USED:
        return ()
    return tuple(_stronger(machine, f"{job.path}.hold_down", hold, float(used) / USED))


def _stronger(machine: Machine, path: str, hold: HoldDown, times: float) -> Iterator[Change]:
    if hold.count is not None and hold.kind in COUNTED:
        count = int(np.ceil(hold.count * times))
        if hold.count < count <= MANY:
            yield Change(f"{count} {COUNTED[hold.kind]} instead of {hold.count}", ((f"{path}.count", str(count)),))
    for key, value, unit, words in _strengths(hold, times):
        new = propose(typical(value) * times, key, machine.show, "up")
        now = show(typical(value), unit, machine.show, hint=new.partition(" ")[2])
        yield Change(f"{new} {words} instead of {now}", ((f"{path}.{key}", new),))


def _strengths(hold: HoldDown, times: float) -> Iterator[tuple[str, Real, str, str]]:
    """What of a hold-down may be made stronger: key, value, unit and words."""
    if hold.kind == "tape" and hold.area is not None:
        yield "area", hold.area, "m2", "of tape"
    elif hold.kind == "vacuum":
        if hold.pressure is not None and hold.pump_pressure is None and typical(hold.pressure) * times <= PUMPED:
            yield "pressure", hold.pressure, "Pa", "of vacuum"
    elif hold.force is not None:
        yield "force", hold.force, "N", "of each"
    elif hold.torque is not None:
        yield "torque", hold.torque, "N m", "on each clamp"


COUNTED = {"clamps": "clamps", "slots": "clamps", "screws": "screws"}
"""Ways of holding by several pieces."""
PUMPED = 80e3
"""Vacuum that pumps of a shop reach at most, Pa; common practice, no source."""
