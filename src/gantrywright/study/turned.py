"""What a change does to the findings that it was not made for: what it mends, what it makes worse."""

from collections.abc import Iterable, Iterator

import numpy as np

from gantrywright.findings import Finding, Status, Verdict, judge

CLEARLY = 0.05
"""A margin that falls by less than this share of its limit is not told."""
IN_DOUBT = 0.01
"""The same where the spread still leaves hope: less may take the last of it away."""
NAMED = 3
"""Findings of a kind that are named."""
MOST = 9.99
"""Shares beyond this are told as beyond it."""
LACKING = (Status.UNKNOWN, Status.BROKEN)
STANDS = (Status.OK, Status.WATCH)

Pair = tuple[Finding | None, Finding]


def typically(finding: Finding) -> Finding:
    """A finding by its typical values alone."""
    return finding if finding.status is Status.BROKEN else judge(finding.check, finding.verdict)


def turned(before: Iterable[Finding], after: Iterable[Finding], own: Finding) -> tuple[list[str], list[str]]:
    """What a change does to all findings but the one that it is for, in sentences: what gets better, what gets worse.

    A finding that can no longer be judged is not mended: it becomes unknown.

    Args:
        before: Findings of the machine as it is.
        after: Findings of the changed machine, from typical values.
        own: The finding that the change is for.
    """
    was = {(f.id, f.subject): f for f in before}
    others = [(was.get((f.id, f.subject)), f) for f in after if (f.id, f.subject) != (own.id, own.subject)]
    pairs = sorted(others, key=lambda pair: (margin_of(pair[1].verdict), pair[1].id, pair[1].subject))
    mended = [_name(new) for old, new in pairs if _was(old) is Status.FAIL and new.status in STANDS]
    fails = [_name(new) for old, new in pairs if new.status is Status.FAIL and _was(old) is not Status.FAIL]
    unknown = [_name(new) for old, new in pairs if new.status in LACKING and _was(old) not in LACKING]
    better = _said("also mends", mended)
    worse = [*_said("but then fails", fails), *_said("becomes unknown:", unknown), *_said("makes worse:", list(_worse(pairs)))]
    return better, worse


def _worse(pairs: Iterable[Pair]) -> Iterator[str]:
    """What failed and fails by more, and what stands but with too little left: well before, to be watched now."""
    for old, new in pairs:
        if old is None or new.status in LACKING or _was(old) in LACKING:
            continue
        now, then = margin_of(new.verdict), margin_of(old.verdict)
        both_ill = new.status is _was(old) and new.status is not Status.OK
        noticed = IN_DOUBT if old.status is Status.WATCH and new.status is Status.FAIL else CLEARLY
        if now < then - noticed and (both_ill or (new.status is Status.WATCH and _was(old) is Status.OK)):
            yield f"{_name(new)} (margin {percent(then)} to {percent(now)})"


def _said(words: str, names: list[str]) -> list[str]:
    return [f"{words} {', '.join(names[:NAMED])}{' ...' if len(names) > NAMED else ''}"] if names else []


def _name(finding: Finding) -> str:
    return f"{finding.id} {finding.subject}"


def _was(finding: Finding | None) -> Status | None:
    return None if finding is None else typically(finding).status


def margin_of(verdict: Verdict) -> float:
    """The typical margin; without end where there is none."""
    return float("inf") if verdict.margin is None else float(np.asarray(verdict.margin))


def percent(share: float) -> str:
    """A share in percent; beyond ten times the number says no more than that."""
    if abs(share) > MOST:
        return f"< -{MOST:.0%}".replace("%", " %") if share < 0 else f"> +{MOST:.0%}".replace("%", " %")
    return f"{100 * share:+.0f} %"
