"""How wide a job cuts: what is written, or the cutter's diameter for a slot and for a hole."""

import numpy as np

from gantrywright.base.quantities.showing import show
from gantrywright.base.samples import typical
from gantrywright.base.units import Metre
from gantrywright.catalog import kinds
from gantrywright.intake.reading import Reading
from gantrywright.intake.tree import Branch

SAME = 1e-6
"""Part by which a width may differ from the diameter and still be it."""


def width_of(branch: Branch, cutter: kinds.Cutter, reading: Reading) -> Metre | None:
    """Width of one pass; None after telling why there is none.

    Args:
        branch: Of the job.
        cutter: Of the job.
        reading: The machine file.
    """
    diameter, slot = cutter.diameter, branch["slot"]
    given: Metre | None = branch.get("width")
    written = typical(given) if given is not None and np.ndim(given) == 0 else None  # samples of it are not judged again
    if slot or cutter.style == "drill":
        if diameter is None:
            what = "a slot is as wide as its cutter" if slot else "a hole is as wide as its drill"
            reading.problem(f"{branch.path}.cutter", f"its diameter is unknown; {what}")
        elif (
            slot and written is not None and np.ndim(diameter) == 0 and abs(written - typical(diameter)) > SAME * typical(diameter)
        ):
            size = _size(reading, diameter)
            reading.problem(
                f"{branch.path}.width", f"goes against slot = true, which cuts the cutter's {size}; keep one of the two"
            )
        return diameter
    if not branch.has("width"):
        if not _told(reading, branch):
            reading.problem(branch.path, "lacks width, or slot = true where it cuts as wide as its cutter")
    elif diameter is not None and written is not None and np.ndim(diameter) == 0 and written > typical(diameter) * (1 + SAME):
        size = _size(reading, diameter)
        reading.problem(
            f"{branch.path}.width", f"is wider than the cutter: one pass takes {size} at most, more takes passes side by side"
        )
    return given


def _told(reading: Reading, branch: Branch) -> bool:
    """Whether a key of the job could not be read: it may have been the width."""
    return any(problem.path.startswith(f"{branch.path}.") for problem in reading.problems)


def _size(reading: Reading, size: Metre) -> str:
    machine = reading.branch("machine")
    return show(typical(size), "m", "metric" if machine is None else machine["show"])
