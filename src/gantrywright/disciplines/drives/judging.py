"""Small helpers that the checks of this room share."""

from collections.abc import Iterator
from typing import Any

import numpy as np

from gantrywright.base.units import Real
from gantrywright.findings import Verdict, ceiling, unknown
from gantrywright.model.axis import Axis, DriveFit
from gantrywright.model.machine import Machine
from gantrywright.results import Results
from gantrywright.results.drives import DriveAnswer

NEAR = 0.6
"""Part of a limit from which on changes are looked for: the spread of a value may reach over it."""


def each_drive(machine: Machine, results: Results) -> Iterator[tuple[Axis, DriveFit, DriveAnswer]]:
    """Every drive of every axis with its answer."""
    for axis in machine.axes:
        for fit in axis.drives:
            yield axis, fit, results.drives.drives[fit.path]


def near(value: Real, limit: Real) -> bool:
    """Whether a value comes so near to what it must not exceed that a mend is worth looking for."""
    return bool(np.any(np.asarray(value) > NEAR * np.asarray(limit)))


def ceiling_of_demand(subject: str, answer: DriveAnswer, *, value: Real, limit: Real, unit: str, **words: Any) -> Verdict:
    """Verdict on a demand that may be a lower bound: such a one can fail, but it cannot pass."""
    if answer.lacking and not np.all(np.asarray(value) > np.asarray(limit)):
        return unknown(subject, missing=", ".join(answer.lacking), unit=unit, limit=limit)
    return ceiling(subject, value=value, limit=limit, unit=unit, **words)
