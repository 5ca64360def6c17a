"""A second drive of an axis: the mirror image of the first one, or one of its own."""

from collections.abc import Iterator

from gantrywright.intake.fields import standing
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import table_of, words
from gantrywright.intake.fields.records import Addable, Edit
from gantrywright.intake.fields.seeds import COPIED_NOT, leaves, new_name
from gantrywright.intake.fields.texts import said
from gantrywright.intake.grammar.shape import Key

SHIFT = Key("offset", "length", "")
APART = 0.08
"""From one drive to the next where nothing else says how far, m."""


def drives(force: Force, path: str) -> Iterator[Addable]:
    """What may be added beside the drives of an axis."""
    axis = path.split(".")[1]
    group = {name: table_of(raw) for name, raw in table_of(force.raw(path)).items() if name != "each"}
    first = next((name for name, raw in group.items() if "mirror" not in raw), "")
    if not first:
        return
    new = f"{path}.{new_name(force, path, 'drive')}"
    mirrored = any(raw.get("mirror") == first for raw in group.values())
    if standing.along(force, axis) != "x" and not mirrored and len(group) == 1:
        yield Addable(
            f"second drive, the mirror image of {words(first)}", (*_aside(force, axis, f"{path}.{first}"), (f"{new}.mirror", first))
        )
    copy = [(f"{new}.{key}", text) for key, text in leaves(group[first]) if key.partition(".")[0] not in COPIED_NOT]
    yield Addable(f"another drive like {words(first)}", (*copy, *_moved(force, axis, f"{path}.{first}", new)))


def _aside(force: Force, axis: str, first: str) -> tuple[Edit, ...]:
    """A drive in the middle moves to one side, so that its mirror image stands on the other."""
    offset = _offset(force, first)
    if offset is None or abs(offset[0]) > 1e-9 or force.raw(f"{first}.beside") is not None:
        return ()
    half = max(standing.rails_apart(force, axis) / 4, APART / 2)
    moved = (f"{first}.offset.x", said(-half, SHIFT, force.system))
    return (moved,)


def _moved(force: Force, axis: str, first: str, new: str) -> tuple[Edit, ...]:
    """The new drive stands beside the old one: across the axis, upright of one along x."""
    offset = _offset(force, first)
    if offset is None:
        return ()
    place = list(offset)
    place[2 if standing.along(force, axis) == "x" else 0] += APART
    return ((f"{new}.offset", standing.point(force, place)),)


def _offset(force: Force, drive: str) -> tuple[float, float, float] | None:
    found = force.machine.stated.get(f"{drive}.offset") if force.machine is not None else None
    return found.value if found is not None and isinstance(found.value, tuple) else None
