"""Tries the changes that a finding proposes: the machine is evaluated again with each, and every number that moved is told."""

from collections.abc import Iterator
from dataclasses import replace
from functools import reduce

import numpy as np

from gantrywright.base.errors import GantrywrightError
from gantrywright.findings import Change, Finding, Remedy, Status, Verdict, up_to_watched, watched
from gantrywright.model.machine import Machine
from gantrywright.study.priced import outdated_prices
from gantrywright.study.promises import Promise, promises
from gantrywright.study.study import Again, Study, run, simulated
from gantrywright.study.turned import margin_of, percent, turned, typically

DONE = ("cut", "drilled", "fitted")
"""States of a part that a change does not come cheap to."""
TOLD = 0.01
"""The 5 % end is told where it lies so much below the typical margin."""
MOVED = 0.02
"""A promise that changes by less than this share is not mentioned."""


def with_remedies(study: Study, again: Again, *, most: int | None = 3) -> Study:
    """The study with tried remedies on its worst findings.

    Args:
        study: A study.
        again: Resolves the file again with edits.
        most: How many of the worst findings; None for all that propose a change.
    """
    return reduce(lambda _, mended: mended, each_remedied(study, again, most=most), study)


def each_remedied(study: Study, again: Again, *, most: int | None = None) -> Iterator[Study]:
    """The study after the remedies of one finding more were tried, worst first: for those who want to stop in between.

    Args:
        study: A study.
        again: Resolves the file again with edits.
        most: How many of the worst findings; None for all that propose a change.
    """
    wanted = [f for f in study.worst() if f.status in (Status.FAIL, Status.WATCH) and f.verdict.changes][:most]
    tried: dict[tuple[tuple[str, str], ...], Study | str] = {}
    better = {}
    for finding in wanted:
        found = tuple(_try(study, finding, change, again, tried) for change in finding.verdict.changes)
        better[(finding.id, finding.subject)] = replace(finding, remedies=found)
        yield replace(study, findings=tuple(better.get((f.id, f.subject), f) for f in study.findings))


def _try(
    study: Study, finding: Finding, change: Change, again: Again, tried: dict[tuple[tuple[str, str], ...], Study | str]
) -> Remedy:
    if change.edits not in tried:
        try:
            tried[change.edits] = run(again({}, change.edits))
        except GantrywrightError as error:
            tried[change.edits] = str(error).splitlines()[0]
    other = tried[change.edits]
    if finding.check.simulated and not isinstance(other, str):  # it would not speak before
        tried[change.edits] = other = simulated(other)
    if isinstance(other, str):
        return Remedy(change.words, False, (f"cannot be evaluated: {other}",))
    better, worse = turned(study.findings, other.findings, finding)
    effects = (*_effects(study, other, finding, change.edits), *better, *worse, *outdated_prices(study.machine, change.edits))
    return Remedy(change.words, _mends(other, finding), effects, bool(worse))


def _mends(other: Study, finding: Finding) -> bool:
    """A failure is mended when it is gone; what is to be watched only when it is well and its worse end passes too."""
    after = _same(other, finding)
    if after is None:
        return True
    if finding.status is Status.WATCH and finding.worse is not None and after.verdict.margin is not None:
        return after.status is Status.OK and _worse_end(finding.verdict, finding.worse, after.verdict) >= 0
    well = (Status.OK, Status.WATCH) if typically(finding).status is Status.FAIL else (Status.OK,)
    return after.status in well


def _worse_end(before: Verdict, worse: float, after: Verdict) -> float:
    """The 5 % point of a margin after a change that was tried on typical values, the value taken to spread by the same factor."""
    old, new = float(np.asarray(before.margin)), float(np.asarray(after.margin))
    part = np.nan if before.value is None or before.limit is None else float(np.divide(before.value, before.limit))
    if np.isclose(old, 1 - part) and part > 0:
        return 1 - (1 - worse) * (1 - new) / part
    if np.isclose(old, part - 1) and part > 0:
        return (1 + worse) * (1 + new) / part - 1
    return worse + new - old


def _same(other: Study, finding: Finding) -> Finding | None:
    return next((f for f in other.findings if f.id == finding.id and f.subject == finding.subject), None)


def done_already(machine: Machine, edits: tuple[tuple[str, str], ...]) -> list[tuple[str, str]]:
    """Parts that an edit would change although they are cut, drilled or fitted, with their state."""
    found = {}
    for path, _ in edits:
        place = path.rpartition(".")[0]
        while place.count(".") >= 1:
            origin = machine.origins.get(f"{place}.state")
            if origin is not None:
                if origin.text in DONE:
                    found[place] = origin.text
                break
            place = place.rpartition(".")[0]
    return list(found.items())


def _effects(study: Study, other: Study, finding: Finding, edits: tuple[tuple[str, str], ...]) -> list[str]:
    after = _same(other, finding)
    told = [f"changes {place}, which is already {state}" for place, state in done_already(study.machine, edits)]
    if after is None:
        told.append("the finding no longer applies")
    elif after.verdict.margin is None or finding.verdict.margin is None:
        lacks = f": not known without {after.verdict.missing}" if after.status is Status.UNKNOWN and after.verdict.missing else ""
        told.append(f"becomes {after.status}{lacks}" if after.verdict.margin is None else f"then {after.status}")
    else:
        then, now = (percent(_told(finding, f.verdict, margin_of(f.verdict))) for f in (finding, after))
        told.append(f"margin {then} to {now}{_doubt(finding, after)}")
    told.extend(_promise_effects(promises(study), promises(other)))
    return told


def _told(finding: Finding, said: Verdict, margin: float) -> float:
    """A margin as the finding tells its own: up to where watching begins where that is what it is held against."""
    return margin if watched(finding) is None else up_to_watched(said, margin)


def _doubt(finding: Finding, after: Finding) -> str:
    """Why a change whose typical margin passes may not be enough."""
    margin = float(np.asarray(after.verdict.margin))
    if margin < 0:
        return ""
    if finding.worse is not None and finding.verdict.margin is not None:
        worse = _worse_end(finding.verdict, finding.worse, after.verdict)
        if worse < margin - TOLD:
            return f", at its 5 % end about {percent(_told(finding, after.verdict, worse))}"
    return ", still to be watched" if after.status is Status.WATCH else ""


def _promise_effects(before: tuple[Promise, ...], after: tuple[Promise, ...]) -> list[str]:
    old = {(p.subject, p.what): p for p in before}
    told = []
    for new in after:
        was = old.get((new.subject, new.what))
        if was is None or was.value is None or new.value is None:
            continue
        if abs(new.value - was.value) > MOVED * max(abs(was.value), 1e-12):
            change = new.value / was.value - 1 if was.value else float("inf")
            told.append(f"{new.subject} {new.what} {percent(change)}")
    return told
