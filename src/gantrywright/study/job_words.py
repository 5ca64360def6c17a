"""What a job comes to in sentences, the same on every face."""

import math
from collections.abc import Iterator

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.model.purpose import Job
from gantrywright.results.jobs import Advice, JobAnswer, Lobes, Runs
from gantrywright.study.limit_words import used
from gantrywright.study.study import Study
from gantrywright.study.wall_words import NOTHING_WANTED
from gantrywright.study.words import with_band
from gantrywright.theory.cutting.lobes import HELD, SPEED_DOUBT

LATER = "chatter and settings are worked out with the spread"
NOTICED = 0.005
"""A setting that differs by less than this share from that of the file is the same."""


def job_of(study: Study, answer: JobAnswer) -> Job:
    """The job that an answer is of."""
    return next(job for job in study.machine.jobs if job.name == answer.job)


def runs(answer: JobAnswer) -> Runs:
    """Whether a job runs; as long as settings are still being looked for, none of a job that is over its limits is not yet a no."""
    return Runs.UNKNOWN if answer.pending and answer.runs is Runs.NO else answer.runs


def verdict(study: Study, answer: JobAnswer) -> str:
    """In a sentence whether a job runs, and on which condition; where no accuracy is wanted, that walls are held against nothing."""
    unmeasured = f". Of the wall {NOTHING_WANTED}" if answer.walls and study.machine.purpose.accuracy is None else ""
    return _verdict(study, answer) + unmeasured


def _verdict(study: Study, answer: JobAnswer) -> str:
    over, lacks, said = _over(answer), _lacking(answer), runs(answer)
    if answer.missing or not answer.limits:
        return f"unknown: it takes {answer.missing or 'limits that can be worked out'}"
    if said is Runs.YES:
        near = _over_at_worst(study, answer)
        return "runs as it is written: every limit is kept" + (
            f" by typical values; at the worse end of its band not: {near}" if near else ""
        )
    if said is Runs.IF and answer.advice is not None:
        changed = ", ".join(changes(study, answer.advice, job_of(study, answer))) or "the settings are a little lower"
        return f"runs if {changed}. As it is written it is over: {over}" + (f". Not known: {lacks}" if lacks else "")
    if said is Runs.NO:
        return f"does not run as it is written, over: {over}; no settings were found: {answer.no_advice}"
    if over:
        return f"unknown: as it is written it is over: {over}; {LATER}"
    if answer.pending:
        return f"unknown so far: what is known is kept; {LATER}"
    return f"unknown: every limit that is known is kept, but nothing is known of {lacks}"


def _over(answer: JobAnswer) -> str:
    return ", ".join(f"{limit.words} ({used(limit)})" for limit in answer.limits if limit.exceeded)


def _over_at_worst(study: Study, answer: JobAnswer) -> str:
    """Limits that are kept by typical values, but not where everything that is uncertain comes out badly."""
    removes = typical(answer.removal) if answer.removal is not None else 0.0
    least = {
        limit.words: study.bands.get(f"job.{answer.job}.ceiling.{limit.id}", (math.inf, math.inf))[0] for limit in answer.limits
    }
    return ", ".join(words for words, low in least.items() if low < removes)


def _lacking(answer: JobAnswer) -> str:
    return "; ".join(f"{limit.words} (it takes {limit.missing})" for limit in answer.unknown)


def changes(study: Study, advice: Advice, job: Job) -> Iterator[str]:
    """What the advised settings change of those of the file."""
    system, whole = study.machine.show, typical(job.depth) * job.passes
    if advice.passes != job.passes:
        each = f"{advice.passes} passes of {show(float(advice.depth), 'm', system)}" if advice.passes > 1 else "one pass"
        yield f"{show(whole, 'm', system)} is cut in {each}"
    for words, value, now, unit in (
        ("the spindle turns at", advice.speed, job.speed, "rad/s"),
        ("the feed is", advice.feed, job.feed, "m/s"),
    ):
        if not math.isclose(float(value), typical(now), rel_tol=NOTICED):
            yield f"{words} {show(float(value), unit, system)}"


def binds(answer: JobAnswer) -> str:
    """The limit that is met first, and how much of it is used."""
    return "" if answer.binds is None else f"{answer.binds.words}, {used(answer.binds)} used"


def following(answer: JobAnswer) -> str:
    """The limit that would be met next."""
    return "" if answer.next is None else f"{answer.next.words}, {used(answer.next)} used"


def settings(study: Study, advice: Advice, job: Job, asked: float | None) -> Iterator[tuple[str, str, str, str]]:
    """The advised settings: name, value, that of the file, reason.

    Args:
        study: Of the machine.
        advice: Of the job.
        job: As in the file.
        asked: Removal rate as in the file, m3/s.
    """
    system = study.machine.show
    rows = (
        ("speed", advice.speed, job.speed, "rad/s"), ("feed", advice.feed, job.feed, "m/s"), ("depth", advice.depth, job.depth, "m"),
        ("width", advice.width, job.width, "m"),
    )  # fmt: skip
    for name, value, now, unit in rows:
        yield name, show(float(value), unit, system), show(typical(now), unit, system), advice.reasons[name]
        if name == "depth":
            yield "passes", str(advice.passes), str(job.passes), advice.reasons["passes"]
    yield (
        "removes",
        show(float(advice.removal), "m3/s", system),
        show(asked, "m3/s", system),
        f"what sets the depth: {advice.binds}",
    )


def as_written(study: Study, job: Job) -> str:
    """``plywood-birch with end-mill-6-2f-down: slot, 2 passes of 6 mm, 18000 rpm, 4 m/min``."""
    system = study.machine.show
    way = "holes" if job.cutter.style == "drill" else "slot" if job.slot else f"{show(typical(job.width), 'm', system)} wide"
    depth = show(typical(job.depth), "m", system)
    passes = f"{job.passes} passes of {depth}" if job.passes > 1 else f"{depth} deep"
    numbers = f"{passes}, {show(typical(job.speed), 'rad/s', system)}, {show(typical(job.feed), 'm/s', system)}"
    return f"{job.material.id or 'a material'} with {job.cutter.id or 'a cutter'}: {way}, {numbers}"


def settings_in_short(study: Study, advice: Advice) -> str:
    """``advised: 2 passes of 6 mm, 18 900 rpm, 8.65 m/min``."""
    system = study.machine.show
    passes = f"{advice.passes} passes of" if advice.passes > 1 else "one pass of"
    return f"advised: {passes} {show(float(advice.depth), 'm', system)}, {show(float(advice.speed), 'rad/s', system)}, {show(float(advice.feed), 'm/s', system)}"


def held(study: Study, answer: JobAnswer) -> list[str]:
    """How the work is held, and by how much."""
    system, holding = study.machine.show, answer.holding
    if holding is None:
        job = next((job for job in study.machine.jobs if job.name == answer.job), None)
        lacking = next((limit.missing for limit in answer.limits if limit.id == "hold-down"), "")
        if job is not None and job.hold_down is not None and lacking:
            return [f"not known: it takes {lacking}"]
        return [f"not known: the file does not say how the work is held (job.{answer.job}.hold_down)"]
    if holding.slip is None:
        return [f"not known: it takes {holding.missing}"]
    push = f"the cut pushes with up to {show(typical(holding.push), 'N', system)}, the hold stands {_stands(study, answer, 'push', typical(holding.slip))}"
    told = [f"{holding.words}: {push}"]
    if holding.lift is not None and typical(holding.pull) > 0:
        told.append(
            f"the cut lifts with up to {show(typical(holding.pull), 'N', system)}, the hold stands {_stands(study, answer, 'lift', typical(holding.lift))}"
        )
    if holding.smallest is not None:
        told.append(f"a part that is held by itself needs at least {show(typical(holding.smallest), 'm2', system)}")
    return [*told, *([holding.note] if holding.note else [])]


def _stands(study: Study, answer: JobAnswer, way: str, value: float) -> str:
    low, high = study.bands.get(f"job.{answer.job}.held_{way}", (None, None))
    return with_band(value, low, high, "N", study.machine.show)


def chatter(study: Study, answer: JobAnswer) -> list[str]:
    """How deep the cut may go before it chatters, at its speed and at the best one."""
    found = answer.lobes
    if found is None:
        return [
            LATER
            if answer.pending
            else f"not known: it takes {next((each.missing for each in answer.limits if each.id == 'chatter'), 'modes of the machine')}"
        ]
    system, job = study.machine.show, job_of(study, answer)
    speed = show(typical(job.speed), "rad/s", system)
    if not math.isfinite(typical(found.here)):
        here = f"at {speed} none at any depth that the cutter can reach"
    else:
        low, high = study.bands.get(f"job.{answer.job}.chatter_limit", (None, None))
        limit = with_band(typical(found.here), low, high, "m", system)
        here = f"at {speed} it begins at a depth of {limit}, at {found.frequency:.0f} Hz, feed {found.direction}, {found.way}; no more than {HELD:g} of it is advised, {show(HELD * typical(found.here), 'm', system)}"
    return [here, *_rings(study, found), *_best(study, found)]


def _rings(study: Study, found: Lobes) -> list[str]:
    if found.rings is None or not math.isfinite(typical(found.here)):
        return []
    rings = found.rings
    return [
        f"what swings: a mode of {rings.frequency:.0f} Hz, damping {100 * rings.damping:.1f} %, {show(rings.stiffness, 'N/m', study.machine.show)} at the tip"
    ]


def _best(study: Study, found: Lobes) -> list[str]:
    if found.best is None or found.best_depth is None:
        return []
    depth = typical(found.best_depth)
    limit = show(depth, "m", study.machine.show) if math.isfinite(depth) else "any depth of the flutes"
    return [
        f"best speed of the spindle: {show(typical(found.best), 'rad/s', study.machine.show)}, where it begins at {limit} even if every frequency is {100 * SPEED_DOUBT:.0f} % off"
    ]
