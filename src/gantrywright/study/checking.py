"""Runs every check of every discipline; one that crashes becomes a finding and the others go on."""

from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

import gantrywright.disciplines
from gantrywright.findings import Check, Finding, Status, Verdict, checks_in, judge
from gantrywright.model.machine import Machine
from gantrywright.results import Results


@cache
def all_checks() -> tuple[Check, ...]:
    """Every check of the house, by id."""
    found: list[Check] = []
    for folder in iter_modules(gantrywright.disciplines.__path__):
        name = f"{gantrywright.disciplines.__name__}.{folder.name}"
        if any(module.name == "checks" for module in iter_modules(import_module(name).__path__)):
            found.extend(checks_in(import_module(f"{name}.checks")))
    return tuple(sorted(found, key=lambda check: check.id))


def check_of(id: str) -> Check:
    """The check of an id; raises ``KeyError``."""
    return {check.id: check for check in all_checks()}[id]


def verdicts(check: Check, machine: Machine, results: Results) -> Iterator[Verdict]:
    """The verdicts of one check; after a crash one verdict that says so."""
    try:
        yield from check.judge(machine, results)
    except Exception as error:  # noqa: BLE001 - the one place where any fault of a check becomes a finding
        yield Verdict("machine", None, None, "", None, missing=f"{BROKEN}{type(error).__name__}: {error}")


BROKEN = "the check itself failed: "


def findings(machine: Machine, results: Results) -> tuple[Finding, ...]:
    """Findings of all checks from typical values."""
    return tuple(finding for check in all_checks() for finding in judged(check, machine, results))


def judged(check: Check, machine: Machine, results: Results) -> Iterator[Finding]:
    """Findings of one check from typical values."""
    return (_judge(check, verdict) for verdict in verdicts(check, machine, results))


def _judge(check: Check, verdict: Verdict) -> Finding:
    if verdict.missing.startswith(BROKEN):
        return Finding(check, verdict, Status.BROKEN)
    return judge(check, verdict)


def free_id(prefix: str) -> str:
    """The next id that no check of a discipline has; ids are never used again, so it follows the highest.

    Example:
        >>> free_id("COM")
        'COM-101'
    """
    used = [int(check.id[4:]) for check in all_checks() if check.id.startswith(f"{prefix}-")]
    return f"{prefix}-{max(used, default=100) + 1}"
