"""How far a screw misses over its travel, by accuracy grade.

Grades are a letter and a number. P (positioning) screws are held to a mean travel over their whole length; T (transport) and C screws
only to a rate on 300 mm, which adds up along the travel.
"""

import re
import tomllib
from bisect import bisect_left
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, MetrePerMetre

GRADE = re.compile(r"^\s*(?:IT|ISO)?\s*([PTC])\s*(\d+)\s*$", re.IGNORECASE)


@cache
def _tables() -> Mapping[str, Any]:
    return tomllib.loads(files("gantrywright.data").joinpath("lead_accuracy.toml").read_text("utf-8"))


def read_grade(text: str) -> tuple[str, str] | None:
    """Letter and number of a grade; None where it is not a known one.

    Example:
        >>> read_grade("t7"), read_grade("rolled")
        (('T', '7'), None)
    """
    found = GRADE.match(text)
    if not found:
        return None
    letter, number = found[1].upper(), str(int(found[2]))
    return (letter, number) if number in _tables()["rate_300"][letter] else None


def variation_300(grade: str) -> float | None:
    """Allowed variation of travel within any 300 mm, m; None for a grade that is not known."""
    found = read_grade(grade)
    return None if found is None else float(_tables()["rate_300"][found[0]][found[1]]) * 1e-6


def mean_travel_tolerance(grade: str, length: float) -> float | None:
    """Allowed deviation of the mean travel of a P grade over a length, m; None for other grades and beyond the table."""
    found = read_grade(grade)
    if found is None or found[0] != "P":
        return None
    table = _tables()["mean_travel"]
    row = table.get(found[1])
    place = bisect_left(table["up_to"], length - 1e-12)
    return None if row is None or place >= len(row) else float(row[place]) * 1e-6


@formula("e = V300 L / 300 mm", source="common practice, no source")
def accumulated_error(*, variation_300: Metre, length: Metre) -> Metre:
    """Error of travel where only the rate on 300 mm is held.

    Args:
        variation_300: Allowed on any 300 mm.
        length: Of travel.

    Returns:
        Error to be expected; mostly a constant error of scale, which a measured travel per turn takes away.

    Source:
        Common practice, no source: the rate taken as constant.

    Example:
        >>> round(accumulated_error(variation_300=52e-6, length=1.0) * 1e6, 1)
        173.3
    """
    return variation_300 * length / 0.3


@formula("e_p = 2 L V300 / 300 mm", source="iso-3408-3")
def transport_tolerance(*, variation_300: Metre, length: Metre) -> Metre:
    """Allowed deviation of the mean travel of a T (transport) screw: twice what is to be expected.

    Args:
        variation_300: Allowed on any 300 mm.
        length: Of travel.

    Returns:
        Limit of the standard.

    Source:
        [iso-3408-3].
    """
    return 2 * accumulated_error(variation_300=variation_300, length=length)


@formula("e = (e/L) L", source="definition")
def proportional_error(*, error_per_length: MetrePerMetre, length: Metre) -> Metre:
    """Error of travel of a lead screw, rack or belt that is stated per length.

    Args:
        error_per_length: Pitch error per length.
        length: Of travel.

    Returns:
        Error over that travel.

    Source:
        Definition.
    """
    return error_per_length * length
