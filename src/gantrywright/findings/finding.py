"""A verdict with its band and status: what every face shows."""

from dataclasses import dataclass, replace

import numpy as np

from gantrywright.base.samples import Ranked, ends
from gantrywright.findings.check import Check
from gantrywright.findings.verdict import Status, Verdict


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that was tried on the machine, and what it did."""

    words: str
    mends: bool
    effects: tuple[str, ...]
    """One sentence a number that moved, the finding's own margin first."""
    harms: bool = False
    """Something else fails, becomes unknown or gets clearly worse by it: that is among the effects."""


@dataclass(frozen=True, slots=True)
class Finding:
    """A verdict with the check that gave it, its band and its place."""

    check: Check
    verdict: Verdict
    status: Status
    low: float | None = None
    """The value at its 5 % point."""
    high: float | None = None
    """The value at its 95 % point."""
    probability: float | None = None
    """Share of samples that pass, where anything is uncertain."""
    worse: float | None = None
    """The margin at its 5 % point, where anything is uncertain."""
    settle: str = ""
    """Path of the one input whose measurement would narrow the margin most."""
    place: str = ""
    """``file:line`` of the subject."""
    remedies: tuple[Remedy, ...] = ()

    @property
    def id(self) -> str:
        """Id of the check."""
        return self.check.id

    @property
    def subject(self) -> str:
        """Path of what was judged."""
        return self.verdict.subject


def judge(check: Check, verdict: Verdict) -> Finding:
    """Finding from typical values alone."""
    if verdict.margin is None:
        return Finding(check, verdict, Status.UNKNOWN)
    margin = float(np.asarray(verdict.margin))
    if not np.isfinite(margin) and not np.isposinf(margin):
        return Finding(check, verdict, Status.UNKNOWN)
    return Finding(check, verdict, _status(margin, margin, verdict.watch))


def judge_spread(finding: Finding, sampled: Verdict, inputs: Ranked) -> Finding:
    """Refine a finding with the verdict of the sampled machine.

    ``ok`` if even the 5 % point of the margin passes, ``fail`` if even its 95 % point fails, else ``watch`` with the probability
    of passing and the input that explains most of the margin's variation (largest squared rank correlation).

    Args:
        finding: From typical values.
        sampled: The same verdict with arrays.
        inputs: Samples of each uncertain input, by its path.
    """
    if finding.status is Status.UNKNOWN or sampled.margin is None or sampled.value is None:
        return finding
    margin = np.asarray(sampled.margin, dtype=float)
    value = np.asarray(sampled.value, dtype=float)
    if margin.ndim == 0 or not np.all(np.isfinite(margin)):
        return finding
    worse, better = (float(end) for end in ends(margin))
    status = _status(worse, better, finding.verdict.watch)
    low, high = (float(end) for end in ends(np.broadcast_to(value, margin.shape)))
    settle = inputs.leading(margin) if status is Status.WATCH else ""
    chance = float(np.mean(margin >= 0))
    return replace(finding, status=status, low=low, high=high, probability=chance, worse=worse, settle=settle)


def _status(worse: float, better: float, watch: float) -> Status:
    if better < 0:
        return Status.FAIL
    return Status.OK if worse >= watch else Status.WATCH
