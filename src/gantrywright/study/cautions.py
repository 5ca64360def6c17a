"""What is told beside the jobs about dust, fire, noise, eyes, ears and thrown parts: no finding, and never all that there is to know."""

from gantrywright.base.samples import typical
from gantrywright.base.sources import spell_out
from gantrywright.disciplines.cutting.cautions import Facts, Told, cautions_of
from gantrywright.model.machine import Machine
from gantrywright.model.purpose import Job
from gantrywright.study.study import Study

FOREWORD = (
    "Cautions, not a complete list: local rules, the manuals of machine, cutter and material, and licensed practice come first."
)


def cautions(study: Study, *names: str) -> tuple[Told, ...]:
    """Those that the jobs of a machine call for.

    Args:
        study: Of the machine.
        names: Of the jobs; none: all.
    """
    jobs = [job for job in study.machine.jobs if not names or job.name in names]
    return cautions_of([_facts(study.machine, job) for job in jobs], frozenset(job.material.group for job in study.machine.jobs))


def exported(told: tuple[Told, ...]) -> list[dict[str, object]]:
    """As plain data."""
    return [
        {
            "id": each.caution.id, "subject": each.caution.subject, "title": each.caution.title, "words": each.words, "jobs": list(each.jobs),
            "sources": [spell_out(source) for source in each.caution.sources],
        }
        for each in told
    ]  # fmt: skip


def _facts(machine: Machine, job: Job) -> Facts:
    spindle = machine.spindle
    cooling = "" if spindle is None else spindle.cooling or spindle.part.cooling
    diameter = 0.0 if job.cutter.diameter is None else typical(job.cutter.diameter)
    return Facts(
        job.name, job.material.group, diameter, typical(job.speed), "" if job.hold_down is None else job.hold_down.kind, cooling
    )
