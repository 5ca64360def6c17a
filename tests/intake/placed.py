"""Resolves the example machines, whole or revised, for tests of placing."""

from functools import cache
from pathlib import Path

from gantrywright.base.errors import FileProblems
from gantrywright.intake.document import Document, read_document, revise
from gantrywright.intake.resolve import resolve
from gantrywright.model.frame import Vector
from gantrywright.model.machine import Machine

MACHINES = Path(__file__).parents[1] / "machines"
EXAMPLES = ("salvaged", "fixed_gantry", "long_bed")


@cache
def document(name: str) -> Document:
    return read_document(MACHINES / f"{name}.toml")


@cache
def machine(name: str) -> Machine:
    return resolve(document(name))


def revised(name: str, *edits: tuple[str, str | None]) -> Machine:
    return resolve(revise(document(name), edits))


def replaced(name: str, tmp_path: Path, *pairs: tuple[str, str]) -> Machine:
    """The machine with passages of its text exchanged, beside the same shop file."""
    text = document(name).text
    for old, new in pairs:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {name}"
        text = text.replace(old, new)
    (tmp_path / "shop.toml").write_text((MACHINES / "shop.toml").read_text("utf-8"), "utf-8")
    path = tmp_path / f"{name}.toml"
    path.write_text(text, "utf-8")
    return resolve(read_document(path))


def problems_of(name: str, *edits: tuple[str, str | None]) -> list[str]:
    try:
        revised(name, *edits)
    except FileProblems as error:
        return [f"{problem.path}: {problem.message}" for problem in error.problems]
    return []


def mm(vector: Vector) -> tuple[float, ...]:
    """Rounded to the precision of a check value, mm."""
    return tuple(round(part * 1e3, 1) + 0.0 for part in vector)


def places(machine: Machine) -> dict[str, tuple[Vector, Vector, float]]:
    """Everything that can be compared: centre, size, mass of each solid."""
    return {
        solid.path: (
            tuple(round(part, 9) + 0.0 for part in solid.centre),
            tuple(round(part, 9) for part in solid.size),
            round(float(solid.mass or 0.0), 9),
        )
        for solid in machine.solids
    }
