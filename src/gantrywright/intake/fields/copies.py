"""Copies of one part at equal steps."""

from collections.abc import Iterator, Mapping
from typing import Any

from gantrywright.intake.fields import standing
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import Place, table_of
from gantrywright.intake.fields.records import Addable

COPIED = frozenset({"member", "plate", "item", "foot"})
"""Collections whose tables stand for one part that may stand several times."""
GAP = 0.05
"""From a part to its copy, m."""


def copies(force: Force, place: Place) -> Iterator[Addable]:
    """A second one beside a part that the file places itself, and that nothing else names: a copy has another name than its pattern."""
    parts = place.path.split(".")
    if place.shape != "table" or len(parts) != len(("body", "group", "name")) or parts[1] not in COPIED or parts[2] == "each":
        return
    raw = table_of(force.raw(place.path))
    if not raw or {"mirror", "remove", "repeat"} & set(raw) or ("at" not in raw and "from" not in raw):
        return
    if any(_names(text, parts[0], parts[2]) for text in _texts(force.document.tree)):
        return
    step = _step(force, place.path)
    if step:
        yield Addable("copies of it at equal steps", ((f"{place.path}.repeat.count", "2"), (f"{place.path}.repeat.step", step)))


def _step(force: Force, path: str) -> str:
    """Beside itself: across its own narrower level side, towards the middle of its body."""
    name = standing.short(path)
    solid = next((solid for solid in force.machine.solids if solid.path == name), None) if force.machine is not None else None
    if solid is None:
        return ""
    level = [index for index in range(3) if abs(solid.axes[index][2]) < 0.5]
    across = min(level, key=lambda index: solid.size[index])
    way = 1.0 if sum(c * a for c, a in zip(solid.centre, solid.axes[across], strict=True)) < 0 else -1.0
    return standing.point(force, [way * part * (solid.size[across] + GAP) for part in solid.axes[across]])


def _names(text: str, body: str, name: str) -> bool:
    """Whether a text of the file names the part: in full, by its end, one of its holes, or as the pattern of a mirror."""
    plain = text.partition("@")[0]
    shorts = (name, f"{body}.{name}", *(f"{body}.{group}.{name}" for group in COPIED))
    return plain in shorts or any(plain.startswith(f"{short}.") for short in shorts[1:])


def _texts(raw: Any) -> Iterator[str]:
    if isinstance(raw, str):
        yield raw
    elif isinstance(raw, Mapping | list):
        for below in raw.values() if isinstance(raw, Mapping) else raw:
            yield from _texts(below)
