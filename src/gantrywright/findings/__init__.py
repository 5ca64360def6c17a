"""What a check is, what it says, and how a verdict becomes a finding."""

from gantrywright.findings.check import Check, check, checks_in
from gantrywright.findings.finding import Finding, Remedy, judge, judge_spread
from gantrywright.findings.verdict import Change, Status, Verdict, cautioned, ceiling, floor, holds, unknown
from gantrywright.findings.watched import Watched, up_to_watched, watched

__all__ = [
    "Change", "Check", "Finding", "Remedy", "Status", "Verdict", "Watched", "cautioned", "ceiling", "check", "checks_in", "floor", "holds", "judge",
    "judge_spread", "unknown", "up_to_watched", "watched",
]  # fmt: skip
