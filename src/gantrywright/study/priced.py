"""Prices that were written for another part than the one that an edit chooses."""

from collections.abc import Iterable

from gantrywright.base.spread import Origin
from gantrywright.model.machine import Machine

FOLLOWS = ("row", "default", "derived", "stock")
"""Prices of these origins come with the part, and change with it."""


def outdated_prices(machine: Machine, edits: Iterable[tuple[str, str | None]]) -> list[str]:
    """A sentence for each price of the file that stays behind when the part beside it is changed; like ones in one.

    Args:
        machine: Before the edits.
        edits: Paths and their new texts.
    """
    edits = list(edits)
    edited = {path for path, _ in edits}
    told: dict[str, list[str]] = {}
    for path, text in edits:
        place, _, key = path.rpartition(".")
        place = place.removesuffix(".part")  # a row that is changed in places is written as a table of its own
        if key != "part" or text is None or f"{place}.price" in edited:
            continue
        part, price = _origin(machine, f"{place}.part"), _origin(machine, f"{place}.price")
        new = text.strip().strip("'\"")
        if part is not None and price is not None and price.kind not in FOLLOWS and part.text != new:
            told.setdefault(f"{price.text} was written for {part.text}, not for {new}", []).append(f"{place}.price")
    return [f"{words} ({', '.join(dict.fromkeys(paths))})" for words, paths in told.items()]


def _origin(machine: Machine, path: str) -> Origin | None:
    """Of a value by its full path, or by the place where several share it."""
    known = machine.origins.get(path)
    return known or next((origin for origin in machine.origins.values() if origin.path == path), None)
