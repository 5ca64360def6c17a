"""A slotted profile of which a row knows only the outer size and what it weighs: its stiffness estimated, with a band."""

import csv
from collections.abc import Mapping
from functools import cache
from importlib import resources

import numpy as np

from gantrywright.base.quantities import parse
from gantrywright.base.spread import Origin, Spread
from gantrywright.base.units import Real
from gantrywright.catalog import kinds
from gantrywright.intake.placing.doubts import Doubts
from gantrywright.intake.placing.estimates import Estimate
from gantrywright.model.bodies import Section
from gantrywright.theory.sections.estimated import (
    area_by_mass,
    slotted_second_moment,
    slotted_shear_area,
    slotted_torsion,
)

TABLE = "slotted-profile.csv"
ONE_MODULE = 0.0505
"""The smaller side of a profile that is one module wide, at most: modules of the trade have 20 to 50 mm."""


QUANTITIES = {
    "second_moment_height": "second_moment", "second_moment_width": "second_moment", "torsion": "torsion", "shear_height": "shear",
    "shear_width": "shear",
}  # fmt: skip
"""Fields of a section that can be estimated, and the quantity of the table that each goes by."""


def can_be_estimated(row: kinds.Section) -> bool:
    """Whether a row knows just enough: outer size and mass per length, or area."""
    return row.shape == "tslot" and bool(row.width and row.height) and (row.area is not None or row.mass_per_length is not None)


def estimated(row: kinds.Section, density: Real | None, where: str, doubts: Doubts) -> Section | None:
    """The section of a slotted profile that cannot be drawn; what the row says of its stiffness is kept.

    Args:
        row: `can_be_estimated`.
        density: Of the material that its mass per length is of; None is unknown.
        where: Path of its table, under which the estimates are registered.
        doubts: Takes the bands.

    Returns:
        The section without an outline; None where neither area nor density is known.
    """
    width, height, area = float(row.width or 0.0), float(row.height or 0.0), row.area
    if area is None and row.mass_per_length is not None and density is not None:
        area = area_by_mass(mass_per_length=row.mass_per_length, density=density)
    if area is None:
        return None
    values: dict[str, Real] = {}
    for name, quantity in QUANTITIES.items():
        given = getattr(row, name)
        values[name] = _estimate(name, quantity, area, row, where, doubts) if given is None else given
    return Section(
        name=row.id or row.shape, shape=row.shape, height=height, width=width, area=area, estimated=True,
        second_moment_height=values["second_moment_height"], second_moment_width=values["second_moment_width"], torsion=values["torsion"],
        shear_height=values["shear_height"], shear_width=values["shear_width"],
    )  # fmt: skip


def modules_of(row: kinds.Section) -> str:
    """one, row or block: how the modules of a profile lie, by its module, else by its size."""
    small, large = sorted((float(row.width or 0.0), float(row.height or 0.0)))
    module = float(row.module or 0.0) or (small if small <= ONE_MODULE else small / 2)
    if round(small / module) > 1:
        return "block"
    return "row" if round(large / module) > 1 else "one"


def _estimate(name: str, quantity: str, area: Real, row: kinds.Section, where: str, doubts: Doubts) -> Real:
    share = shares()[quantity, modules_of(row) if quantity == "torsion" else "any"]
    usual = float(np.median(area))
    low, typical, high = (float(_value(name, part, usual, row)) for part in (share.spread.low, share.typical, share.spread.high))
    found = doubts.value(f"{where}.{name}", Spread(low, typical, high), share.origin)
    return found * (_value(name, share.typical, area, row) / typical)


def _value(name: str, share: Real, area: Real, row: kinds.Section) -> Real:
    width, height = row.width or 0.0, row.height or 0.0
    if name == "torsion":
        return slotted_torsion(share=share, area=area, width=width, height=height)
    if name.startswith("shear"):
        return slotted_shear_area(share=share, area=area)
    return slotted_second_moment(share=share, area=area, depth=height if name.endswith("height") else width)


@cache
def shares() -> Mapping[tuple[str, str], Estimate]:
    """Shares by quantity and by how the modules lie, with their bands."""
    text = resources.files("gantrywright.data").joinpath("defaults", TABLE).read_text("utf-8")
    found = {}
    for row in csv.DictReader(text.splitlines()):
        spread = parse(row["share"], "number").spread
        if spread is None:
            raise ValueError(f"{TABLE}: {row['share']!r} has no band")
        origin = Origin("default", path=f"{TABLE} {row['quantity']}, {row['modules']}", source=row["source"], text=row["share"])
        found[row["quantity"], row["modules"]] = Estimate(spread, origin)
    return found
