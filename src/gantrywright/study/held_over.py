"""Findings of an earlier machine that stand, marked as pending, until they are worked out again."""

from collections.abc import Iterable, Iterator

from gantrywright.findings import Finding
from gantrywright.model.machine import Machine


def held_over(findings: Iterable[Finding], machine: Machine) -> Iterator[Finding]:
    """Those that still speak of something: an axis or a job that is no longer there takes its findings with it."""
    there = {axis.path for axis in machine.axes} | {job.path for job in machine.jobs}
    for finding in findings:
        kind, _, rest = finding.subject.partition(" ")[0].partition(".")
        if kind not in ("axis", "job") or not rest or f"{kind}.{rest.partition('.')[0]}" in there:
            yield finding
