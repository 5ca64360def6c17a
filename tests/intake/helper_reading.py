"""Reads example machines whole, with stand-ins for what recipes and a slide make."""

from pathlib import Path
from typing import Any

from gantrywright.base.errors import Problem
from gantrywright.intake.document import read_document
from gantrywright.intake.reading import Reading
from gantrywright.intake.values import Computed

MACHINES = Path(__file__).parents[1] / "machines"
EXAMPLES = ("salvaged", "fixed_gantry", "long_bed")

PLATE = {"size": "100 x 100 x 10 mm", "normal": "front", "at": "0, 0, 0 mm", "material": "al-6082"}
SLAB = {"section": "tube-80x80x4", "from": "0, 0, 0 mm", "to": "0, 1000, 0 mm"}
MADE: dict[str, dict[str, dict[str, Any]]] = {
    "salvaged": {
        "axis.z": {
            "rail": {"left": {"part": "rail-15", "length": Computed(0.3), "on": "carriage.slide-base", "face": "front"}},
            "blocks": {"part": "block-15-flange", "per_rail": 2, "spacing": Computed(0.08)},
            "drive": {"main": {"kind": "ball-screw", "part": "ball-screw-1605", "offset": Computed((0.0, 0.0, 0.0)), "length": "220 mm"}},
        },
    },
    "fixed_gantry": {"bed": {"member": {"slab": SLAB}}, "carriage": {"plate": {"plate": PLATE}}},
    "long_bed": {},
}  # fmt: skip


def read_whole(path: Path, made: dict[str, Any] | None = None) -> Reading:
    """Everything that placing asks for."""
    reading = Reading(read_document(path))
    made = made or {}
    for body in reading.bodies():
        reading.recipe(body)
        reading.body(body, made.get(body, {}))
    for link in reading.links():
        if link.axis:
            reading.axis(link.axis, made.get(f"axis.{link.axis}", {}))
    reading.finish()
    return reading


def example(name: str) -> Reading:
    """One of the examples."""
    return read_whole(MACHINES / f"{name}.toml", MADE[name])


def with_changes(folder: Path, name: str, *changes: tuple[str, str], shop: tuple[tuple[str, str], ...] = ()) -> tuple[Path, str]:
    """A copy of an example with texts replaced, each of which must be there."""
    written = []
    for file, edits in ((name, changes), ("shop", shop)):
        text = (MACHINES / f"{file}.toml").read_text("utf-8")
        for old, new in edits:
            assert old in text, f"{old!r} is not in {file}"
            text = text.replace(old, new, 1)
        target = folder / ("router.toml" if file == name else "shop.toml")
        target.write_text(text, "utf-8")
        written.append((target, text))
    return written[0]


def told(problems: list[Problem]) -> str:
    """All problems as text."""
    return "\n".join(str(problem) for problem in problems)
