"""What the checks of the cut share: the answers of the jobs, their limits, and the words for places and lengths."""

from collections.abc import Iterator

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Real
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.results import Results
from gantrywright.results.jobs import JobAnswer, Limit


def answered(machine: Machine, results: Results) -> Iterator[tuple[Job, JobAnswer]]:
    """Jobs whose forces are known; of the others CUT-101 says what is missing."""
    for job in machine.jobs:
        answer = results.jobs.jobs.get(job.name)
        if answer is not None and not answer.missing:
            yield job, answer


def limited(machine: Machine, results: Results, id: str) -> Iterator[tuple[Job, JobAnswer, Limit]]:
    """Jobs with one of their limits, where they have it."""
    for job, answer in answered(machine, results):
        limit = limit_of(answer, id)
        if limit is not None:
            yield job, answer, limit


def limit_of(answer: JobAnswer, id: str) -> Limit | None:
    """One limit of a job."""
    return next((limit for limit in answer.limits if limit.id == id), None)


def used_of(limit: Limit) -> float:
    """Part of a limit that is used, typical; nothing where it is not known."""
    return 0.0 if limit.used is None else typical(limit.used)


def length(machine: Machine, value: Real | None) -> str:
    """A typical length in the units of the machine."""
    return show(None if value is None else typical(value), "m", machine.show)


def softest(machine: Machine, results: Results) -> str:
    """The place at which deflection and chatter are worked out."""
    tip = results.structure.worst
    if tip is None:
        return "where the machine is softest"
    places = ", ".join(f"{name.upper()} {show(place, 'm', machine.show)}" for name, place in sorted(tip.pose.items()))
    return f"where the machine is softest ({places})" if places else "where the machine is softest"
