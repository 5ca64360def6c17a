"""A first look at a changed machine, quick enough to follow the fingers: what is known at once, and what is still that of before."""

from dataclasses import replace

from gantrywright.findings import Finding
from gantrywright.model.machine import Machine
from gantrywright.study.analyses import glanced
from gantrywright.study.checking import all_checks, judged
from gantrywright.study.held_over import held_over
from gantrywright.study.study import Study

LATER = ("GDE", "STR")
"""Checks that rest on what a glance does not work out anew: loads of the blocks, modes, heat, the map over the table."""


def glance(machine: Machine, earlier: Study) -> Study:
    """Study of a changed machine as far as it can be told at once.

    Findings of checks that take longer are those of the earlier machine, and named in ``pending``; so are all bands.

    Args:
        machine: With typical values.
        earlier: Of the machine before the change.
    """
    results = glanced(machine, earlier.results, earlier.machine)
    at_once = [check for check in all_checks() if not check.id.startswith(LATER)]
    fresh = [replace(f, place=machine.place_of(f.subject)) for check in at_once for f in judged(check, machine, results)]
    known = {finding.id for finding in fresh}
    later = (f for f in earlier.findings if f.id.startswith(LATER) or (f.id not in known and f.check.simulated))
    held = tuple(held_over(later, machine))
    ordered: tuple[Finding, ...] = tuple(sorted((*fresh, *held), key=lambda f: (f.id, f.subject)))
    pending = tuple(dict.fromkeys(finding.id for finding in held))
    return Study(machine, results, ordered, earlier.bands, False, earlier.samples, earlier.unknowns, earlier.lessons, pending)
