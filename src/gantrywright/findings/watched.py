"""The limit that a finding to be watched is really held against.

A check may watch a value that passes its limit by too little. Told against that limit such a finding reads as well fulfilled; it is told
against the one where watching begins, and the other is named beside it.
"""

from dataclasses import dataclass

import numpy as np

from gantrywright.findings.finding import Finding
from gantrywright.findings.verdict import Status, Verdict

LEAST = 1e-6
"""Watch margins below this only say that a check never fails."""


@dataclass(frozen=True, slots=True)
class Watched:
    """Where watching begins, and what is left up to there."""

    limit: float
    margin: float


def watched(finding: Finding) -> Watched | None:
    """The limit where watching begins; None where the finding is judged by its limit itself, as when it may fail."""
    said = finding.verdict
    if finding.status is not Status.WATCH or said.margin is None or not _has_band(said):
        return None
    margin = float(np.asarray(said.margin))
    if (margin if finding.worse is None else finding.worse) < 0:
        return None
    return Watched(float(np.asarray(said.limit)) * _factor(said), up_to_watched(said, margin))


def up_to_watched(said: Verdict, margin: float) -> float:
    """A margin of this check up to where watching begins, from its margin up to the limit.

    Args:
        said: Of a check that watches a band.
        margin: Up to the limit.
    """
    return (1 + margin) / _factor(said) - 1 if said.kind == "floor" else 1 - (1 - margin) / _factor(said)


def _factor(said: Verdict) -> float:
    return 1 + said.watch if said.kind == "floor" else 1 - said.watch


def _has_band(said: Verdict) -> bool:
    """Whether the limit of watching is a number of its own: not where a check can only be watched, or its margin was capped."""
    if (
        said.watch < LEAST
        or said.value is None
        or said.limit is None
        or (said.kind == "ceiling" and said.watch >= 1)
        or said.kind == ""
    ):
        return False
    limit = float(np.asarray(said.limit))
    part = float(np.asarray(said.value)) / limit if limit else np.nan
    return bool(np.isclose(float(np.asarray(said.margin)), part - 1 if said.kind == "floor" else 1 - part))
