"""What every job comes to as plain data: what ``--json`` prints and the drawing board draws. Keys are stable; numbers are SI."""

from dataclasses import asdict
from typing import Any

import numpy as np

from gantrywright.base.errors import NotFound
from gantrywright.base.names import nearest_sentence
from gantrywright.base.samples import typical
from gantrywright.model.machine import Machine
from gantrywright.results.jobs import Advice, Holding, JobAnswer, Limit, Lobes
from gantrywright.study.job_words import runs, verdict
from gantrywright.study.study import Study


def asked(machine: Machine, name: str = "") -> tuple[str, ...]:
    """Names of all jobs in the order of the file, or of the one that is asked for.

    Raises:
        NotFound: There is no such job; names those that there are.
    """
    names = tuple(job.name for job in machine.jobs)
    if not name:
        return names
    if name not in names:
        those = f"the machine file has {', '.join(names)}" if names else "the machine file has none"
        raise NotFound(f"no job {name!r}{nearest_sentence(name, set(names))}; {those}")
    return (name,)


def jobs(study: Study, *names: str) -> dict[str, Any]:
    """By name; all where none is given."""
    found = study.results.jobs.jobs
    return {name: job(study, found[name]) for name in names or found}


def job(study: Study, answer: JobAnswer) -> dict[str, Any]:
    """One job with its limits, walls, settings and lobes."""
    path = f"job.{answer.job}"
    return {
        "runs": str(runs(answer)), "words": verdict(study, answer), "missing": answer.missing, "pending": answer.pending,
        "binds": answer.binds.id if answer.binds is not None else None, "next": answer.next.id if answer.next is not None else None,
        "removal": _plain(answer.removal), "limits": [_limit(study, path, limit) for limit in answer.limits],
        "walls": [
            {
                "way": wall.way, "most": _plain(wall.most), "least": _plain(wall.least), "mean": _plain(wall.mean), "worst": _plain(wall.worst),
                "band": _band(study, f"{path}.wall.{wall.way}"),
            }
            for wall in answer.walls
        ],
        "wall": _banded(study, f"{path}.wall"), "bottom": _banded(study, f"{path}.bottom"), "holding": _holding(study, path, answer.holding),
        "advice": _advice(answer.advice), "no_advice": answer.no_advice, "lobes": _lobes(study, path, answer.lobes),
        "trace": None if answer.trace is None else {key: _plain(value) for key, value in asdict(answer.trace).items()},
        "profile": None if answer.profile is None else {key: _plain(value) for key, value in asdict(answer.profile).items()},
    }  # fmt: skip


def _limit(study: Study, path: str, limit: Limit) -> dict[str, Any]:
    return {
        "id": limit.id, "words": limit.words, "value": _plain(limit.value), "limit": _plain(limit.limit), "unit": limit.unit, "used": _plain(limit.used),
        "exceeded": limit.exceeded, "scales": limit.scales, "ceiling": _plain(limit.ceiling), "band": _band(study, f"{path}.ceiling.{limit.id}"),
        "figure": limit.figure, "missing": limit.missing, "note": limit.note,
    }  # fmt: skip


def _holding(study: Study, path: str, held: Holding | None) -> dict[str, Any] | None:
    if held is None:
        return None
    return {
        "words": held.words, "note": held.note, "missing": held.missing, "push": _plain(held.push), "pull": _plain(held.pull), "slip": _plain(held.slip),
        "slip_band": _band(study, f"{path}.held_push"), "lift": _plain(held.lift), "lift_band": _band(study, f"{path}.held_lift"),
        "smallest": _plain(held.smallest),
    }  # fmt: skip


def _advice(made: Advice | None) -> dict[str, Any] | None:
    if made is None:
        return None
    numbers = {name: _plain(getattr(made, name)) for name in ("speed", "feed", "depth", "width", "chip", "removal")}
    return {**numbers, "passes": made.passes, "reasons": dict(made.reasons), "binds": made.binds}


def _lobes(study: Study, path: str, found: Lobes | None) -> dict[str, Any] | None:
    if found is None:
        return None
    return {key: _plain(value) for key, value in asdict(found).items()} | {"band": _band(study, f"{path}.chatter_limit")}


def _banded(study: Study, path: str) -> dict[str, Any] | None:
    """A figure and its band; None where there is none."""
    if path not in study.results.ledger:
        return None
    return {"value": _plain(study.results.ledger[path].value), "band": _band(study, path)}


def _band(study: Study, path: str) -> list[float] | None:
    return list(study.bands[path]) if path in study.bands else None


def _plain(value: Any) -> Any:
    """Numbers as JSON has them: no limit and unknown are null."""
    if value is None or isinstance(value, str | bool):
        return value
    if isinstance(value, dict):
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(part) for part in value]
    array = np.asarray(value, dtype=float)
    if array.ndim:
        return [_plain(part) for part in array]
    number = typical(value)
    return number if np.isfinite(number) else None
