"""Hole patterns expanded to points: (along, across) on one face."""

from collections.abc import Callable
from math import cos, pi, sin

from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import HolePattern

Points = tuple[tuple[float, float], ...]
Told = Callable[[str, str], Exception]

NEEDS = {
    "row": ("first", "pitch", "count"),
    "grid": ("first", "pitch", "count", "pitch_across", "count_across"),
    "corners": ("pitch", "pitch_across"),
    "circle": ("diameter", "count"),
    "points": ("points",),
}


def pattern_points(holes: Branch, problem: Told) -> Points:
    """The points of one pattern; nothing after telling what it lacks."""
    kind = str(holes.get("pattern") or "")
    lacks = [key for key in NEEDS.get(kind, ()) if holes.get(key) is None]
    if lacks:
        problem(holes.path, f"a {kind} of holes lacks {', '.join(lacks)}")
    return expanded(kind, holes) if kind and not lacks else ()


def patterns(branch: Branch, problem: Told) -> tuple[HolePattern, ...]:
    """Every hole pattern of a part; what a pattern lacks is told."""
    found = []
    for name, holes in branch.children("holes"):
        kind = str(holes.get("pattern") or "")
        lacks = [key for key in NEEDS.get(kind, ()) if not holes.has(key)]
        if lacks and not holes.has("table"):
            problem(holes.path, f"a {kind} of holes lacks {', '.join(lacks)}")
            continue
        if not kind or any(holes.get(key) is None for key in NEEDS[kind]):
            continue
        found.append(
            HolePattern(
                name=name,
                face=str(holes.get("face") or ""),
                points=expanded(kind, holes),
                size=holes.get("size"),
                thread=str(holes.get("thread") or ""),
                depth=holes.get("depth"),
                through=str(holes.get("through") or ""),
                planned=bool(holes.get("planned", False)),
                note=str(holes.get("note") or ""),
            )
        )
    return tuple(found)


def expanded(kind: str, holes: Branch) -> Points:
    """The points of one pattern.

    Args:
        kind: row, grid, corners, circle or points.
        holes: Its table.
    """
    if kind == "points":
        return tuple((float(along), float(across)) for along, across in holes["points"])
    if kind == "corners":
        middle, across = holes.get("centre", (0.0, 0.0))
        a, b = holes["pitch"] / 2, holes["pitch_across"] / 2
        return ((middle - a, across - b), (middle + a, across - b), (middle - a, across + b), (middle + a, across + b))
    if kind == "circle":
        middle, across = holes.get("centre", (0.0, 0.0))
        radius, count = holes["diameter"] / 2, holes["count"]
        turns = [2 * pi * number / count for number in range(count)]
        return tuple((middle + radius * cos(turn), across + radius * sin(turn)) for turn in turns)
    first, pitch, count, across = holes["first"], holes["pitch"], holes["count"], holes.get("across") or 0.0
    rows = [across]
    if kind == "grid":
        wide, step = holes["count_across"], holes["pitch_across"]
        rows = [across + (number - (wide - 1) / 2) * step for number in range(wide)]
    return tuple((first + number * pitch, row) for row in rows for number in range(count))
