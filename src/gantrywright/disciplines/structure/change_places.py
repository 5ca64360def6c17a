"""Where the machine file says how thick, how large or how wide a part is: the key that a builder would edit."""

from dataclasses import dataclass

from gantrywright.findings import Change
from gantrywright.model.machine import Machine

INCH = 0.0254
MM = 1e-3
SAME = 1e-6
"""Sizes closer than this are one size, m."""

PLATES = {
    "metric": tuple((t * MM, f"{t:g}") for t in (4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 35, 40, 50, 60)),
    "inch": tuple(
        (n * INCH / 16, text)
        for n, text in (
            (3, "3/16"), (4, "1/4"), (5, "5/16"), (6, "3/8"), (8, "1/2"), (10, "5/8"), (12, "3/4"), (16, "1"), (20, "1-1/4"), (24, "1-1/2"),
            (32, "2"),
        )
    ),
}  # fmt: skip
"""Usual thicknesses of plate, and how they are written; common practice, no source."""
SHEETS = {
    "metric": tuple((t * MM, f"{t:g}") for t in (6, 9, 12, 15, 18, 21, 24, 27, 30, 36, 40)),
    "inch": tuple((n * INCH / 8, text) for n, text in ((2, "1/4"), (3, "3/8"), (4, "1/2"), (5, "5/8"), (6, "3/4"), (8, "1"), (9, "1-1/8"), (12, "1-1/2"))),
}  # fmt: skip
"""Usual thicknesses of board; common practice, no source."""
UNIT = {"metric": ("mm", MM), "inch": ("in", INCH)}
THICKER = 1.15
"""The next usual thickness is at least this much more."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """A change, and the groups of parts that it is about."""

    change: Change
    groups: tuple[str, ...]
    """As in ``Share.group``."""
    otherwise: tuple[Change, ...] = ()
    """Other ways to the same, in turn, where it cannot be made like that."""


def said(machine: Machine, path: str) -> object:
    """The value that stands at a path; None where there is none."""
    found = machine.stated.get(path)
    return None if found is None else found.value


def plate_key(machine: Machine, path: str) -> str:
    """Path of the size of a plate."""
    body, _, name = path.partition(".")
    recipe = said(machine, f"{body}.recipe")
    if recipe == "plate-on-blocks" and name == "plate":
        return f"{body}.size"
    if recipe == "beam-on-uprights" and name.startswith("upright-"):
        return f"{body}.uprights.size"
    return f"{body}.plate.{name}.size"


def member_table(machine: Machine, path: str) -> str:
    """Path of the table that holds ``section`` and ``fill`` of a bar; a ladder frame's ends in the word of the section itself."""
    body, _, name = path.partition(".")
    recipe = said(machine, f"{body}.recipe")
    if recipe in ("beam-on-uprights", "portal") and name == "beam":
        return f"{body}.beam"
    if recipe == "portal" and name.startswith("upright-"):
        return f"{body}.upright"
    return f"{body}.member.{name}"


def ladder_key(machine: Machine, path: str) -> str:
    """Path of the section of a bar of a ladder frame; empty where the body is none, or the bar is an extra one."""
    body, _, name = path.partition(".")
    if said(machine, f"{body}.recipe") != "ladder-frame":
        return ""
    words = {"left-side": "side", "right-side": "side", "cross": "cross", "leg": "leg", "stretcher": "stretcher"}
    word = words.get(name) or words.get(name.partition("-")[0])
    return f"{body}.{word}" if word else ""


def following(values: tuple[tuple[float, str], ...], now: float) -> tuple[float, str] | None:
    """The next usual size."""
    return next((pair for pair in values if pair[0] >= now * THICKER - SAME), None)


def in_unit(value: float, system: str) -> str:
    """A length without its unit, in the machine's system.

    Example:
        >>> in_unit(0.3, "metric"), in_unit(0.03175, "inch")
        ('300', '1.25')
    """
    return f"{value / UNIT[system][1]:.6g}"
