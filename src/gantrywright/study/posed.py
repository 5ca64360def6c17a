"""How the machine gives where its axes stand."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gantrywright.base.samples import typical
from gantrywright.disciplines.structure.analyse import tip_at
from gantrywright.model.table import over_table, places_of
from gantrywright.results.structure import LETTERS
from gantrywright.study.study import Study


@dataclass(frozen=True, slots=True)
class Posed:
    """Give of the tool against the work at one pose."""

    give: Mapping[str, float]
    """Along x, y, z, m/N."""
    least: float
    """Stiffness in the softest direction, N/m."""
    soft: tuple[tuple[str, float], ...]
    """Parts with what each holds of the give, largest first."""
    over_table: bool
    """The tip is over what the work lies on."""


def posed(study: Study, pose: Mapping[str, float]) -> Posed | None:
    """Give at a pose; None where there is no structure.

    Args:
        study: Of the machine.
        pose: Place of each axis by name, m.
    """
    tip = tip_at(study.machine, pose)
    if tip is None:
        return None
    give = {letter: float(typical(tip.give[k, k])) for k, letter in enumerate(LETTERS)}
    stands = {axis.name: pose.get(axis.name, axis.drawn) for axis in study.machine.axes}
    over = bool(over_table(study.machine, places_of(study.machine, tuple(stands), np.array(list(stands.values())))))
    return Posed(give, float(typical(tip.least)), tip.soft_parts(), over)
