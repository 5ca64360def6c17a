"""What limits a cut: the removal rate that each limit allows, the depth that chatter allows over the speed of the spindle, what swinging
leaves on the wall."""

import math

import numpy as np

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Array
from gantrywright.pictures.jobs import LATER, told
from gantrywright.pictures.picture import Bar, Dimension, Key, Mark, Picture, Series
from gantrywright.pictures.scaling import Unit
from gantrywright.results.jobs import JobAnswer, Limit
from gantrywright.study.study import Study
from gantrywright.theory.cutting.lobes import HELD, SPEED_DOUBT

RPM = 30 / math.pi
TALLEST = 3.0
"""Limits are drawn up to so many times what the job cuts or could cut: the lobes go on to depths that no cutter has."""


def ceilings(study: Study, job: JobAnswer) -> Picture | str:
    """Removal rate at which each limit would be met; the lowest binds."""
    known = [limit for limit in job.limits if limit.ceiling is not None]
    if not known or job.removal is None:
        return "No limit of this job is known."
    unit = Unit.of("m3/s", typical(job.removal), study.machine.show)
    bars = tuple(_bar(study, job, limit, unit) for limit in known)
    key = [Key("removal rate of the job", told(study, f"job.{job.job}.removal", "m3/s"))]
    key += [Key(f"unknown: {limit.words}", limit.missing) for limit in job.unknown]
    words = (
        "Removal rate that each limit allows, the lowest first: it binds. Depth or feed is changed until the limit is met, everything else as in the file. "
        "The line is the job as the file has it: limits that end before it are exceeded."
    )
    mark = Mark(unit(typical(job.removal)), 0.0, f"the job, {show(typical(job.removal), 'm3/s', study.machine.show)}")
    return Picture(
        "", "", words, "bars", tuple(key), y=Dimension("removal rate", unit.name, log=True, si=unit.factor), marks=(mark,), bars=bars, rising=True
    )  # fmt: skip


def _bar(study: Study, job: JobAnswer, limit: Limit, unit: Unit) -> Bar:
    assert limit.ceiling is not None
    binds = "" if job.binds is not limit else "lowest of those known" if job.unknown else "binds"
    said = (told(study, f"job.{job.job}.ceiling.{limit.id}", "m3/s"), "exceeded" if limit.exceeded else "", binds)  # fmt: skip
    return Bar(limit.words.partition(" (")[0], unit(typical(limit.ceiling)), ", ".join(part for part in said if part))


def lobes(study: Study, job: JobAnswer) -> Picture | str:
    """Depth at which the job begins to chatter over the speed of the spindle, what is recommended of it, and where the job stands."""
    found, system = job.lobes, study.machine.show
    if found is None:
        return _later(job)
    asked = next(each for each in study.machine.jobs if each.name == job.job)
    own, now = typical(asked.depth), typical(asked.speed) * RPM
    most = TALLEST * max(own, typical(found.low), *(() if found.best_depth is None else (typical(found.best_depth),)))
    lines = (("begins to chatter", found.depth, ""), (f"{HELD:g} of it, recommended", HELD * found.depth, "7 4"), (f"if frequencies are {100 * SPEED_DOUBT:.0f} % off", found.worst, "2 3"))  # fmt: skip
    far = Unit.of("m", own, system)
    series = tuple(Series(name, _points(found.speeds, np.asarray(values), most, far), dash) for name, values, dash in lines)
    if not any(y is not None for line in series for _, y in line.points):
        return f"It does not chatter at depths up to {show(most, 'm', system)}, at any speed of the spindle."
    marks = [Mark(now, far(own), f"the job, {show(own, 'm', system)}")]
    path = f"job.{job.job}"
    key = [
        Key("limit at the job's speed", _depth(study, f"{path}.chatter_limit")),
        Key("recommended at most", _depth(study, f"{path}.chatter_depth")),
        Key(f"limit if frequencies are {100 * SPEED_DOUBT:.0f} % off", show(typical(found.low), "m", system)),
        Key("begins", f"at {show(found.frequency, 'Hz')}, feed {found.direction}, {found.way}"),
    ]
    if found.best is not None and found.best_depth is not None:
        best = show(typical(found.best), "rad/s", system)
        key.append(
            Key(
                "most may be cut at",
                f"{best}, {show(typical(found.best_depth), 'm', system)} even if every frequency is {100 * SPEED_DOUBT:.0f} % off",
            )
        )
        if typical(found.best_depth) <= most:
            marks.append(Mark(typical(found.best) * RPM, far(typical(found.best_depth)), f"best speed {best}"))
    words = (
        f"Depth of cut at which the job begins to chatter over the speed of the spindle ({found.method}), in the worst direction of feed where the machine is softest. "
        f"A line leaves the picture where more than {show(most, 'm', system)} may be cut. Typical values."
    )
    return Picture("", "", words, "lines", tuple(key), Dimension("speed of the spindle", "rpm", si=1 / RPM), Dimension("depth of cut", far.name, si=far.factor), series, tuple(marks))  # fmt: skip


def _depth(study: Study, path: str) -> str:
    if path in study.results.ledger and not math.isfinite(typical(study.results.ledger[path].value)):
        return "none"
    return told(study, path, "m")


def _points(speeds: Array, values: Array, most: float, far: Unit) -> tuple[tuple[float, float | None], ...]:
    return tuple((float(x) * RPM, far(y) if y <= most else None) for x, y in zip(speeds, values, strict=True))


def swinging(study: Study, job: JobAnswer) -> Picture | str:
    """What a tool that swings in a steady cut leaves on the wall, over the speed of the spindle."""
    found, system, wanted = job.lobes, study.machine.show, study.machine.purpose.accuracy
    if found is None:
        return _later(job)
    if not len(found.error):
        return "What the swinging tool leaves on the wall was not worked out."
    asked = next(each for each in study.machine.jobs if each.name == job.job)
    now, error = typical(asked.speed), np.asarray(found.error)
    here, most = float(np.interp(now, found.speeds, error)), float(np.max(error))
    off = Unit.of("m", most, system)
    series = [Series("off the wall", tuple((float(x) * RPM, off(y)) for x, y in zip(found.speeds, error, strict=True)))]
    key = [Key("at the job's speed", show(here, "m", system)), Key("at the worst speed", show(most, "m", system))]
    if wanted is not None:
        key.append(Key("wanted", f"within {show(typical(wanted), 'm', system)}"))
        if typical(wanted) <= 2 * most:
            series.append(Series("wanted at most", tuple((float(x) * RPM, off(typical(wanted))) for x in (found.speeds[0], found.speeds[-1])), "1 2", tone=3))  # fmt: skip
    words = (
        "Size of the error that a tool leaves on the worst wall while it swings in a steady cut, at the depth and the chip of the file, over the speed of the spindle. "
        "It peaks where the teeth pass in step with a mode. Typical values; run-out is not in it."
    )
    return Picture("", "", words, "lines", tuple(key), Dimension("speed of the spindle", "rpm", si=1 / RPM), Dimension("off the wall", off.name, si=off.factor), tuple(series), (Mark(now * RPM, off(here), f"the job, {show(here, 'm', system)}"),))  # fmt: skip


def _later(job: JobAnswer) -> str:
    return LATER if job.pending else "The modes of the machine with this cutter, or the spindle's range, are not known."
