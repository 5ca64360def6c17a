"""Judgement by the spread, carried over a change until the new spread is there.

A typical value that fails by a little is often only "to watch" once the spread of the inputs is known. Counting typical judgements after
a change against judgements by the spread before it would tell of things that the change never broke. So like is held against like: a
finding that typical values judge as they did before the change keeps the judgement that the spread gave it; one that they judge
otherwise is told as they judge it. Checks that speak only of the simulation have nothing to say yet: what they said before stands.
"""

from dataclasses import replace

from gantrywright.findings import Finding, Status, judge
from gantrywright.study.held_over import held_over
from gantrywright.study.study import Study

JUDGED = (Status.OK, Status.WATCH, Status.FAIL)


def carried_over(study: Study, before: Study) -> Study:
    """A study that is not settled, judged as the last settled one where typical values give no reason to judge otherwise.

    Every finding whose spread or simulation is still to come is named in ``pending``.

    Args:
        study: Of the machine as it is now, from typical values.
        before: The last settled study, of the same machine or of one before it.
    """
    known = {(finding.id, finding.subject): finding for finding in before.findings}
    carried = (_carried(found, known.get((found.id, found.subject))) for found in study.findings)
    held = _not_simulated_yet(study, before)
    findings = tuple(sorted((*carried, *held), key=lambda f: (f.id, f.subject)))
    later = {finding.id for finding in before.findings if finding.probability is not None} | {finding.id for finding in held}
    pending = tuple(dict.fromkeys(f.id for f in findings if f.id in later or f.id in study.pending))
    return replace(study, findings=findings, pending=pending)


def _not_simulated_yet(study: Study, before: Study) -> tuple[Finding, ...]:
    """What checks said of the simulation of before, where that of the study is still to come."""
    if study.results.simulation is not None:
        return ()
    told = {finding.id for finding in study.findings}
    return tuple(held_over((f for f in before.findings if f.check.simulated and f.id not in told), study.machine))


def _carried(now: Finding, before: Finding | None) -> Finding:
    if before is None or now.probability is not None or {now.status, before.status} - set(JUDGED):
        return now
    if now.status is not judge(before.check, before.verdict).status:
        return now
    if now.verdict.value == before.verdict.value:  # its band stands, too
        return replace(before, verdict=now.verdict, place=now.place, remedies=now.remedies)
    return replace(now, status=before.status, probability=before.probability, settle=before.settle)
