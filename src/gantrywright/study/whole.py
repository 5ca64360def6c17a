"""A whole study in one call: typical, settled, remedies tried."""

from gantrywright.model.machine import Machine
from gantrywright.study.remedies import with_remedies
from gantrywright.study.study import Again, Study, run, settle

WORST = 3
"""Findings whose remedies are tried without being asked, so that the plain answer stays quick."""


def whole(machine: Machine, again: Again, *, settled: bool = True, all_remedies: bool = False) -> Study:
    """Study, spread and remedies.

    Args:
        machine: Resolved with typical values.
        again: Resolves the same file with samples and edits.
        settled: Whether inputs are sampled and the promise is simulated.
        all_remedies: Try the remedies of every finding, not of the worst three.
    """
    study = run(machine)
    if settled:
        study = settle(study, again)
    return with_remedies(study, again, most=None if all_remedies else WORST)
