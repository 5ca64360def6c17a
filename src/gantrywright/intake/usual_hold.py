"""What the hold of the work is taken to be where the file is silent: friction under it, strength of tape, nut factor of clamp screws.

Each is noted only where the way of holding counts on it, so that nothing is sampled or listed that decides nothing.
"""

from gantrywright.base.spread import Origin
from gantrywright.base.units import Number, Pascal, Real
from gantrywright.catalog.holding import Usual, holding, table_friction
from gantrywright.intake.records import Estimate
from gantrywright.intake.tree import Branch

TABLE, FRICTION = "hold-down.csv", "friction.csv"
TAPE = "tape"
CLAMPS = ("clamps", "slots")


def friction(branch: Branch, kind: str, group: str, estimate: Estimate) -> Number | None:
    """Between work and table, by the group of the material; None where nothing presses the work down."""
    return _usual(branch, "friction", table_friction(group), FRICTION, kind != TAPE, estimate)


def strength(branch: Branch, kind: str, estimate: Estimate) -> Pascal | None:
    """Of tape, in shear; None where nothing is stuck."""
    return _usual(branch, "strength", holding()["tape-shear"], TABLE, kind == TAPE, estimate)


def nut_factor(branch: Branch, kind: str, estimate: Estimate) -> Number | None:
    """Of the screws of clamps; None where their force does not follow from a torque."""
    turned = kind in CLAMPS and branch.get("force") is None and branch.get("torque") is not None and bool(branch.get("thread"))
    return _usual(branch, "nut_factor", holding()["nut-factor"], TABLE, turned, estimate)


def _usual(branch: Branch, key: str, row: Usual, table: str, counts: bool, estimate: Estimate) -> Real | None:
    written: Real | None = branch.get(key)
    if written is not None or not counts:
        return written
    if row.spread is None:
        raise ValueError(f"{table}: {row.id} has no band")
    return estimate(
        f"{branch.path}.{key}", row.spread, Origin("default", path=f"{table} {row.id}", source=row.source, text=row.text)
    )
