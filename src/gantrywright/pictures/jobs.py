"""What the pictures of single jobs share: which job is asked for, and what is said where there is nothing to draw."""

from collections.abc import Callable
from dataclasses import replace

from gantrywright.base.quantities import unit_for
from gantrywright.base.samples import typical
from gantrywright.pictures.picture import Kind, Maker, Picture
from gantrywright.results.jobs import JobAnswer
from gantrywright.study.study import Study
from gantrywright.study.words import with_band

LATER = "It is worked out with the spread."
"""Of what takes longer than the first answer."""
Draw = Callable[[Study, JobAnswer], Picture | str]
"""A picture of a job, or why there is none."""


def of_jobs(id: str, title: str, words: str, kind: Kind, draw: Draw) -> Maker:
    """A picture that every job has; without a name it is that of the first one."""

    def make(study: Study, name: str) -> Picture:
        jobs = study.results.jobs.jobs
        found = jobs.get(name or next(iter(jobs), ""))
        if found is None:
            return Picture(id, title, f"There is no job {name}." if name else "The machine file names no job.", kind, of=name)
        drawn = f"It takes {found.missing}." if found.missing else draw(study, found)
        named = f"{title}: {found.job}"
        if isinstance(drawn, str):
            return Picture(id, named, drawn, kind, of=found.job)
        return replace(drawn, id=id, title=named, of=found.job)

    return Maker(id, title, "cut", words, lambda study: make(study, ""), make)


def told(study: Study, path: str, unit: str, *, size: bool = False) -> str:
    """A figure of the ledger with its band, in the builder's units; unknown where there is none.

    Args:
        study: Whose figure it is.
        path: Of the figure.
        unit: Symbol of its SI unit.
        size: Tell it without its sign.
    """
    if path not in study.results.ledger:
        return "unknown"
    value = typical(study.results.ledger[path].value)
    low, high = study.bands.get(path, (None, None))
    if size and value < 0:
        value, low, high = -value, None if high is None else -high, None if low is None else -low
    return with_band(value, low, high, unit, study.machine.show, unit_for(value, unit, study.machine.show))
