"""The study as plain data: what ``--json`` prints and the drawing board draws. Keys are stable; numbers are SI."""

import math
from typing import Any

import numpy as np

from gantrywright.base.sources import spell_out
from gantrywright.findings import Finding, Status
from gantrywright.results.ledger import Figure
from gantrywright.study.promises import Promise, promises
from gantrywright.study.study import Study


def export(study: Study) -> dict[str, Any]:
    """``machine``, ``promises``, ``findings``, ``figures``, ``counts``, ``defaults``."""
    return {
        "machine": machine(study),
        "promises": [promise(p) for p in promises(study)],
        "findings": [finding(f) for f in study.findings],
        "figures": {figure.path: working(study, figure) for figure in study.results.ledger},
        "counts": {str(status): study.count(status) for status in Status},
        "defaults": defaults(study),
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
        "high": _number(made.high), "wanted": _number(made.wanted), "binds": made.binds, "next": made.next, "figure": made.figure,
    }  # fmt: skip


def finding(found: Finding) -> dict[str, Any]:
    """One finding with the words of its check."""
    verdict = found.verdict
    return {
        "id": found.id, "subject": found.subject, "status": str(found.status), "title": found.check.title, "value": _number(verdict.value),
        "limit": _number(verdict.limit), "unit": verdict.unit, "margin": _number(verdict.margin), "low": _number(found.low),
        "high": _number(found.high), "probability": _number(found.probability), "settle": found.settle, "why": found.check.why,
        "source": spell_out(verdict.source or found.check.source), "remedy": verdict.remedy or found.check.remedy, "place": found.place,
        "note": verdict.note, "missing": verdict.missing, "figure": verdict.figure,
        "remedies": [{"words": r.words, "mends": r.mends, "effects": list(r.effects)} for r in found.remedies],
    }  # fmt: skip


def working(study: Study, figure: Figure) -> dict[str, Any]:
    """One figure with its formula, inputs, band and source."""
    low, high = study.bands.get(figure.path, (None, None))
    return {
        "value": _number(figure.value), "unit": figure.unit, "low": _number(low), "high": _number(high), "title": figure.title,
        "formula": figure.formula, "source": spell_out(figure.source),
        "inputs": [{"name": i.name, "value": _number(i.value), "unit": i.unit, "path": i.path} for i in figure.inputs],
    }  # fmt: skip


def working_of(study: Study, path: str) -> dict[str, Any] | None:
    """The working of the figure of that path; None where there is none."""
    return working(study, study.results.ledger[path]) if path in study.results.ledger else None


def defaults(study: Study) -> list[dict[str, Any]]:
    """Every value that the file did not say and that was taken instead, with its source and band."""
    spreads = study.machine.spreads
    rows = []
    for path, origin in study.machine.origins.items():
        if origin.kind == "default":
            spread = spreads.get(path)
            rows.append({
                "path": path, "text": origin.text, "source": spell_out(origin.source), "low": _number(spread.low if spread else None),
                "typical": _number(spread.typical if spread else None), "high": _number(spread.high if spread else None),
            })  # fmt: skip
    return rows


def _number(value: Any) -> Any:
    if value is None or isinstance(value, (str, bool)):
        return value
    array = np.asarray(value)
    if array.dtype.kind not in "fiub":
        return str(value)
    if array.ndim:
        return [_number(v) for v in array.tolist()] if array.size <= 64 else None
    number = float(array)
    return number if math.isfinite(number) else None
