"""What each job comes to, as its panel at the stage of the cut tells it. Sentences are those of the study; no number is made here."""

from collections.abc import Iterator
from typing import Any

from gantrywright.base.quantities import show
from gantrywright.base.samples import typical
from gantrywright.results.jobs import JobAnswer, Limit
from gantrywright.study import job_words as words
from gantrywright.study import limit_words, wall_words
from gantrywright.study.advised import settings_beside
from gantrywright.study.cautions import FOREWORD, cautions, exported
from gantrywright.study.study import Study
from gantrywright.study.words import with_band

Json = dict[str, Any]


def cuts(study: Study) -> Json:
    """Every job of the file, and what is told beside them."""
    told = [_job(study, answer) for answer in study.results.jobs.jobs.values()]
    return {
        "settled": study.settled, "jobs": told, "foreword": FOREWORD, "cautions": exported(cautions(study)),
        "words": "" if told else "The machine file names no job yet: add one below, and this stage says whether the machine can do it.",
    }  # fmt: skip


def _job(study: Study, answer: JobAnswer) -> Json:
    rows, edits = settings_beside(study, answer)
    path = f"job.{answer.job}"
    return {
        "name": answer.job, "path": path, "runs": str(words.runs(answer)), "pending": answer.pending, "verdict": words.verdict(study, answer),
        "missing": answer.missing, "removal": _figure(study, f"{path}.removal", "m3/s"),
        "binds": _limit(study, answer, answer.binds), "next": _limit(study, answer, answer.next),
        "limits": [_limit(study, answer, limit) for limit in answer.limits],
        "settings": [] if answer.missing else [{"path": row.path, "what": row.what, "file": row.file, "advised": row.advised, "reason": row.reason} for row in rows],
        "advised_removal": show(typical(answer.advice.removal), "m3/s", study.machine.show) if answer.advice is not None else "",
        "no_advice": answer.no_advice, "edits": [list(edit) for edit in edits],
        "walls": list(_walls(study, answer)), "hold": words.held(study, answer), "chatter": words.chatter(study, answer),
    }  # fmt: skip


def _limit(study: Study, answer: JobAnswer, limit: Limit | None) -> Json | None:
    if limit is None:
        return None
    system, figure = study.machine.show, f"job.{answer.job}.ceiling.{limit.id}"
    value, most = limit_words.sizes(limit)
    return {
        "id": limit.id, "words": limit.words, "used": limit_words.used(limit), "exceeded": limit.exceeded, "missing": limit.missing, "note": limit.note,
        "value": show(value, limit.unit, system), "limit": show(most, limit.unit, system),
        "ceiling": "unknown" if limit.ceiling is None else "any rate" if limit_words.idle(limit) else _banded(study, figure, typical(limit.ceiling), "m3/s"),
        "figure": figure if figure in study.results.ledger else "",
    }  # fmt: skip


def _walls(study: Study, answer: JobAnswer) -> Iterator[Json]:
    for off in wall_words.offs(study, answer):
        yield {
            "what": off.what,
            "text": off.text,
            "way": off.way,
            "figure": off.figure if off.figure in study.results.ledger else "",
        }
    if answer.walls:
        yield {"what": "accuracy", "text": wall_words.wanted(study), "way": "", "figure": ""}


def _figure(study: Study, path: str, unit: str) -> Json | None:
    if path not in study.results.ledger:
        return None
    return {"text": _banded(study, path, typical(study.results.ledger[path].value), unit), "figure": path}


def _banded(study: Study, path: str, value: float, unit: str) -> str:
    low, high = study.bands.get(path, (None, None))
    return with_band(value, low, high, unit, study.machine.show)
