"""The study as plain data: what ``--json`` prints and the drawing board draws. Keys are stable; numbers are SI."""

import math
from typing import Any

import numpy as np

from gantrywright.base.sources import spell_out
from gantrywright.base.spread import Stated
from gantrywright.base.values import PhaseCurrent, Rating
from gantrywright.findings import Finding, Status, watched
from gantrywright.results.ledger import Figure, Input
from gantrywright.study.assumed import assumed
from gantrywright.study.cautions import cautions
from gantrywright.study.cautions import exported as cautions_exported
from gantrywright.study.jobs import jobs
from gantrywright.study.links import Links
from gantrywright.study.promises import Promise, promises
from gantrywright.study.structured import structured
from gantrywright.study.study import Study
from gantrywright.study.words import origin_in_words, source_in_words


def export(study: Study) -> dict[str, Any]:
    """``machine``, ``promises``, ``findings``, ``figures``, ``values``, ``counts``, ``defaults``, ``structure``, ``jobs``, ``cautions``."""
    links = Links(study)
    return {
        "machine": machine(study),
        "promises": [promise(p) for p in promises(study)],
        "findings": [finding(f) for f in study.findings],
        "figures": {figure.path: working(study, figure, links) for figure in study.results.ledger},
        "values": values(study, links),
        "counts": {str(status): study.count(status) for status in Status},
        "defaults": defaults(study),
        "structure": structured(study),
        "jobs": jobs(study),
        "cautions": cautions_exported(cautions(study)),
        "settled": study.settled,
    }


def machine(study: Study) -> dict[str, Any]:
    """Name, layout and what is wanted."""
    made = study.machine
    return {
        "name": made.name, "layout": made.layout, "show": made.show, "currency": made.currency,
        "work_area": list(made.purpose.work_area), "reach": [list(made.reach.least), list(made.reach.most)],
        "axes": [axis.name for axis in made.axes], "jobs": [job.name for job in made.jobs],
    }  # fmt: skip


def promise(made: Promise) -> dict[str, Any]:
    """One promise."""
    return {
        "subject": made.subject, "what": made.what, "value": _number(made.value), "unit": made.unit, "low": _number(made.low),
        "high": _number(made.high), "wanted": _number(made.wanted), "binds": made.binds, "next": made.next, "figure": made.figure, "place": made.place,
        "at_least": made.at_least, "undecided": made.undecided, "word": made.word, "pending": made.pending,
    }  # fmt: skip


def finding(found: Finding) -> dict[str, Any]:
    """One finding with the words of its check."""
    verdict, begins = found.verdict, watched(found)
    return {
        "id": found.id, "subject": found.subject, "status": str(found.status), "title": found.check.title, "what": verdict.what,
        "value": _number(verdict.value), "watched": None if begins is None else {"limit": begins.limit, "margin": begins.margin},
        "limit": _number(verdict.limit), "unit": verdict.unit, "margin": _number(verdict.margin), "low": _number(found.low),
        "high": _number(found.high), "probability": _number(found.probability), "settle": found.settle, "why": found.check.why,
        "source": spell_out(verdict.source or found.check.source), "remedy": verdict.remedy or found.check.remedy, "place": found.place,
        "note": verdict.note, "missing": verdict.missing, "figure": verdict.figure,
        "remedies": [{"words": r.words, "mends": r.mends, "harms": r.harms, "effects": list(r.effects)} for r in found.remedies],
    }  # fmt: skip


def working(study: Study, figure: Figure, links: Links) -> dict[str, Any]:
    """One figure with its formula, inputs, band and source."""
    low, high = study.bands.get(figure.path, (None, None))
    return {
        "value": _number(figure.value), "unit": figure.unit, "low": _number(low), "high": _number(high), "title": figure.title,
        "formula": figure.formula, "source": spell_out(figure.source), "inputs": [_input(study, figure, given, links) for given in figure.inputs],
    }  # fmt: skip


def _input(study: Study, figure: Figure, given: Input, links: Links) -> dict[str, Any]:
    """One input; its path is one of ``figures`` or one of ``values``."""
    path = links.leads_to(figure, given)
    is_value = bool(path) and (path not in study.results.ledger or path == figure.path)
    unit = given.unit or (study.machine.stated[path].unit if is_value else "")
    return {"name": given.name, "value": _number(given.value), "unit": unit, "path": path, "note": given.note}


def value(study: Study, stated: Stated) -> dict[str, Any]:
    """One value of the machine with the chain of its origins."""
    known, spread = study.machine.stated, stated.spread
    return {
        "value": _number(stated.value), "unit": stated.unit, "low": _number(spread.low if spread else None),
        "high": _number(spread.high if spread else None), "help": stated.help, "kind": stated.origin.kind,
        "origin": origin_in_words(stated, known, study.machine.show), "source": source_in_words(stated.origin),
    }  # fmt: skip


def values(study: Study, links: Links) -> dict[str, dict[str, Any]]:
    """Every value that a figure names as an input, by full path."""
    named = (links.leads_to(figure, given) for figure in study.results.ledger for given in figure.inputs)
    known = set(study.machine.stated)
    return {path: value(study, study.machine.stated[path]) for path in dict.fromkeys(named) if path in known}


def defaults(study: Study) -> list[dict[str, Any]]:
    """What was taken where the file is silent, like parts in one."""
    return [
        {
            "path": row.path, "text": row.text, "source": row.source, "count": row.count, "paths": list(row.paths), "low": _number(row.low),
            "typical": _number(row.typical), "high": _number(row.high), "unit": row.unit,
        }
        for row in assumed(study)
    ]  # fmt: skip


def _number(value: Any) -> Any:
    if value is None or isinstance(value, (str, bool)):
        return value
    if isinstance(value, Rating | PhaseCurrent):
        return _number(value.force if isinstance(value, Rating) else value.value)
    array = np.asarray(value)
    if array.dtype.kind not in "fiub":
        return str(value)
    if array.ndim:
        return [_number(v) for v in array.tolist()] if array.size <= 64 else None
    number = float(array)
    return number if math.isfinite(number) else None
