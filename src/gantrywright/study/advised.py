"""The advised settings of a job beside those of the file, with the one change that takes them."""

from dataclasses import dataclass
from math import isclose

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.disciplines.cutting.changes import advised
from gantrywright.results.jobs import JobAnswer
from gantrywright.study.job_words import NOTICED, job_of
from gantrywright.study.study import Study

WHAT = {"depth": "depth of a pass", "passes": "passes", "feed": "feed", "speed": "speed of the spindle"}


@dataclass(frozen=True, slots=True)
class Beside:
    """One setting."""

    path: str
    """In the machine file."""
    what: str
    file: str
    """As the job has it now."""
    advised: str
    """As it would be written; empty where nothing is advised."""
    reason: str


def settings_beside(study: Study, answer: JobAnswer) -> tuple[tuple[Beside, ...], tuple[tuple[str, str], ...]]:
    """Every setting, and the edits that take all advised ones; none where nothing is advised, or where the file has them already."""
    job, system = job_of(study, answer), study.machine.show
    now = {
        "depth": show(typical(job.depth), "m", system), "passes": str(job.passes), "feed": show(typical(job.feed), "m/s", system),
        "speed": show(typical(job.speed), "rad/s", system),
    }  # fmt: skip
    changes = advised(study.machine, job, answer)
    texts = {path.rpartition(".")[2]: text for path, text in changes[0].edits} if changes else {}
    if answer.advice is not None:  # what is only rounded otherwise stays as it was written
        like = {"depth": job.depth, "feed": job.feed, "speed": job.speed}
        texts |= {
            key: now[key]
            for key, value in like.items()
            if isclose(typical(getattr(answer.advice, key)), typical(value), rel_tol=NOTICED)
        }
    reasons = answer.advice.reasons if answer.advice is not None else {}
    rows = tuple(Beside(f"{job.path}.{key}", WHAT[key], now[key], texts.get(key, ""), reasons.get(key, "")) for key in WHAT)
    wanted = {row.path for row in rows if row.advised != row.file}
    return rows, tuple(edit for edit in changes[0].edits if edit[0] in wanted) if changes else ()
