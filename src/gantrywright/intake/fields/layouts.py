"""Another chain of bodies: begun anew as a first machine of the same work area, or the one that is there, written out to be changed."""

from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from gantrywright.base.errors import NotFound, UnreadableText
from gantrywright.intake.document import parse_toml
from gantrywright.intake.fields.force import Force
from gantrywright.intake.fields.places import table_of
from gantrywright.intake.fields.records import Addable, Edit
from gantrywright.intake.fields.seeds import leaves
from gantrywright.intake.grammar import LAYOUTS, ROOT
from gantrywright.intake.starter import Answers, starter_text

KEPT = ("format", "machine", "purpose", "job", "site", "measured", "cable", "part")
"""What is wanted, where it stands, what was measured: it holds for any chain of bodies."""


def other_layouts(force: Force) -> Iterator[Addable]:
    """Every other layout that the program can begin, and the chain of this one in the file itself."""
    layout = str(force.raw("machine.layout"))
    for other in LAYOUTS:
        edits = _anew(force, other) if other != layout and LAYOUTS[other] else ()
        if edits:
            yield Addable(f"layout {other} instead: bodies, axes, spindle and supply begin anew from the work area", edits)
    if LAYOUTS.get(layout):
        yield Addable("the chain of bodies of its own, to change what carries what", _written_out(force, layout))


def _written_out(force: Force, layout: str) -> tuple[Edit, ...]:
    """The links of a layout, those left out that the file has already."""
    written = table_of(force.raw("chain"))
    edits: list[Edit] = [("machine.layout", "own")]
    for name, link in LAYOUTS[layout].items():
        if name in written:
            continue
        if isinstance(link, str) or not link:
            edits.append((f"chain.{name}", str(link) if link else "{}"))
        else:
            edits.extend((f"chain.{name}.{key}", text) for key, text in link.items())
    return tuple(edits)


def _anew(force: Force, layout: str) -> tuple[Edit, ...]:
    """The tables of a first machine of the same work area in place of those that are there; none where it is too large or small for one."""
    jobs = [table_of(job) for job in table_of(force.raw("job")).values()]
    cut = next((str(job["material"]) for job in jobs if "material" in job), "plywood-birch")
    made = _first(layout, str(force.raw("purpose.work_area")), cut, force.system)
    if not made:
        return ()
    old = [name for name in force.document.tree if name in (*force.places.bodies, *ROOT.sub_map) and name not in KEPT]
    outlet = next((name for name in table_of(force.raw("site.outlet")) if name != "each"), "wall")
    new = {name: table for name, table in made.items() if name not in KEPT}
    edits: list[Edit] = [("machine.layout", layout), *((name, None) for name in old)]
    edits.extend((path, outlet if path.endswith(".outlet") else text) for path, text in leaves(new))
    return tuple(edits)


@lru_cache(maxsize=8)
def _first(layout: str, work_area: str, material: str, system: str) -> dict[str, Any]:
    """The tree of a first machine; empty where the work area is not one of a first machine."""
    try:
        text = starter_text(Answers("", layout, work_area, material, system))
    except (NotFound, UnreadableText):
        return {}
    return parse_toml(text.encode(), Path("first")).tree
