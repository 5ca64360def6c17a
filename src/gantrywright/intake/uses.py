"""Part records and uses out of branches of the tree."""

from functools import cache
from typing import Any, TypeVar

from gantrywright.catalog.columns import columns_of
from gantrywright.catalog.kinds import KINDS, Part
from gantrywright.intake.tree import Branch
from gantrywright.model.bodies import Use

P = TypeVar("P", bound=Part)


@cache
def _texts(kind: str) -> dict[str, bool]:
    """Every field of a kind, and whether an unknown one is an empty text."""
    return {name: column.kind == "text" or "/" in column.kind for name, column in columns_of(KINDS[kind]).items()}


def record(branch: Branch | None, kind: type[P]) -> P | None:
    """The part that stands under a key as its record; None where there is none."""
    if branch is None:
        return None
    given: dict[str, Any] = {}
    for name, is_text in _texts(kind.kind).items():
        entry = branch.entries.get(name)
        if entry is not None:
            given[name] = "" if entry.value is None and is_text else entry.value
    return kind(id=branch.get("part") or "", **given)


def use(branch: Branch, part: str = "part") -> Use:
    """How a thing is used: by its own keys, then by those of the part under ``part``, then by the defaults."""
    named = branch.sub(part)
    places = (branch, named) if named is not None else (branch,)

    def first(key: str, default: Any) -> Any:
        written = [place.entries[key] for place in places if place.has(key)]
        told = [entry for entry in written if entry.origin.kind != "default"] or written
        return told[0].value if told else default

    stock = str(first("stock", "") or "")
    return Use(
        part=str((named.get("part") if named is not None else branch.get("part")) or ""),
        stock=stock,
        owned=bool(first("owned", bool(stock))),
        price=first("price", None),
        condition=str(first("condition", "") or ""),
        remaining=first("remaining", 1.0),
        fitted=first("fitted", True) is not False,
        made=first("made", "here"),
        state=str(first("state", "") or ("bought" if first("owned", bool(stock)) else "idea")),
        label=str(first("label", "") or ""),
        note=str(first("note", "") or ""),
    )
